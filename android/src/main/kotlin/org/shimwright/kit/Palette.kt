package org.shimwright.kit

import android.content.Context
import org.shimwright.R

/** The colours of a theme by role, ARGB. The theme decides between light, dark and camp red. */
class Palette private constructor(context: Context) {
    val ground = context.colour(R.attr.ground)
    val card = context.colour(R.attr.card)
    val chip = context.colour(R.attr.chip)
    val line = context.colour(R.attr.line)

    /** Outlines of what can be pressed or typed into: 3:1 on everything it stands on. */
    val edge = context.colour(R.attr.edge)

    /** The ground of what is chosen. */
    val tint = context.colour(R.attr.tint)
    val ink = context.colour(R.attr.ink)
    val muted = context.colour(R.attr.muted)
    val brass = context.colour(R.attr.brass)
    val onBrass = context.colour(R.attr.onBrass)
    val main = context.colour(R.attr.main)
    val onMain = context.colour(R.attr.onMain)
    val steel = context.colour(R.attr.steel)
    val pale = context.colour(R.attr.pale)
    val fletched = context.colour(R.attr.fletched)
    val bare = context.colour(R.attr.bare)
    val broadhead = context.colour(R.attr.broadhead)
    val settled = context.colour(R.attr.settled)
    val wants = context.colour(R.attr.wants)
    val faceOuter = context.colour(R.attr.faceOuter)
    val faceMiddle = context.colour(R.attr.faceMiddle)
    val faceInner = context.colour(R.attr.faceInner)
    val faceCentre = context.colour(R.attr.faceCentre)
    val paper = context.colour(R.attr.paper)
    val hole = context.colour(R.attr.hole)

    companion object {
        fun of(context: Context) = Palette(context)
    }
}

private fun Context.colour(attribute: Int): Int {
    val row = obtainStyledAttributes(intArrayOf(attribute))
    try {
        return row.getColor(0, 0)
    } finally {
        row.recycle()
    }
}
