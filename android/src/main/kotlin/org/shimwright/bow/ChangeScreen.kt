package org.shimwright.bow

import android.content.Context
import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.ChangeKind
import org.shimwright.core.ChangeRecord
import org.shimwright.core.SetupChange
import org.shimwright.core.SetupState
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.frame.args
import org.shimwright.kit.Column
import org.shimwright.kit.Entry
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Palette
import org.shimwright.kit.Reading
import org.shimwright.kit.Units
import org.shimwright.kit.Weight
import org.shimwright.kit.action
import org.shimwright.kit.body
import org.shimwright.kit.button
import org.shimwright.kit.card
import org.shimwright.kit.choose
import org.shimwright.kit.field
import org.shimwright.kit.note
import org.shimwright.kit.section
import org.shimwright.kit.strong
import org.shimwright.kit.typed
import org.shimwright.kit.units

/** What was changed on a bow besides its spacers: anew, or [record] put right. */
data class ChangeState(
    val bow: String,
    /** Where rest and nocking point stood before the change. */
    val before: SetupState,
    val record: ChangeRecord?,
    val kind: ChangeKind?,
    val units: Units,
    val unread: Boolean,
    val nowMs: Long,
)

class ChangeScreen(host: Host, args: Bundle, kept: Bundle) : Screen<ChangeState>(host, args, kept) {
    private val bowId = args.getLong(Arg.BOW)
    private val moved = Moved(kept)

    override fun build(workshop: Workshop, kept: Bundle): ChangeState {
        val page = workshop.bowPage(bowId)
        val record = if (args.containsKey(Arg.CHANGED)) workshop.change(args.getLong(Arg.CHANGED)) else null
        val chosen = (kept.getString(KIND) ?: args.getString(Arg.CHANGE))?.let(ChangeKind::valueOf)
        val kind = chosen ?: record?.change?.kind
        val before = record?.let { workshop.setupBefore(it.id) } ?: page.setup
        return ChangeState(page.bow.details.name, before, record, kind, workshop.units(), kept.getBoolean(UNREAD), host.nowMs())
    }

    override fun draw(page: Page, state: ChangeState) {
        val context = page.context
        val record = state.record
        page.head(context.getString(if (record == null) R.string.change else R.string.change_correct), state.bow)
        if (record == null) page.body.note(context.getString(R.string.change_why)) else known(page.body, record, state)
        if (record?.struck == true) return
        if (record == null || record.change.kind in CHOICES) {
            form(page, state)
        }
        if (record != null) page.body.action(context.getString(R.string.change_strike), Weight.DANGER) { strike(record, true) }
    }

    /** What is on record, and that it counts for nothing where it was struck. */
    private fun known(body: Column, record: ChangeRecord, state: ChangeState) {
        body.card(edge = if (record.struck) Palette.of(body.context).wants else null) {
            strong(context.getString(changeWord(record.change.kind)))
            note(Figures(context, state.units).since(record.change.atMs, state.nowMs))
            if (record.struck) {
                strong(context.getString(R.string.trial_struck), Palette.of(context).wants)
                action(context.getString(R.string.trial_unstrike)) { strike(record, false) }
            } else {
                note(context.getString(R.string.change_correct_how))
            }
        }
    }

    /** First what is asked for: of a new change its kind, of a recorded one what it says. */
    private fun form(page: Page, state: ChangeState) {
        val body = page.body
        if (state.record == null) kinds(body, state)
        val kind = state.kind ?: return
        place(body, kind, state)
        body.field(body.context.getString(R.string.note), NOTE, kept) {
            first = state.record?.change?.note.orEmpty()
            entry = Entry.LINES
        }
        if (state.record != null) {
            body.section(body.context.getString(R.string.change_other_kind))
            kinds(body, state)
        }
        page.main(body.context.getString(R.string.save)) { save(kind, state) }
    }

    private fun kinds(body: Column, state: ChangeState) {
        val context = body.context
        for (kind in CHOICES) {
            body.put(context.button(context.getString(changeWord(kind))) { pick(kind) }.apply { choose(kind == state.kind) })
        }
    }

    private fun pick(kind: ChangeKind) {
        if (kind.name != kept.getString(KIND)) moved.forget()
        kept.putString(KIND, kind.name)
        kept.remove(UNREAD)
        refresh()
    }

    private fun place(body: Column, kind: ChangeKind, state: ChangeState) {
        val context = body.context
        if (!kind.moves()) {
            body.card { body(context.getString(R.string.change_starts_anew)) }
            return
        }
        moved.ask(body, known(kind, state), state.unread, Figures(context, state.units), state.units)
    }

    /** Where the move began; it ended where it was recorded to, or where a verdict asked for it to end. */
    private fun known(kind: ChangeKind, state: ChangeState): Moved.Known {
        val began = if (kind == ChangeKind.REST_MOVED) state.before.restMm else state.before.nockMm
        val recorded = state.record?.change?.takeIf { it.kind == kind }?.valueMm
        return Moved.Known(kind, began, recorded ?: advised(kind)?.plus(began))
    }

    private fun save(kind: ChangeKind, state: ChangeState) {
        val reading = Reading(state.units)
        val place = if (kind.moves()) moved.read(known(kind, state), reading) else null
        kept.putBoolean(UNREAD, reading.wrong.isNotEmpty())
        if (reading.wrong.isNotEmpty()) {
            refresh()
            return
        }
        val before = state.record
        val change = SetupChange(kind, place, kept.typed(NOTE, before?.change?.note.orEmpty()), host.nowMs())
        if (before == null) {
            host.ask({ it.recordChange(bowId, change) }) { saved(it) }
        } else {
            host.ask({ it.correctChange(before.id, change, host.nowMs()) }) { corrected(before) }
        }
    }

    /** How far a verdict asked to move this, mm. */
    private fun advised(kind: ChangeKind): Double? =
        if (args.getString(Arg.CHANGE) == kind.name && args.containsKey(Arg.MOVE)) args.getDouble(Arg.MOVE) else null

    /** What a verdict asked to move is shot next. */
    private fun saved(record: ChangeRecord) {
        if (args.containsKey(Arg.MOVE)) host.swapFor(Route.SHOOT, args(Arg.BOW to bowId)) else host.back()
        host.offerUndo(R.string.change_recorded) { takeBack(record, true) }
    }

    private fun corrected(before: ChangeRecord) {
        host.back()
        host.offerUndo(R.string.change_corrected) {
            host.ask({ it.correctChange(before.id, before.change, host.nowMs()) }) { host.refreshShown() }
        }
    }

    private fun strike(record: ChangeRecord, out: Boolean) {
        host.ask({ it.strikeChange(record.id, out, host.nowMs()) }) {
            refresh()
            host.offerUndo(if (out) R.string.change_was_struck else R.string.change_counts_again) { takeBack(record, !out) }
        }
    }

    private fun takeBack(record: ChangeRecord, out: Boolean) =
        host.ask({ it.strikeChange(record.id, out, host.nowMs()) }) { host.refreshShown() }

    private companion object {
        const val KIND = "kind"
        const val NOTE = "note"
        const val UNREAD = "unread"

        /** What is found inside is recorded by the swap guide alone. */
        val FOUND_INSIDE = setOf(ChangeKind.MIXED_PAIR_FOUND, ChangeKind.PAIR_UNKNOWN, ChangeKind.SIDE_CONFIRMED)

        val CHOICES = listOf(ChangeKind.REST_MOVED, ChangeKind.NOCK_MOVED) +
            (ChangeKind.entries - setOf(ChangeKind.REST_MOVED, ChangeKind.NOCK_MOVED) - FOUND_INSIDE)
    }
}

/** The name of a change. */
fun changeWord(kind: ChangeKind): Int = when (kind) {
    ChangeKind.NEW_STRING -> R.string.change_string
    ChangeKind.NEW_CABLES -> R.string.change_cables
    ChangeKind.NEW_ARROWS -> R.string.change_arrows
    ChangeKind.NEW_REST -> R.string.change_rest
    ChangeKind.DRAW_CHANGED -> R.string.change_draw
    ChangeKind.CAMS_ADJUSTED -> R.string.change_cams
    ChangeKind.REST_MOVED -> R.string.change_rest_moved
    ChangeKind.NOCK_MOVED -> R.string.change_nock_moved
    ChangeKind.MIXED_PAIR_FOUND -> R.string.change_mixed_pair
    ChangeKind.PAIR_UNKNOWN -> R.string.change_pair_unknown
    ChangeKind.SIDE_CONFIRMED -> R.string.change_side_confirmed
}
