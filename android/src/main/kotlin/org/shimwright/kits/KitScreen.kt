package org.shimwright.kits

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.KitRecord
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.kit.Column
import org.shimwright.kit.Entry
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.action
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.door
import org.shimwright.kit.field
import org.shimwright.kit.length
import org.shimwright.kit.note
import org.shimwright.kit.title
import org.shimwright.kit.units
import org.shimwright.kit.wrong

/** Writes a kit: one total, and pairs that each add up to it. */
class KitScreen(host: Host, args: Bundle, kept: Bundle) : Screen<KitState>(host, args, kept) {
    private val kitId = if (args.containsKey(Arg.KIT)) args.getLong(Arg.KIT) else null

    override fun build(workshop: Workshop, kept: Bundle): KitState {
        val kit = kitId?.let { id -> workshop.kits().find { it.record.id == id } }
        val pairs = kept.getInt(KitKey.PAIRS, kit?.record?.kit?.pairs?.size ?: FIRST_PAIRS)
        return KitState(kit, pairs, workshop.units(), kept.wrong)
    }

    override fun draw(page: Page, state: KitState) {
        val context = page.context
        val figures = Figures(context, state.units)
        page.head(state.kit?.record?.kit?.name ?: context.getString(R.string.new_kit))
        page.body.card { body(context.getString(R.string.kit_why)) }
        page.body.field(context.getString(R.string.kit_name), KitKey.NAME, kept) {
            first = state.kit?.record?.kit?.name.orEmpty()
            if (KitKey.NAME in state.wrong) wrong = context.getString(R.string.kit_empty_name_remedy)
        }
        figure(page.body, R.string.kit_total_field, KitKey.TOTAL, state.kit?.record?.kit?.totalMm, state, figures)
        for (index in 0 until state.pairs) pair(page.body, index, state, figures)
        page.body.action(context.getString(R.string.add_pair)) {
            kept.putInt(KitKey.PAIRS, state.pairs + 1)
            refresh()
        }
        state.kit?.record?.let { away(page.body, it) }
        page.main(context.getString(R.string.save)) { save(state) }
    }

    /** A kit no longer used stays on record for the bows that carry its pieces, and is offered to no other. */
    private fun away(body: Column, kit: KitRecord) {
        val context = body.context
        val out = kit.archivedMs != null
        val words = if (out) R.string.take_kit_out else R.string.put_kit_away
        body.door(context.getString(words), context.getString(R.string.put_kit_away_note)) { putAway(kit.id, !out) }
    }

    private fun putAway(id: Long, away: Boolean) {
        host.ask({ it.archiveKit(id, away, host.nowMs()) }) {
            host.back()
            if (away) {
                host.offerUndo(R.string.kit_put_away) {
                    host.ask({ it.archiveKit(id, false, host.nowMs()) }) { host.backTo(Route.KITS) }
                }
            }
        }
    }

    private fun pair(body: Column, index: Int, state: KitState, figures: Figures) {
        val before = state.pair(index)
        body.card {
            title(context.getString(R.string.pair_named, before?.name ?: letter(index)))
            figure(this, R.string.thin_piece, KitKey.thin(index), before?.let { it.thinMeasuredMm ?: it.thinMm }, state, figures)
            figure(this, R.string.thick_piece, KitKey.thick(index), before?.let { it.thickMeasuredMm ?: it.thickMm }, state, figures)
            if (before == null && index == 0) note(context.getString(R.string.thick_worked_out))
            if (kept.getBoolean(KitKey.more(index), state.moreKnown(index))) more(this, index, state) else fold(this, index)
        }
    }

    private fun fold(body: Column, index: Int) {
        body.action(body.context.getString(R.string.pair_more)) {
            kept.putBoolean(KitKey.more(index), true)
            refresh()
        }
    }

    /** What may stay empty. */
    private fun more(body: Column, index: Int, state: KitState) {
        val before = state.pair(index)
        with(body) {
            field(context.getString(R.string.pair_name), KitKey.pair(index), kept) {
                first = before?.name.orEmpty()
                hint = letter(index)
            }
            field(context.getString(R.string.thin_mark), KitKey.thinMark(index), kept) { first = before?.thinMark.orEmpty() }
            field(context.getString(R.string.thick_mark), KitKey.thickMark(index), kept) { first = before?.thickMark.orEmpty() }
            field(context.getString(R.string.sets_owned), KitKey.sets(index), kept) {
                first = state.sets(index)?.toString().orEmpty()
                entry = Entry.COUNT
            }
        }
    }

    private fun figure(body: Column, label: Int, key: String, now: Double?, state: KitState, figures: Figures) {
        body.field(body.context.getString(label), key, kept) {
            first = now?.let(figures::thicknessBare).orEmpty()
            length(figures)
            if (key in state.wrong) wrong = body.context.getString(R.string.thickness_needed)
        }
    }

    private fun save(state: KitState) {
        val form = KitForm(kept, state)
        val draft = form.kit()
        kept.wrong = form.wrong
        if (draft == null) {
            refresh()
            return
        }
        val owned = form.owned()
        host.ask({ it.saveKit(kitId, draft, owned) }) { host.back() }
    }

    private companion object {
        const val FIRST_PAIRS = 3
    }
}
