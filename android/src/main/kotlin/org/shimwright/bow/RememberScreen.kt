package org.shimwright.bow

import android.content.Context
import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.BowPage
import org.shimwright.core.Fitting
import org.shimwright.core.RememberedSwap
import org.shimwright.core.Seat
import org.shimwright.core.Side
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Screen
import org.shimwright.kit.Column
import org.shimwright.kit.Field
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Reading
import org.shimwright.kit.Units
import org.shimwright.kit.action
import org.shimwright.kit.card
import org.shimwright.kit.choice
import org.shimwright.kit.distance
import org.shimwright.kit.field
import org.shimwright.kit.fittingWords
import org.shimwright.kit.length
import org.shimwright.kit.note
import org.shimwright.kit.section
import org.shimwright.kit.sides
import org.shimwright.kit.strong
import org.shimwright.kit.typed
import org.shimwright.kit.units
import org.shimwright.kit.wrong

/** Swaps from before the record, and the one that is being written down. */
data class RememberState(
    val page: BowPage,
    val from: Fitting?,
    val to: Fitting?,
    val moved: Side,
    val units: Units,
    val wrong: Set<String>,
) {
    val remembered get() = page.bow.details.remembered
}

/** Writes down a swap that somebody remembers: it counts as a before and after, as far as it is sure. */
class RememberScreen(host: Host, args: Bundle, kept: Bundle) : Screen<RememberState>(host, args, kept) {
    private val bowId = args.getLong(Arg.BOW)

    override fun build(workshop: Workshop, kept: Bundle): RememberState {
        val page = workshop.bowPage(bowId)
        val moved = kept.getString(MOVED_TO)?.let(Side::valueOf) ?: Side.LEFT
        return RememberState(page, fitting(kept, FROM), fitting(kept, TO), moved, workshop.units(), kept.wrong)
    }

    /** What people remember is the same on both axles. */
    private fun fitting(kept: Bundle, which: String): Fitting? {
        val pair = kept.getString(which + PAIR) ?: return null
        val side = kept.getString(which + SIDE)?.let(Side::valueOf) ?: return null
        return Fitting(Seat(pair, side), Seat(pair, side))
    }

    override fun draw(page: Page, state: RememberState) {
        val context = page.context
        val figures = Figures(context, state.units)
        page.head(context.getString(R.string.remember), state.page.bow.details.name)
        page.body.note(context.getString(R.string.remember_why))
        state.remembered.forEachIndexed { index, swap -> known(page.body, state, index, swap, figures) }
        fitting(page.body, R.string.remember_from, FROM, state)
        fitting(page.body, R.string.remember_to, TO, state)
        effect(page.body, state, figures)
        page.missing(missing(context))
        page.main(context.getString(R.string.save)) { save(state) }.isEnabled = state.from != null && state.to != null
    }

    /** What is not chosen yet of the two fittings. */
    private fun missing(context: Context): List<String> = listOf(
        R.string.missing_from_pair to FROM + PAIR,
        R.string.missing_from_side to FROM + SIDE,
        R.string.missing_to_pair to TO + PAIR,
        R.string.missing_to_side to TO + SIDE,
    ).filterNot { (_, key) -> kept.containsKey(key) }.map { (word, _) -> context.getString(word) }

    private fun known(body: Column, state: RememberState, index: Int, swap: RememberedSwap, figures: Figures) {
        val context = body.context
        body.card {
            strong(context.getString(R.string.remembered_swap, context.fittingWords(swap.from), context.fittingWords(swap.to)))
            note(
                context.getString(
                    R.string.remembered_effect,
                    figures.roughly(swap.movedMm),
                    figures.size(swap.sdMm),
                    figures.distance(swap.distanceM),
                ),
            )
            action(context.getString(R.string.remember_not)) { write(state, state.remembered.filterIndexed { at, _ -> at != index }) }
        }
    }

    private fun fitting(body: Column, title: Int, which: String, state: RememberState) {
        val context = body.context
        body.section(context.getString(title))
        val pairs = state.page.kit?.kit?.pairs.orEmpty().map { it.name to it.name }
        body.choice(context.getString(R.string.pair), pairs, kept.getString(which + PAIR)) { pick(which + PAIR, it) }
        body.sides(kept.getString(which + SIDE)?.let(Side::valueOf)) { pick(which + SIDE, it.name) }
    }

    private fun effect(body: Column, state: RememberState, figures: Figures) {
        val context = body.context
        body.section(context.getString(R.string.remember_effect))
        val sides = listOf(Side.LEFT to context.getString(R.string.left), Side.RIGHT to context.getString(R.string.right))
        body.choice(context.getString(R.string.remember_way), sides, state.moved) { pick(MOVED_TO, it.name) }
        figure(body, R.string.remember_by, MOVED, state) { length(figures) }
        figure(body, R.string.remember_doubt, DOUBT, state) { length(figures) }
        figure(body, R.string.shoot_distance, DISTANCE, state) { distance(figures) }
    }

    private fun figure(body: Column, label: Int, key: String, state: RememberState, takes: Field.() -> Unit) {
        body.field(body.context.getString(label), key, kept) {
            takes()
            val needed = if (key == DISTANCE) R.string.distance_needed else R.string.offset_needed
            if (key in state.wrong) wrong = body.context.getString(needed)
        }
    }

    private fun pick(key: String, value: String) {
        kept.putString(key, value)
        refresh()
    }

    private fun save(state: RememberState) {
        val (from, to) = (state.from ?: return) to (state.to ?: return)
        val reading = Reading(state.units)
        val size = reading.length(MOVED, kept.typed(MOVED), needed = true)
        val doubt = reading.length(DOUBT, kept.typed(DOUBT), needed = true)
        val distance = reading.distance(DISTANCE, kept.typed(DISTANCE))
        kept.wrong = reading.wrong
        if (size == null || doubt == null || distance == null) {
            refresh()
            return
        }
        val moved = if (state.moved == Side.LEFT) -size else size
        write(state, state.remembered + RememberedSwap(from, to, moved, doubt, distance))
    }

    /** The bow with these swaps; what was typed is done with. */
    private fun write(state: RememberState, swaps: List<RememberedSwap>) {
        val details = state.page.bow.details.copy(remembered = swaps)
        host.ask({ it.saveBow(bowId, details, null, host.nowMs()) }) {
            kept.clear()
            refresh()
        }
    }

    private companion object {
        const val FROM = "from-"
        const val TO = "to-"
        const val PAIR = "pair"
        const val SIDE = "side"
        const val MOVED_TO = "moved-to"
        const val MOVED = "moved"
        const val DOUBT = "doubt"
        const val DISTANCE = "distance"
    }
}
