package org.shimwright.kit

import android.content.Context
import android.view.View
import org.shimwright.R
import org.shimwright.core.Axle
import org.shimwright.core.Fitting
import org.shimwright.core.Seat
import org.shimwright.core.Side

// What is fitted, in words. Left and right are the archer's.

/** thick left, of one seat. */
fun Context.sideWord(side: Side): String = getString(if (side == Side.LEFT) R.string.left else R.string.right)

/** Which side has the thick piece: left stands left in every language, as on the bow. */
fun Column.sides(chosen: Side?, question: Int = R.string.thick_side, pick: (Side) -> Unit) {
    val sides = listOf(Side.LEFT, Side.RIGHT).map { it to context.sideWord(it) }
    choice(context.getString(question), sides, chosen, pick).layoutDirection = View.LAYOUT_DIRECTION_LTR
}

/** pair C, thick side left. */
fun Context.seatWords(seat: Seat): String = getString(if (seat.thick == Side.LEFT) R.string.seat_left else R.string.seat_right, seat.pair)

/** One line for both axles. */
fun Context.fittingWords(fitting: Fitting): String = when {
    fitting.top == fitting.bottom && fitting.top.thick == Side.LEFT -> getString(R.string.fitting_both_left, fitting.top.pair)
    fitting.top == fitting.bottom -> getString(R.string.fitting_both_right, fitting.top.pair)
    else -> getString(R.string.fitting_each, seatWords(fitting.top), seatWords(fitting.bottom))
}

/** The same, short enough for a list. */
fun Context.fittingShort(fitting: Fitting): String = when {
    fitting.top == fitting.bottom && fitting.top.thick == Side.LEFT -> getString(R.string.fitting_short_left, fitting.top.pair)

    fitting.top == fitting.bottom -> getString(R.string.fitting_short_right, fitting.top.pair)

    else -> getString(
        R.string.fitting_short_each,
        fitting.top.pair,
        sideWord(fitting.top.thick),
        fitting.bottom.pair,
        sideWord(fitting.bottom.thick),
    )
}

/** The same for a label in a chart: the pair and its thick side, of both axles where they differ. */
fun Context.fittingTiny(fitting: Fitting): String = listOf(fitting.top, fitting.bottom).distinct().joinToString(" / ") {
    getString(if (it.thick == Side.LEFT) R.string.fitting_tiny_left else R.string.fitting_tiny_right, it.pair)
}

fun Context.axleWord(axle: Axle): String = getString(if (axle == Axle.TOP) R.string.top_axle else R.string.bottom_axle)
