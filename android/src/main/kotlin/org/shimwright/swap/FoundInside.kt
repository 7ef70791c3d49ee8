package org.shimwright.swap

import android.content.Context
import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.Found
import org.shimwright.core.Seat
import org.shimwright.core.Side
import org.shimwright.kit.Column
import org.shimwright.kit.Entry
import org.shimwright.kit.Figures
import org.shimwright.kit.Lock
import org.shimwright.kit.Page
import org.shimwright.kit.Palette
import org.shimwright.kit.Reading
import org.shimwright.kit.Weight
import org.shimwright.kit.action
import org.shimwright.kit.axleWord
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.choice
import org.shimwright.kit.field
import org.shimwright.kit.note
import org.shimwright.kit.section
import org.shimwright.kit.sideWord
import org.shimwright.kit.sides
import org.shimwright.kit.sideways
import org.shimwright.kit.strong
import org.shimwright.kit.typed
import org.shimwright.kit.wrong

/** The question what came out of an axle: as recorded, another seat, or two pieces by their thickness. */
internal class FoundInside(
    private val kept: Bundle,
    private val lock: Lock,
    private val refresh: () -> Unit,
    private val say: (Found) -> Unit,
) {
    fun ask(body: Column, state: SwapState, figures: Figures) {
        val context = body.context
        if (state.answering == Answering.NOT) {
            // In a low window they would lie below its edge: there they stand with the other buttons.
            if (!sideways(context)) first(context).forEach { (words, weight, press) -> body.action(words, weight, press) }
            return
        }
        if (state.answering == Answering.MIXED) mixed(body, figures)
        seat(body, state, figures)
        pieces(body, state, figures)
        onePiece(body, state, figures)
        shoulders(body, state)
        body.action(context.getString(R.string.as_recorded_after_all)) { say(Found.AsRecorded) }
    }

    /** The first answers of a low window. */
    fun answers(page: Page, state: SwapState) {
        if (state.answering != Answering.NOT || !sideways(page.context)) return
        page.bar { first(context).forEach { (words, weight, press) -> action(words, weight, press) } }
    }

    /** What says yes is locked like every step: the tap that confirmed the last one must not answer this one. */
    private fun first(context: Context) = listOf(
        Triple(context.getString(R.string.as_recorded), Weight.MAIN) { lock.pass { say(Found.AsRecorded) } },
        Triple(context.getString(R.string.something_else), Weight.PLAIN) { turn(Answering.CHOOSING) },
    )

    private fun turn(to: Answering) {
        kept.putString(SwapKey.ANSWERING, to.name)
        refresh()
    }

    private fun seat(body: Column, state: SwapState, figures: Figures) {
        val context = body.context
        body.section(context.getString(R.string.found_pair))
        val pairs = state.kit?.pairs.orEmpty().map { pair ->
            val thin = figures.thicknessBare(pair.thinMeasuredMm ?: pair.thinMm)
            val thick = figures.thicknessBare(pair.thickMeasuredMm ?: pair.thickMm)
            pair.name to context.getString(R.string.pair_line, pair.name, thin, thick)
        }
        body.choice(context.getString(R.string.pair), pairs, kept.getString(SwapKey.PAIR)) { pick(SwapKey.PAIR, it) }
        body.sides(side(SwapKey.SIDE)) { pick(SwapKey.SIDE, it.name) }
        val pair = kept.getString(SwapKey.PAIR) ?: return
        val side = side(SwapKey.SIDE) ?: return
        body.action(context.getString(R.string.this_was_inside), Weight.MAIN) { say(Found.Seat(Seat(pair, side))) }
    }

    private fun side(key: String): Side? = kept.getString(key)?.let(Side::valueOf)

    private fun pick(key: String, value: String) {
        kept.putString(key, value)
        refresh()
    }

    private fun pieces(body: Column, state: SwapState, figures: Figures) {
        val context = body.context
        body.section(context.getString(R.string.found_pieces))
        body.note(context.getString(R.string.found_pieces_how))
        piece(body, R.string.left_piece, SwapKey.LEFT, state, figures)
        piece(body, R.string.right_piece, SwapKey.RIGHT, state, figures)
        body.action(context.getString(R.string.these_were_inside)) { measured(state) }
    }

    private fun piece(body: Column, label: Int, key: String, state: SwapState, figures: Figures) {
        body.field(body.context.getString(label), key, kept) {
            entry = Entry.FIGURE
            unit = figures.lengthUnit
            if (key in state.wrong) wrong = body.context.getString(R.string.thickness_needed)
        }
    }

    private fun measured(state: SwapState) {
        val reading = Reading(state.units)
        val left = reading.length(SwapKey.LEFT, kept.typed(SwapKey.LEFT), needed = true)
        val right = reading.length(SwapKey.RIGHT, kept.typed(SwapKey.RIGHT), needed = true)
        kept.wrong = reading.wrong
        if (left == null || right == null) {
            refresh()
            return
        }
        say(Found.Pieces(left, right))
    }

    /** One piece tells the pair where the other cannot be reached. */
    private fun onePiece(body: Column, state: SwapState, figures: Figures) {
        val context = body.context
        body.section(context.getString(R.string.found_one))
        body.note(context.getString(R.string.found_one_how))
        body.sides(side(SwapKey.ONE_SIDE), R.string.measured_side) { pick(SwapKey.ONE_SIDE, it.name) }
        val side = side(SwapKey.ONE_SIDE) ?: return
        piece(body, R.string.its_thickness, SwapKey.ONE, state, figures)
        body.action(context.getString(R.string.this_piece_inside)) {
            val reading = Reading(state.units)
            val thickness = reading.length(SwapKey.ONE, kept.typed(SwapKey.ONE), needed = true)
            kept.wrong = reading.wrong
            if (thickness == null) refresh() else say(Found.OnePiece(side, thickness))
        }
    }

    /** What is left where nothing can be measured: the side, with the pair unknown. */
    private fun shoulders(body: Column, state: SwapState) {
        val context = body.context
        body.section(context.getString(R.string.found_shoulders))
        body.note(context.getString(R.string.found_shoulders_how))
        body.sides(side(SwapKey.SHOULDERS)) { pick(SwapKey.SHOULDERS, it.name) }
        val side = side(SwapKey.SHOULDERS) ?: return
        val axle = state.step?.axle ?: return
        val note = context.getString(R.string.thick_side_note, context.axleWord(axle), context.sideWord(side))
        body.action(context.getString(R.string.record_shoulders)) { say(Found.ThickSide(side, note)) }
    }

    /** The core found no pair in the two pieces; when they were truly inside, that is worth a record of its own. */
    private fun mixed(body: Column, figures: Figures) {
        val (left, right) = kept.getDouble(SwapKey.LEFT_MM) to kept.getDouble(SwapKey.RIGHT_MM)
        body.card(edge = Palette.of(body.context).wants) {
            strong(context.getString(R.string.no_pair), Palette.of(context).wants)
            body(context.getString(R.string.no_pair_words, figures.thickness(left), figures.thickness(right)))
            action(context.getString(R.string.record_mixed), Weight.DANGER) { say(Found.MixedPair(left, right)) }
        }
    }
}
