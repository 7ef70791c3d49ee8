package org.shimwright.photo

import android.graphics.Bitmap
import android.graphics.BitmapFactory
import android.graphics.BitmapRegionDecoder
import android.graphics.Matrix
import android.graphics.Rect
import android.graphics.RectF
import android.media.ExifInterface
import java.io.File
import java.io.IOException

/** A part of a photograph at full sharpness: [at] upright photograph px. */
class Sharp(val at: RectF, val bitmap: Bitmap)

/** A photograph to look at: small enough to hold whole, and sharp in parts. Upright, as the core counts its pixels. */
class Picture private constructor(private val file: File, val width: Int, val height: Int, val whole: Bitmap, private val upright: Matrix) {
    /** Decodes what lies in [region] (upright px), at most about [most] px a side; null where that cannot be done. */
    fun sharp(region: RectF, most: Int): Sharp? = try {
        cut(region, most)
    } catch (expected: IOException) {
        null
    }

    @Suppress("DEPRECATION") // The call without the flag is newer than API 26.
    private fun cut(region: RectF, most: Int): Sharp? {
        val inside = RectF(region)
        if (!inside.intersect(0f, 0f, width.toFloat(), height.toFloat())) return null
        val back = Matrix().also { upright.invert(it) }
        val raw = Rect().also { rect -> RectF(inside).also { back.mapRect(it) }.roundOut(rect) }
        val decoder = BitmapRegionDecoder.newInstance(file.path, false) ?: return null
        val options = BitmapFactory.Options().apply { inSampleSize = sample(maxOf(raw.width(), raw.height()), most) }
        val bitmap = decoder.decodeRegion(raw, options)
        decoder.recycle()
        return bitmap?.let { Sharp(RectF(raw).also { rect -> upright.mapRect(rect) }, turned(it, upright)) }
    }

    companion object {
        private const val MOST = 2048

        /** Decodes the photograph in [file] small. */
        fun of(file: File): Picture {
            val size = BitmapFactory.Options().apply { inJustDecodeBounds = true }
            BitmapFactory.decodeFile(file.path, size)
            val options = BitmapFactory.Options().apply { inSampleSize = sample(maxOf(size.outWidth, size.outHeight), MOST) }
            val small = BitmapFactory.decodeFile(file.path, options) ?: throw IOException()
            val upright = upright(orientation(file), size.outWidth, size.outHeight)
            val shown = RectF(0f, 0f, size.outWidth.toFloat(), size.outHeight.toFloat()).also { upright.mapRect(it) }
            return Picture(file, shown.width().toInt(), shown.height().toInt(), turned(small, upright), upright)
        }

        private fun sample(side: Int, most: Int): Int = generateSequence(1) { it * 2 }.first { side / it <= most }

        private fun orientation(file: File): Int = file.inputStream().buffered().use {
            ExifInterface(it).getAttributeInt(ExifInterface.TAG_ORIENTATION, ExifInterface.ORIENTATION_NORMAL)
        }

        /** From the pixels as stored to the pixels as seen. */
        internal fun upright(orientation: Int, width: Int, height: Int): Matrix {
            val matrix = Matrix()
            when (orientation) {
                ExifInterface.ORIENTATION_FLIP_HORIZONTAL -> matrix.postScale(-1f, 1f)
                ExifInterface.ORIENTATION_ROTATE_180 -> matrix.postRotate(180f)
                ExifInterface.ORIENTATION_FLIP_VERTICAL -> matrix.postScale(1f, -1f)
                ExifInterface.ORIENTATION_TRANSPOSE -> matrix.apply { postRotate(90f) }.postScale(-1f, 1f)
                ExifInterface.ORIENTATION_ROTATE_90 -> matrix.postRotate(90f)
                ExifInterface.ORIENTATION_TRANSVERSE -> matrix.apply { postRotate(-90f) }.postScale(-1f, 1f)
                ExifInterface.ORIENTATION_ROTATE_270 -> matrix.postRotate(-90f)
            }
            val box = RectF(0f, 0f, width.toFloat(), height.toFloat()).also { matrix.mapRect(it) }
            matrix.postTranslate(-box.left, -box.top)
            return matrix
        }

        private fun turned(bitmap: Bitmap, upright: Matrix): Bitmap =
            if (upright.isIdentity) bitmap else Bitmap.createBitmap(bitmap, 0, 0, bitmap.width, bitmap.height, upright, true)
    }
}
