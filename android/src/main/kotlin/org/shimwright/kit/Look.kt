package org.shimwright.kit

import android.content.Context
import android.content.res.ColorStateList
import android.graphics.drawable.Drawable
import android.graphics.drawable.GradientDrawable
import android.graphics.drawable.RippleDrawable
import android.graphics.drawable.StateListDrawable
import android.view.View

/** Distances of the layout, dp. */
object Space {
    const val EDGE = 16
    const val GAP = 12
    const val CARD = 16
    const val SMALL = 6
    const val ROUND = 14
    const val TARGET = 48
    const val ACTION = 56
    const val PICTURE = 72

    /** Content never grows wider than this: lines stay readable on a tablet. */
    const val COLUMN = 640
}

fun Context.dp(value: Int): Int = Math.round(value * resources.displayMetrics.density)

fun View.dp(value: Int): Int = context.dp(value)

/** A rounded plate: [fill] under an edge of [edge]; pressed, it shows a wash of [wash] when given. */
fun Context.plate(
    fill: Int,
    edge: Int,
    round: Int = Space.ROUND,
    edgeWidth: Int = 1,
    wash: Int? = null,
    dashed: Boolean = false,
): Drawable {
    val shape = GradientDrawable().apply {
        setColor(fill)
        cornerRadius = dp(round).toFloat()
        if (dashed) setStroke(dp(edgeWidth), edge, dp(DASH).toFloat(), dp(DASH).toFloat()) else setStroke(dp(edgeWidth), edge)
    }
    if (wash == null) return shape
    val mask = GradientDrawable().apply {
        setColor(-1)
        cornerRadius = dp(round).toFloat()
    }
    return RippleDrawable(ColorStateList.valueOf(wash.faded()), shape, mask)
}

/** The plate of a field: a thick brass edge while it has the focus, else a plain one, or the colour of what is wrong. */
fun Context.fieldPlate(wrong: Boolean): Drawable {
    val palette = Palette.of(this)
    val edge = if (wrong) palette.wants else palette.edge
    return StateListDrawable().apply {
        addState(intArrayOf(android.R.attr.state_focused), plate(palette.card, palette.brass, edgeWidth = 3))
        addState(intArrayOf(), plate(palette.card, edge, edgeWidth = if (wrong) 2 else 1))
    }
}

private fun Int.faded() = (this and 0xFFFFFF) or 0x33000000

private const val DASH = 4
