package org.shimwright.testing

import java.awt.image.BufferedImage
import java.awt.image.DataBuffer
import java.awt.image.IndexColorModel
import java.io.File
import javax.imageio.ImageIO

/** A picture's colours, row by row. */
internal class Picture(val width: Int, val height: Int, val colours: IntArray)

/**
 * A picture with a palette of its most frequent colours: a quarter of the bytes. Plain areas keep their exact colour;
 * the rare ones (soft edges of letters, photographs) take the nearest of the palette.
 */
internal class Indexed private constructor(
    private val width: Int,
    private val height: Int,
    private val palette: IntArray,
    private val places: ByteArray,
) {
    fun picture() = Picture(width, height, IntArray(places.size) { palette[places[it].toInt() and 255] })

    fun write(file: File) {
        val model = IndexColorModel(8, palette.size, palette, 0, false, -1, DataBuffer.TYPE_BYTE)
        val image = BufferedImage(width, height, BufferedImage.TYPE_BYTE_INDEXED, model)
        image.raster.setDataElements(0, 0, width, height, places)
        file.parentFile.mkdirs()
        ImageIO.write(image, "png", file)
    }

    companion object {
        private const val MOST = 256

        fun of(picture: Picture): Indexed {
            val palette = frequent(picture.colours)
            val at = HashMap<Int, Int>()
            palette.forEachIndexed { index, colour -> at[colour] = index }
            val places = ByteArray(picture.colours.size) {
                val colour = picture.colours[it]
                at.getOrPut(colour) { nearest(palette, colour) }.toByte()
            }
            return Indexed(picture.width, picture.height, palette, places)
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
}
