package org.shimwright.testing

import android.graphics.Bitmap
import android.graphics.Canvas
import android.graphics.Color
import android.view.View
import android.view.ViewGroup
import android.widget.EditText
import android.widget.TextView
import kotlin.math.abs
import kotlin.math.max
import kotlin.math.min

/**
 * Whether a word's ink is cut at the side of its view. The ink of a letter may reach past the width it is measured by, so
 * widths do not tell: the view is drawn as it shows and as it would show uncut, and the two are compared.
 */
internal object Cut {
    private const val MARGIN = 8
    private const val STEP = 48

    fun check(view: TextView): String? {
        // What is typed scrolls inside its field.
        if (view is EditText || view.text.isNullOrBlank() || view.layout == null) return null
        val ink = Sheet(view).apply { ink() }.pixels()
        val shown = Sheet(view).apply { clipped { view.draw(it) } }.pixels()
        val whole = Sheet(view).apply {
            clipped { view.background?.draw(it) }
            ink()
        }.pixels()
        val lost = ink.indices.count { Color.alpha(ink[it]) > STEP && apart(shown[it], whole[it]) }
        return if (lost > 0) "$lost pixels of ink cut off: \"${view.text}\"" else null
    }

    private fun apart(a: Int, b: Int): Boolean = a != b && (0..24 step 8).any { abs(((a ushr it) and 255) - ((b ushr it) and 255)) > STEP }

    /** The view's place with a margin around it. */
    private class Sheet(private val view: TextView) {
        private val wide = view.width + 2 * MARGIN
        private val high = view.height + 2 * MARGIN
        private val bitmap = Bitmap.createBitmap(wide, high, Bitmap.Config.ARGB_8888)
        private val canvas = Canvas(bitmap).apply { translate(MARGIN.toFloat(), MARGIN.toFloat()) }

        fun pixels() = IntArray(wide * high).also {
            bitmap.getPixels(it, 0, wide, 0, 0, wide, high)
            bitmap.recycle()
        }

        /** As far as what holds the view lets it draw. */
        fun clipped(draw: (Canvas) -> Unit) {
            val saved = canvas.save()
            val sides = leftByParents(view)
            canvas.clipRect(sides.first, -MARGIN, sides.last, view.height + MARGIN)
            draw(canvas)
            canvas.restoreToCount(saved)
        }

        fun ink() {
            canvas.translate(view.totalPaddingLeft.toFloat(), view.totalPaddingTop.toFloat())
            view.layout.draw(canvas)
        }
    }

    /** From where to where, in the view's own pixels, no parent cuts it off. */
    private fun leftByParents(view: View): IntRange {
        var (from, to) = -MARGIN to view.width + MARGIN
        var child = view
        var start = 0
        while (true) {
            val parent = child.parent as? ViewGroup ?: return from..to
            if (parent.clipChildren) {
                from = max(from, start)
                to = min(to, start + child.width)
            }
            start -= child.left - parent.scrollX
            child = parent
        }
    }
}
