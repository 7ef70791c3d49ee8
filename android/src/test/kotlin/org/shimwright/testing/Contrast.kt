package org.shimwright.testing

import android.graphics.Bitmap
import android.graphics.Canvas
import android.view.View
import android.view.ViewGroup
import android.widget.Button
import android.widget.CompoundButton
import android.widget.EditText
import android.widget.TextView
import org.junit.Assert.assertEquals
import kotlin.math.max
import kotlin.math.min
import kotlin.math.pow

/**
 * Whether what is drawn can be told from what it is drawn on: text 4.5:1, outlines of what can be pressed or typed into
 * 3:1 (WCAG 2.2, success criteria 1.4.3 and 1.4.11). Measured in the picture, so that no plate behind it is missed.
 */
object Contrast {
    private const val TEXT = 4.5
    private const val OUTLINE = 3.0

    fun check(root: ViewGroup, where: String) {
        val picture = Bitmap.createBitmap(root.width, root.height, Bitmap.Config.ARGB_8888)
        root.draw(Canvas(picture))
        val shown = root.everything().filter { it.isShown && it.width > 0 && it.isEnabled && it.inside(root) }
        val found = shown.filterIsInstance<TextView>().mapNotNull { text(it, root, picture) } +
            shown.filter { (it is Button && it !is CompoundButton) || it is EditText }.mapNotNull { outline(it, root, picture) }
        picture.recycle()
        assertEquals(where, emptyList<String>(), found)
    }

    /** Whether all of it shows: what is scrolled away was not drawn. */
    private fun View.inside(root: View): Boolean {
        val whole = android.graphics.Rect()
        return getGlobalVisibleRect(whole) && whole.width() == width && whole.height() == height && whole.bottom <= root.height
    }

    private fun place(view: View) = IntArray(2).also { view.getLocationInWindow(it) }

    private fun text(view: TextView, root: View, picture: Bitmap): String? {
        if (view.text.isNullOrBlank()) return null
        val (x, y) = place(view).let { it[0] to it[1] }
        val ground = commonest(picture, x, y, view.width, min(view.height, root.height - y)) ?: return null
        val contrast = contrast(view.currentTextColor, ground)
        return if (contrast < TEXT) "\"${view.text}\" stands out by only ${"%.2f".format(contrast)}" else null
    }

    private fun commonest(picture: Bitmap, x: Int, y: Int, width: Int, height: Int): Int? {
        if (width <= 0 || height <= 0) return null
        val pixels = IntArray(width * height)
        picture.getPixels(pixels, 0, width, x, y, width, height)
        return longestRun(pixels.apply { sort() })
    }

    private fun longestRun(sorted: IntArray): Int {
        var (longest, most) = 0 to sorted[0]
        var start = 0
        for (end in 1..sorted.size) {
            if (end < sorted.size && sorted[end] == sorted[start]) continue
            if (end - start > longest) {
                longest = end - start
                most = sorted[start]
            }
            start = end
        }
        return most
    }

    /** The strongest of the pixels across the left edge, half way up, against what lies outside. */
    private fun outline(view: View, root: View, picture: Bitmap): String? {
        val (x, y) = place(view).let { it[0] to it[1] + view.height / 2 }
        if (x < REACH || y >= root.height) return null
        val outside = picture.getPixel(x - REACH, y)
        val strongest = (0..REACH).maxOf { contrast(picture.getPixel(x + it, y), outside) }
        return if (strongest < OUTLINE) "the edge of \"${view.said()}\" stands out by only ${"%.2f".format(strongest)}" else null
    }

    fun contrast(a: Int, b: Int): Double {
        val (light, dark) = listOf(luminance(a), luminance(b)).let { max(it[0], it[1]) to min(it[0], it[1]) }
        return (light + 0.05) / (dark + 0.05)
    }

    private fun luminance(colour: Int): Double = listOf(16 to 0.2126, 8 to 0.7152, 0 to 0.0722).sumOf { (shift, weight) ->
        val value = ((colour shr shift) and 255) / 255.0
        weight * if (value <= 0.04045) value / 12.92 else ((value + 0.055) / 1.055).pow(2.4)
    }

    private const val REACH = 4
}
