package org.shimwright.testing

import android.app.Activity
import android.graphics.Bitmap
import android.graphics.BitmapFactory
import android.graphics.Canvas
import android.view.View
import org.junit.Assert.fail
import java.io.File
import kotlin.math.abs

/**
 * Screenshots as goldens. `mvn test -Dlooks=refresh` writes them anew; otherwise each is compared with the stored one:
 * no more than [FEW] of the pixels may differ by more than [STEP] in a channel. What differs more is written to target/looks.
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
        val picture = drawn(view, width, height)
        val golden = File(stored, "$name.png")
        if (refresh) {
            Indexed.of(picture).write(golden)
            return
        }
        if (!golden.exists()) fail("no stored look $name: mvn test -Dlooks=refresh, and look at it")
        val kept = read(golden)
        if (difference(kept, picture) <= FEW) return
        // Of many colours the stored one has the most frequent: those it left out do not count as differences.
        val few = Indexed.of(picture)
        val share = difference(kept, few.picture())
        if (share <= FEW) return
        few.write(File(seen, "$name.png"))
        fail("$name looks different in ${"%.2f".format(share * 100)} % of its pixels; see target/looks/$name.png")
    }

    private fun drawn(view: View, width: Int, height: Int): Picture {
        val bitmap = Bitmap.createBitmap(width, height, Bitmap.Config.ARGB_8888)
        view.draw(Canvas(bitmap))
        return picture(bitmap)
    }

    private fun read(file: File): Picture = picture(BitmapFactory.decodeFile(file.path))

    private fun picture(bitmap: Bitmap): Picture {
        val (width, height) = bitmap.width to bitmap.height
        val colours = IntArray(width * height)
        bitmap.getPixels(colours, 0, width, 0, 0, width, height)
        bitmap.recycle()
        for (index in colours.indices) colours[index] = colours[index] or OPAQUE
        return Picture(width, height, colours)
    }

    private fun difference(a: Picture, b: Picture): Double {
        if (a.width != b.width || a.height != b.height) return 1.0
        val far = a.colours.indices.count { apart(a.colours[it], b.colours[it]) }
        return far.toDouble() / a.colours.size
    }

    private fun apart(a: Int, b: Int): Boolean = a != b && (far(a, b, 16) || far(a, b, 8) || far(a, b, 0))

    private fun far(a: Int, b: Int, shift: Int): Boolean = abs(((a shr shift) and 255) - ((b shr shift) and 255)) > STEP
}
