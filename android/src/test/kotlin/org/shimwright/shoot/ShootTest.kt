package org.shimwright.shoot

import android.app.Activity
import android.content.Intent
import android.net.Uri
import android.os.SystemClock
import android.view.MotionEvent
import android.view.View
import android.widget.EditText
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.Shadows.shadowOf
import org.shimwright.core.ArrowKind
import org.shimwright.core.PointMm
import org.shimwright.core.PointPx
import org.shimwright.core.Surface
import org.shimwright.core.Trial
import org.shimwright.testing.Photographing
import org.shimwright.testing.Samples
import org.shimwright.testing.Shots
import org.shimwright.testing.everything

/** From the bow to a saved trial: by the camera, by a chosen picture, and by hand, over the demo's photographs. */
class ShootTest : Photographing() {
    private var bow = 0L

    private fun atShoot() {
        bow = core { Samples.fill(it, NOW_MS) }.second.first()
        open()
        tap("Alder 33")
        tap("Record shots")
    }

    private fun trial(): Trial = core { it.trials(bow) }.single()

    private fun touch(view: View, x: Float, y: Float) {
        val now = SystemClock.uptimeMillis()
        for (action in listOf(MotionEvent.ACTION_DOWN, MotionEvent.ACTION_UP)) {
            val event = MotionEvent.obtain(now, now + 20, action, x, y, 0)
            view.dispatchTouchEvent(event)
            event.recycle()
        }
        settle()
    }

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
        see("Which group are the bare shafts?")
        dieAndReturn()
        see("Which group are the bare shafts?")
        dressed("photo-groups")
        goBack()
        see("A4 found")
        dieAndReturn()
        dressed("photo-known")
        tap("Mark the holes")
        tap("Group B")
        see("6 of 6 found")
        tap("Undo")
        see("Which group are")
        tap("Redo")
        dieAndReturn()
        see("6 of 6 found")
        dressed("photo-holes", full = true)
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
        typeInto("x0", "12")
        tap("left")
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
        tap("I mark them myself")
        tapPhoto(2600, 1900)
        see("Not found")
        val view = photoView()
        drag(view, view.shown(PointPx(2600.0, 1900.0)), view.shown(PointPx(1610.0, 1380.0)))
        see("1 of 1 found")
        type("Number on the arrow", "7")
        tap("Keep the number")
        see("no. 7")
        tap("Change to ○ bare")
        see("○ bare no. 7")
        tap("a step right")
        see("0 of 1 found")
        val once = placed()
        tap("a step right")
        assertEquals("another half millimetre", 0.5, placed() - once, 0.02)
        dieAndReturn()
        see("Placed by hand")
        tap("Snap to the hole again")
        see("1 of 1 found")
        see("5 further holes")
        tap("Take all 5 as the next ones")
        see("6 of 6 found")
        tap("Undo")
        see("1 of 1 found")
    }

    @Test
    fun `a number stays with its arrow, kept by its button or not, and says where it is none`() {
        atShoot()
        type("Distance", "18")
        photographed(demo("before.jpg"))
        tap("I mark them myself")
        tap("Take all 6 as the next ones")
        fun number(mark: String, text: String) {
            tap(mark)
            type("Number on the arrow", text)
        }
        number("fletched 1", "4")
        number("fletched 2", "0")
        tap("Keep the number")
        see("A number from 1 to 999")
        type("Number on the arrow", "8")
        number("fletched 3", "9")
        goBack()
        tap("Mark the holes")
        see("● fletched no. 4")
        tap("● fletched no. 4")
        tap("Remove")
        see("● fletched no. 8")
        tap("● fletched no. 8")
        assertEquals("8", root.findViewWithTag<EditText>("number").text.toString())
        see("● fletched no. 9")
        notSee("no. 4")
    }

    /** How far right of the middle the chosen mark was put, mm. */
    private fun placed(): Double {
        val said = read().lines().first { it.startsWith("Placed by hand: ") }
        val (size, side) = checkNotNull(Regex("([0-9.]+) mm (left|right)").find(said)).destructured
        return if (side == "left") -size.toDouble() else size.toDouble()
    }

    @Test
    fun `of more holes than arrows were shot none is taken unseen, and none offered once all arrows are marked`() {
        atShoot()
        type("Distance", "18")
        repeat(3) { tap("one fewer: bare shaft") }
        photographed(demo("before.jpg"))
        see("6 holes found, 3 arrows shot")
        tap("I mark them myself")
        see("6 further holes")
        notSee("Take all 6 as the next ones")
        // The three fletched holes of before.truth.json.
        for ((x, y) in listOf(1608 to 1381, 1683 to 1497, 1726 to 1354)) tapPhoto(x, y)
        see("All 3 arrows shot are marked.")
        notSee("further holes")
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
        see("Which group are")
        goBack()
        tap("card")
        see("Not found in the picture")
        tap("two points")
        see("Not measured yet")
        type("Distance between the points", "100")
        tap("Measure with it")
        see("Two points measured")
    }

    @Test
    fun `a picture of no bytes and one that vanished are said in words`() {
        atShoot()
        type("Distance", "18")
        photographed(ByteArray(0))
        see("This is not a photograph the app can measure in")
        tap("Another photograph")
        photographed(demo("before.jpg"))
        see("Which group are")
        checkNotNull(app.filesDir.resolve("photos").listFiles()).forEach { it.delete() }
        dieAndReturn()
        see("The picture cannot be read")
        goBack()
        see("Shot at")
        goBack()
        notSee("Photograph not finished")
    }

    @Test
    fun `who shot before is a press away`() {
        atShoot()
        core { Shots.shoot(it, bow, Shots.face(61.0).copy(shooter = "owner"), NOW_MS) }
        core { Shots.shoot(it, bow, Shots.face(61.0).copy(shooter = "technician"), NOW_MS) }
        open()
        tap("Alder 33")
        tap("Record shots")
        tap("owner")
        type("Distance", "18")
        tap("Without a photo")
        tap("Add an arrow")
        typeInto("x0", "3")
        typeInto("y0", "3")
        tap("Save")
        assertEquals("owner", core { it.trials(bow) }.last().shot.shooter)
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
