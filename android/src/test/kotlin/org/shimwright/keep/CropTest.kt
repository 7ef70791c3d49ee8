package org.shimwright.keep

import android.content.DialogInterface
import android.os.Looper
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.Shadows.shadowOf
import org.robolectric.shadows.ShadowAlertDialog
import org.shimwright.core.PhotoRef
import org.shimwright.core.Trial
import org.shimwright.testing.Photographing
import org.shimwright.testing.Samples
import org.shimwright.testing.Shots
import java.io.File
import java.io.RandomAccessFile
import java.util.concurrent.CountDownLatch

/** Photographs take too much room: the oldest are cropped to what was measured, and no further than it takes. */
class CropTest : Photographing() {
    private val photos get() = File(app.filesDir, "photos")

    private fun fileOf(trial: Trial) = File(photos, checkNotNull(trial.shot.photo).file)

    /** A photograph of a face, measured and saved by the screens; then the same shots on a second one. */
    private fun measuredTwice(bow: Long): List<Trial> {
        core { Shots.shoot(it, bow, Shots.face(61.0, each = 3), NOW_MS - 1) }
        open()
        tap("Heron")
        tap("Record shots")
        photographed(demo("before.jpg"))
        tap("Group B")
        tap("Save")
        see("Bare shafts land")
        val first = core { it.trials(bow) }.last()
        val again = File(photos, "$NOW_MS-7.jpg").apply { writeBytes(fileOf(first).readBytes() + 0) }
        val photo = checkNotNull(first.shot.photo).copy(file = again.name)
        return listOf(first, core { Shots.shoot(it, bow, first.shot.copy(photo = photo), NOW_MS + 1) })
    }

    /** A photograph that was not measured, as large as it takes to be [over] bytes beyond the smallest budget. */
    private fun filledUp(bow: Long, over: Long) {
        val large = File(photos, "$NOW_MS-8.jpg")
        RandomAccessFile(large, "rw").use { it.setLength(BUDGET - photos.listFiles().orEmpty().sumOf(File::length) + over) }
        core { Shots.shoot(it, bow, Shots.face(61.0).copy(photo = PhotoRef(large.name, 4000u, 3000u)), NOW_MS + 2) }
    }

    private fun toStorage() {
        while (!shell.isFinishing && "Bench" !in read()) goBack()
        tap("Bench")
        tap("Backup and storage")
        tap("Storage")
    }

    @Test
    fun `only as many of the oldest are cropped as it takes, and what was measured stays`() {
        val bow = core { Samples.fill(it, NOW_MS) }.second[1]
        val (first, second) = measuredTwice(bow)
        filledUp(bow, over = 1_000)
        val verdict = core { it.rack("heron") }.single().waits
        val (whole, kept) = fileOf(first) to fileOf(second)
        val bytes = whole.length()
        toStorage()
        notSee("photographs can be cropped")
        tap("500 MB")
        see("2 photographs can be cropped")
        dressed("storage-crop")
        tap("Crop the oldest")
        assertEquals("nothing before the question", bytes, whole.length())
        sayYes()
        notSee("photographs can be cropped")
        notSee("1 photograph can be cropped")
        val trials = core { it.trials(bow) }
        val cropped = trials.first { it.id == first.id }
        assertFalse(whole.exists())
        assertTrue(fileOf(cropped).length() in 1 until bytes)
        assertEquals(first.shot.impacts.map { it.at }, cropped.shot.impacts.map { it.at })
        assertEquals(kept, fileOf(trials.first { it.id == second.id }))
        assertTrue(kept.exists())
        assertEquals(verdict, core { it.rack("heron") }.single().waits)
    }

    /** Says yes and lets the worker crop the first photograph; that it did so has not reached the screen yet. */
    private fun yesToTheFirst() {
        val gate = CountDownLatch(1)
        app.worker.run({ gate.await() }) { }
        val dialog = checkNotNull(ShadowAlertDialog.getLatestAlertDialog())
        dialog.getButton(DialogInterface.BUTTON_POSITIVE).performClick()
        shadowOf(Looper.getMainLooper()).idle()
        gate.countDown()
        while (!app.worker.idle) Thread.sleep(1)
    }

    @Test
    fun `who leaves midway stops it after the photograph under way, and it can be taken up again`() {
        val bow = core { Samples.fill(it, NOW_MS) }.second[1]
        val (first, second) = measuredTwice(bow)
        val (one, other) = fileOf(first) to fileOf(second)
        filledUp(bow, over = one.length() + other.length())
        toStorage()
        tap("500 MB")
        tap("Crop the oldest")
        yesToTheFirst()
        assertFalse(one.exists())
        goBack()
        assertTrue("the one not begun stays whole", other.exists())
        assertEquals(other, fileOf(core { it.trials(bow) }.first { it.id == second.id }))
        tap("Storage")
        see("1 photograph can be cropped")
        tap("Crop the oldest")
        sayYes()
        assertFalse("who stays has the rest cropped", other.exists())
        val cropped = core { it.trials(bow) }.first { it.id == second.id }
        assertTrue(fileOf(cropped).exists())
        assertEquals(second.shot.impacts.map { it.at }, cropped.shot.impacts.map { it.at })
        notSee("photograph can be cropped")
    }

    private companion object {
        const val BUDGET = 500_000_000L
    }
}
