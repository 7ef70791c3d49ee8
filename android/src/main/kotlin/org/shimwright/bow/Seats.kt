package org.shimwright.bow

import android.content.Context
import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.Axle
import org.shimwright.core.Fitting
import org.shimwright.core.KitRecord
import org.shimwright.core.Seat
import org.shimwright.core.Side
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.axleWord
import org.shimwright.kit.choice
import org.shimwright.kit.section
import org.shimwright.kit.sides

/** What is chosen for one axle so far: the pair's name, and which side has the thick piece. */
data class Chosen(val pair: String?, val thick: Side?) {
    val seat get() = if (pair != null && thick != null) Seat(pair, thick) else null
}

/** The question which pair sits on each axle, and which side has its thick piece; the answers so far are in [kept]. */
internal class Seats(private val kept: Bundle, private val refresh: () -> Unit) {
    /** The answer for [axle], else what was there [before]; a pair that [kit] lacks is no answer. */
    fun chosen(kept: Bundle, axle: Axle, kit: KitRecord?, before: Seat?): Chosen {
        val pair = kept.getString(PAIR + axle.name) ?: before?.pair
        val side = kept.getString(SIDE + axle.name)?.let(Side::valueOf) ?: before?.thick
        return Chosen(pair?.takeIf { name -> kit == null || kit.kit.pairs.any { it.name == name } }, side)
    }

    fun ask(body: Column, kit: KitRecord?, top: Chosen, bottom: Chosen, figures: Figures) {
        axle(body, Axle.TOP, kit, top, figures)
        axle(body, Axle.BOTTOM, kit, bottom, figures)
    }

    private fun axle(body: Column, axle: Axle, kit: KitRecord?, chosen: Chosen, figures: Figures) {
        val context = body.context
        body.section(context.axleWord(axle))
        val pairs = kit?.kit?.pairs.orEmpty().map { pair ->
            val thin = figures.thicknessBare(pair.thinMeasuredMm ?: pair.thinMm)
            val thick = figures.thicknessBare(pair.thickMeasuredMm ?: pair.thickMm)
            pair.name to context.getString(R.string.pair_line, pair.name, thin, thick)
        }
        body.choice(context.getString(R.string.pair), pairs, chosen.pair) { pick(PAIR, axle, it) }
        body.sides(chosen.thick) { pick(SIDE, axle, it.name) }
    }

    /** Most bows carry the same on both axles: the first answer for the top one serves for the bottom one too. */
    private fun pick(what: String, axle: Axle, value: String) {
        kept.putString(what + axle.name, value)
        if (axle == Axle.TOP && !kept.getBoolean(APART)) kept.putString(what + Axle.BOTTOM.name, value)
        if (axle == Axle.BOTTOM) kept.putBoolean(APART, true)
        refresh()
    }

    private companion object {
        const val PAIR = "pair"
        const val SIDE = "side"
        const val APART = "apart"
    }
}

/** What is asked next, none where all is answered: of the bottom axle once the top one, which answers for both, is. */
internal fun Context.seatsMissing(top: Chosen, bottom: Chosen): List<String> {
    val above = listOfNotNull(
        R.string.missing_top_pair.takeIf { top.pair == null },
        R.string.missing_top_side.takeIf { top.thick == null },
    )
    val below = listOfNotNull(
        R.string.missing_bottom_pair.takeIf { bottom.pair == null },
        R.string.missing_bottom_side.takeIf { bottom.thick == null },
    )
    return above.ifEmpty { below }.map(::getString)
}

/** What is in the bow, once both axles are answered. */
internal fun fitting(top: Chosen, bottom: Chosen): Fitting? {
    val (above, below) = top.seat to bottom.seat
    return if (above != null && below != null) Fitting(above, below) else null
}
