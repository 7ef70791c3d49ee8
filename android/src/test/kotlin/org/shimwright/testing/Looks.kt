package org.shimwright.testing

import android.app.Activity
import android.graphics.Bitmap
import android.graphics.Canvas
import android.view.View
import org.junit.Assert.fail
import java.awt.image.BufferedImage
import java.io.File
import javax.imageio.ImageIO
import kotlin.math.abs

/**
 * Screenshots as goldens. `mvn test -Dlooks=refresh` writes them anew; otherwise each is compared with the stored one:
 * no more than [FEW] of the pixels may differ by more than [STEP] in a channel. What was seen is always written to
 * target/looks.
 */
object Looks {
    private const val STEP = 24
    private const val OPAQUE = 0xFF shl 24
    private const val FEW = 0.001

    private val stored = File(System.getProperty("looks.dir") ?: "src/test/looks")
    private val seen = File(System.getProperty("looks.seen.dir") ?: "target/looks")
    private val refresh = System.getProperty("looks") == "refresh"

    fun check(activity: Activity, name: String) {
        val (width, height) = activity.windowSize()
        check(activity.window.decorView, width, height, name)
    }

    /** The same of one view that is laid out already. */
    fun check(view: View, width: Int, height: Int, name: String) {
        // In few colours like the stored one: else the colours left out would count as differences.
        val picture = inFewColours(picture(view, width, height))
        val golden = File(stored, "$name.png")
        write(picture, File(seen, "$name.png"))
        if (refresh) {
            write(picture, golden)
            return
        }
        if (!golden.exists()) fail("no stored look $name: mvn test -Dlooks=refresh, and look at it")
        val share = difference(ImageIO.read(golden), picture)
        if (share > FEW) fail("$name looks different in ${"%.2f".format(share * 100)} % of its pixels; see target/looks/$name.png")
    }

    private fun picture(view: View, width: Int, height: Int): BufferedImage {
        val bitmap = Bitmap.createBitmap(width, height, Bitmap.Config.ARGB_8888)
        view.draw(Canvas(bitmap))
        val pixels = IntArray(width * height)
        bitmap.getPixels(pixels, 0, width, 0, 0, width, height)
        bitmap.recycle()
        return BufferedImage(width, height, BufferedImage.TYPE_INT_RGB).apply {
            setRGB(0, 0, width, height, IntArray(pixels.size) { pixels[it] or OPAQUE }, 0, width)
        }
    }

    private fun channels(colour: Int) = intArrayOf((colour shr 16) and 255, (colour shr 8) and 255, colour and 255)

    private fun difference(a: BufferedImage, b: BufferedImage): Double {
        if (a.width != b.width || a.height != b.height) return 1.0
        var far = 0
        for (y in 0 until a.height) for (x in 0 until a.width) if (apart(a.getRGB(x, y), b.getRGB(x, y))) far++
        return far.toDouble() / (a.width * a.height)
    }

    private fun apart(a: Int, b: Int): Boolean {
        if (a == b) return false
        val other = channels(b)
        return channels(a).withIndex().any { (index, value) -> abs(value - other[index]) > STEP }
    }

    private fun inFewColours(picture: BufferedImage): BufferedImage =
        Indexed.of(picture, picture.getRGB(0, 0, picture.width, picture.height, null, 0, picture.width))

    private fun write(picture: BufferedImage, file: File) {
        file.parentFile.mkdirs()
        ImageIO.write(picture, "png", file)
    }
}
