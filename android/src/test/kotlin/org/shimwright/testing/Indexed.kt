package org.shimwright.testing

import java.awt.image.BufferedImage
import java.awt.image.DataBuffer
import java.awt.image.IndexColorModel

/**
 * A picture with a palette of its most frequent colours: a quarter of the bytes. Plain areas keep their exact colour;
 * the rare ones (soft edges of letters, photographs) take the nearest of the palette.
 */
internal object Indexed {
    private const val MOST = 256

    fun of(picture: BufferedImage, colours: IntArray): BufferedImage {
        val palette = frequent(colours)
        val at = HashMap<Int, Int>()
        palette.forEachIndexed { index, colour -> at[colour] = index }
        val model = IndexColorModel(8, palette.size, palette, 0, false, -1, DataBuffer.TYPE_BYTE)
        val small = BufferedImage(picture.width, picture.height, BufferedImage.TYPE_BYTE_INDEXED, model)
        val bytes = ByteArray(colours.size) { at.getOrPut(colours[it]) { nearest(palette, colours[it]) }.toByte() }
        small.raster.setDataElements(0, 0, picture.width, picture.height, bytes)
        return small
    }

    private fun frequent(colours: IntArray): IntArray {
        val counts = HashMap<Int, Int>()
        colours.forEach { counts.merge(it, 1, Int::plus) }
        val order = compareByDescending<Map.Entry<Int, Int>> { it.value }.thenBy { it.key }
        return counts.entries.sortedWith(order).take(MOST).map { it.key }.toIntArray()
    }

    private fun nearest(palette: IntArray, colour: Int): Int = palette.indices.minBy { distance(palette[it], colour) }

    private fun distance(a: Int, b: Int): Int = intArrayOf(16, 8, 0).sumOf { shift ->
        val step = ((a shr shift) and 255) - ((b shr shift) and 255)
        step * step
    }
}
