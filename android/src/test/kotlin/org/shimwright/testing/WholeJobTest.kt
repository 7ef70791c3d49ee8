package org.shimwright.testing

import android.app.Activity
import android.content.Intent
import android.net.Uri
import android.os.SystemClock
import android.provider.MediaStore
import android.view.MotionEvent
import org.junit.Assert.assertEquals
import org.junit.Test
import org.robolectric.Shadows.shadowOf
import org.shimwright.core.PointPx
import org.shimwright.photo.PhotoView
import java.io.File

/** The main job on the demo's photographs, by hand: shoot, measure, judge, swap, prove, look back. */
class WholeJobTest : ShellTest() {
    /** Answers the camera with a photograph of the demo. */
    private fun photographed(name: String) {
        tap("Take a photograph")
        val asked = shadowOf(shell).nextStartedActivityForResult

        @Suppress("DEPRECATION") // The typed getter is newer than API 26.
        val lent = checkNotNull(asked.intent.getParcelableExtra<Uri>(MediaStore.EXTRA_OUTPUT))
        checkNotNull(app.contentResolver.openOutputStream(lent, "w")).use { it.write(File("../demo/photos/$name").readBytes()) }
        shadowOf(shell).receiveResult(asked.intent, Activity.RESULT_OK, null)
        settle()
    }

    private fun tapHoles(places: List<Pair<Int, Int>>) {
        for ((x, y) in places) {
            val view = root.everything().filterIsInstance<PhotoView>().single()
            val (px, py) = view.shown(PointPx(x.toDouble(), y.toDouble()))
            val now = SystemClock.uptimeMillis()
            for (action in listOf(MotionEvent.ACTION_DOWN, MotionEvent.ACTION_UP)) {
                view.dispatchTouchEvent(MotionEvent.obtain(now, now + 20, action, px, py, 0))
            }
            settle()
        }
    }

    private fun shot(photo: String, holes: List<Pair<Int, Int>>) {
        tap("Shoot")
        tap("a face")
        type("Distance", "20 yd")
        photographed(photo)
        tap("across")
        see("Sheet found")
        tap("Mark the holes")
        tapHoles(holes)
        see("6 of 6 snapped")
        tap("Save")
    }

    @Test
    fun `from a photograph to a proven swap and its history`() {
        val bow = core { Samples.fill(it, NOW_MS) }.second[1]
        core { it.passOpenChecks(bow, NOW_MS) }
        open()
        tap("Heron")
        shot("before.jpg", BEFORE)
        tap("Ask for the verdict")
        see("Shoot 2 more bare shafts and 2 more fletched")
        see("Bare shafts land 61 mm right of fletched")
        // The demo has one photograph from before the swap; the second group is a second look at it.
        shot("before.jpg", BEFORE)
        tap("Ask for the verdict")
        see("Fit pair B, thick side right, on both axles")
        tap("Start the swap")
        see("step 1 of")
        core { Shots.finishSwap(it, bow, NOW_MS + HOUR_MS) }
        open()
        app.clock = { NOW_MS + 2 * HOUR_MS }
        tap("Heron")
        shot("after.jpg", AFTER)
        tap("Ask for the verdict")
        dieAndReturn()
        app.clock = { NOW_MS + 2 * HOUR_MS }
        goBack()
        tap("History")
        see("expected")
        see("Verdict: fit other spacers")
        assertEquals(3, core { it.history(bow) }.splits.size)
    }

    @Test
    fun `a picture shared by another app finds its bow and is measured`() {
        core { Samples.fill(it, NOW_MS) }
        val picture = Uri.parse("content://gallery/before.jpg")
        shadowOf(app.contentResolver).registerInputStream(picture, File("../demo/photos/before.jpg").inputStream())
        open(Intent(Intent.ACTION_SEND).setType("image/jpeg").putExtra(Intent.EXTRA_STREAM, picture))
        see("Which bow was the shared picture shot with?")
        tap("Heron")
        type("Distance", "20 yd")
        tap("Measure the shared picture")
        tap("across")
        see("Sheet found")
        goBack()
        goBack()
        see("Heron")
    }

    private companion object {
        const val HOUR_MS = 3_600_000L
        val BEFORE = listOf(1599 to 1372, 1688 to 1500, 1737 to 1361, 2193 to 1435, 2394 to 1368, 2289 to 1512)
        val AFTER = listOf(1992 to 1478, 2103 to 1545, 2050 to 1394, 2192 to 1438, 2040 to 1579, 2136 to 1454)
    }
}
