package org.shimwright.shoot

import android.app.Activity
import android.content.Intent
import android.net.Uri
import android.os.SystemClock
import android.provider.MediaStore
import android.view.MotionEvent
import android.view.View
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.Shadows.shadowOf
import org.shimwright.core.ArrowKind
import org.shimwright.core.PointMm
import org.shimwright.core.PointPx
import org.shimwright.core.Surface
import org.shimwright.core.Trial
import org.shimwright.photo.PhotoView
import org.shimwright.testing.LookTest
import org.shimwright.testing.Samples
import org.shimwright.testing.everything
import java.io.File

/** From the bow to a saved trial: by the camera, by a chosen picture, and by hand, over the demo's photographs. */
class ShootTest : LookTest() {
    private var bow = 0L

    private fun atShoot() {
        bow = core { Samples.fill(it, NOW_MS) }.second.first()
        open()
        tap("Alder 33")
        tap("Shoot")
    }

    private fun trial(): Trial = core { it.trials(bow) }.single()

    /** Answers the camera as a camera app does: writes the file it was lent, then says it went well. */
    private fun photographed(with: ByteArray) {
        tap("Take a photograph")
        val asked = shadowOf(shell).nextStartedActivityForResult
        assertEquals(MediaStore.ACTION_IMAGE_CAPTURE, asked.intent.action)
        @Suppress("DEPRECATION") // The typed getter is newer than API 26.
        val lent = asked.intent.getParcelableExtra<Uri>(MediaStore.EXTRA_OUTPUT)!!
        app.contentResolver.openOutputStream(lent, "w")!!.use { it.write(with) }
        shadowOf(shell).receiveResult(asked.intent, Activity.RESULT_OK, null)
        settle()
    }

    private fun demo(name: String) = File("../demo/photos/$name").readBytes()

    private fun touch(view: View, x: Float, y: Float) {
        val now = SystemClock.uptimeMillis()
        for (action in listOf(MotionEvent.ACTION_DOWN, MotionEvent.ACTION_UP)) {
            val event = MotionEvent.obtain(now, now + 20, action, x, y, 0)
            view.dispatchTouchEvent(event)
            event.recycle()
        }
        settle()
    }

    private fun drag(view: View, from: Pair<Float, Float>, to: Pair<Float, Float>) {
        val now = SystemClock.uptimeMillis()
        val between = (from.first + to.first) / 2 to (from.second + to.second) / 2
        val steps = listOf(
            MotionEvent.ACTION_DOWN to from,
            MotionEvent.ACTION_MOVE to between,
            MotionEvent.ACTION_MOVE to to,
            MotionEvent.ACTION_UP to to,
        )
        for ((action, at) in steps) {
            val event = MotionEvent.obtain(now, now + 20, action, at.first, at.second, 0)
            view.dispatchTouchEvent(event)
            event.recycle()
        }
        settle()
    }

    private fun photoView() = root.everything().filterIsInstance<PhotoView>().single()

    private fun tapPhoto(x: Int, y: Int) = photoView().let { view ->
        val (px, py) = view.shown(PointPx(x.toDouble(), y.toDouble()))
        touch(view, px, py)
    }

    private val holes = listOf(1608 to 1381, 1683 to 1497, 1726 to 1354, 2187 to 1445, 2384 to 1378, 2279 to 1502)

    @Test
    fun `a photograph of a sheet becomes a trial`() {
        atShoot()
        tap("a face")
        tap("Take a photograph")
        see("The distance is needed")
        type("Distance", "18 m")
        dieAndReturn()
        dressed("shoot")
        photographed(demo("before.jpg"))
        see("It was not found in the picture")
        tap("across")
        see("Sheet found")
        dieAndReturn()
        see("Sheet found")
        dressed("photo-known")
        tap("Mark the holes")
        for ((x, y) in holes) tapPhoto(x, y)
        see("6 of 6 snapped")
        tap("Undo")
        see("5 of 5 snapped")
        tap("Redo")
        dieAndReturn()
        see("6 of 6 snapped")
        dressed("photo-holes")
        tap("Save")
        see("Bare shafts land")
        val shot = trial().shot
        assertEquals(Surface.FACE, shot.surface)
        assertEquals(18.0, shot.distanceM, 1e-9)
        assertEquals(6, shot.impacts.count { it.snapped })
        fun mean(kind: ArrowKind) = shot.impacts.filter { it.kind == kind }.map { it.at.xMm }.average()
        // The demo's truth: bare minus fletched is 61.2 mm to the right.
        assertEquals(61.2, mean(ArrowKind.BARE) - mean(ArrowKind.FLETCHED), 0.6)
        assertTrue(app.filesDir.resolve("photos").resolve(shot.photo!!.file).exists())
    }

    @Test
    fun `offsets typed and tapped without a photograph`() {
        atShoot()
        type("Distance", "20 yd")
        tap("Without a photo")
        tap("Add an arrow")
        typeInto("x0", "-12")
        typeInto("y0", "")
        tap("Save")
        see("A figure is needed here")
        typeInto("y0", "1/2 in")
        val face = root.everything().filterIsInstance<DrawnFace>().single()
        val (x, y) = face.shown(PointMm(60.0, -20.0))
        touch(face, x, y)
        dieAndReturn()
        dressed("typed")
        tap("Save")
        val shot = trial().shot
        assertEquals(18.288, shot.distanceM, 1e-6)
        assertEquals(listOf(-12.0, 60.0), shot.impacts.map { it.at.xMm.let { mm -> Math.round(mm).toDouble() } })
        assertEquals(12.7, shot.impacts[0].at.yMm, 1e-6)
    }

    @Test
    fun `tears through paper are read from one tap each`() {
        atShoot()
        tap("paper")
        type("Distance", "2 m")
        photographed(demo("paper.jpg"))
        see("Sheet found")
        tap("Mark the tears")
        type("Shaft diameter", "6.2")
        for ((x, y) in listOf(1071 to 1300, 1775 to 1931, 1247 to 2598)) tapPhoto(x, y)
        see("3 of 3 read")
        dressed("photo-tears")
        tap("Save")
        val tears = trial().shot.tears.map { it.tear }
        // The demo's truth, in the order tapped.
        val truth = listOf(-23.0 to 3.0, -19.5 to -2.0, -25.0 to 4.5)
        truth.zip(tears).forEach { (want, got) ->
            assertEquals(want.first, got.xMm, 1.0)
            assertEquals(want.second, got.yMm, 1.0)
        }
    }

    @Test
    fun `a mark is dragged, moved by steps, numbered and removed`() {
        atShoot()
        type("Distance", "18")
        photographed(demo("before.jpg"))
        tap("across")
        tap("Mark the holes")
        tapPhoto(2600, 1900)
        see("Not snapped")
        val view = photoView()
        drag(view, view.shown(PointPx(2600.0, 1900.0)), view.shown(PointPx(1610.0, 1380.0)))
        see("1 of 1 snapped")
        type("Number on the arrow", "7")
        tap("Keep the number")
        see("no. 7")
        tap("Other kind")
        see("○ bare no. 7")
        tap("a step right")
        see("0 of 1 snapped")
        val once = placed()
        tap("a step right")
        assertEquals("another half millimetre", 0.5, placed() - once, 0.02)
        dieAndReturn()
        see("Placed by hand")
        tap("Snap it to its hole")
        see("1 of 1 snapped")
        tap("Look for holes")
        see("5 further holes")
        tap("Take all 5 as the next ones")
        see("6 of 6 snapped")
        tap("Undo")
        see("1 of 1 snapped")
    }

    /** How far right of the middle the chosen mark was put, mm. */
    private fun placed(): Double {
        val said = read().lines().first { it.startsWith("Placed by hand: ") }
        val (size, side) = checkNotNull(Regex("([0-9.]+) mm (left|right)").find(said)).destructured
        return if (side == "left") -size.toDouble() else size.toDouble()
    }

    @Test
    fun `what is no photograph is refused in words and nothing is lost`() {
        atShoot()
        type("Distance", "18")
        photographed("not a picture".toByteArray())
        see("This is not a photograph the app can measure in")
        dieAndReturn()
        tap("Another photograph")
        see("Shot at")
        tap("Choose a picture")
        val asked = shadowOf(shell).nextStartedActivityForResult
        val picture = Uri.parse("content://elsewhere/1")
        shadowOf(app.contentResolver).registerInputStream(picture, demo("before.jpg").inputStream())
        shadowOf(shell).receiveResult(asked.intent, Activity.RESULT_OK, Intent().setData(picture))
        settle()
        tap("card")
        see("not")
        tap("two points")
        see("Not measured yet")
        type("Distance between the points", "100")
        tap("Measure with it")
        see("Two points measured")
    }

    @Test
    fun `a camera left without a picture leaves nothing behind`() {
        atShoot()
        type("Distance", "18")
        tap("Take a photograph")
        val asked = shadowOf(shell).nextStartedActivityForResult
        shadowOf(shell).receiveResult(asked.intent, Activity.RESULT_CANCELED, null)
        settle()
        see("Shot at")
        assertEquals(0, app.filesDir.resolve("photos").list().orEmpty().size)
    }
}
