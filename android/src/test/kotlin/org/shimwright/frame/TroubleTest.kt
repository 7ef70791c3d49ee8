package org.shimwright.frame

import android.content.ActivityNotFoundException
import org.junit.Assert.assertArrayEquals
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.Shadows.shadowOf
import org.shimwright.R
import org.shimwright.core.ArrowFigure
import org.shimwright.core.DistanceUnit
import org.shimwright.core.Field
import org.shimwright.core.FileProblem
import org.shimwright.core.KitProblem
import org.shimwright.core.LengthUnit
import org.shimwright.core.PhotoProblem
import org.shimwright.core.Refusal
import org.shimwright.core.WorkshopException
import org.shimwright.core.panicOnPurpose
import org.shimwright.home.wayToBow
import org.shimwright.kit.Column
import org.shimwright.kit.Units
import org.shimwright.testing.LookTest
import org.shimwright.testing.Samples
import org.shimwright.testing.everything
import org.shimwright.testing.plain
import org.shimwright.testing.said
import java.io.File
import java.io.IOException
import java.io.RandomAccessFile
import java.sql.SQLException

class TroubleTest : LookTest() {
    private val file get() = File(app.filesDir, "bench.workshop")

    @Test
    fun `a damaged workshop is set aside, said, and an empty one opens on request`() {
        file.apply { parentFile?.mkdirs() }.writeText("no workshop at all, only words ".repeat(200))
        open()
        see("Save what can be read")
        see("Restore a backup")
        dressed("rescue")
        dieAndReturn()
        see("The workshop file was damaged")
        open(wayToBow(app, 1))
        see("The workshop file was damaged")
        goBack()
        open()
        see("The workshop file was damaged")
        tap("Save what can be read")
        see("Nothing in it can be read")
        tap("Start an empty workshop")
        see("No bow on the rack yet")
        dieAndReturn()
        see("No bow on the rack yet")
        val kept = checkNotNull(file.parentFile?.listFiles()).filter { it.name != file.name && it.length() > 0 }
        assertTrue("$kept", kept.any { it.readText().startsWith("no workshop") } || file.readText().startsWith("no workshop"))
    }

    /** Leaves an empty workshop behind that no one holds open. */
    private fun leaveWorkshop() {
        open()
        see("No bow on the rack yet")
        close()
        app.worker.close { it.destroy() }
        while (!app.worker.idle) Thread.sleep(1)
        assertTrue("${app.filesDir.list()?.toList()}", file.isFile)
    }

    @Test
    fun `a workshop of a newer app is left alone and said`() {
        leaveWorkshop()
        RandomAccessFile(file, "rw").use {
            it.seek(USER_VERSION_AT)
            it.writeInt(FAR_FUTURE)
        }
        val before = file.readBytes()
        open()
        see("The workshop was written by a newer version")
        see("Update this app. The file was not touched.")
        assertArrayEquals(before, file.readBytes())
    }

    @Test
    fun `without a camera app the way by hand is named`() {
        core { Samples.fill(it, NOW_MS) }
        open()
        tap("Heron")
        tap("Record shots")
        type("Distance", "18")
        shadowOf(app).checkActivities(true)
        tap("Take a photograph")
        see("No app on this phone can do that")
        see("Shots can also be read from a chosen picture, or typed.")
        tap("Without a photo")
        see("Where they hit")
    }

    @Test
    fun `a folder where the workshop should be is said`() {
        file.mkdirs()
        open()
        see("The workshop file cannot be opened")
        see("Try again")
    }

    @Test
    fun `every error is shown in words, with a remedy`() {
        open()
        val errors = Refusal.entries.map { WorkshopException.Refused(it, "B", "") } +
            FileProblem.entries.map { WorkshopException.File(it, "/x/bench.aside", "") } +
            KitProblem.entries.map { WorkshopException.BadKit(it, "B", 4.5, "") } +
            Field.entries.map { WorkshopException.BadField(it, null, 1e9, 0.0, 10.0, "") } +
            Field.entries.map { WorkshopException.BadField(it, null, null, 0.0, 10.0, "") } +
            ArrowFigure.entries.map { WorkshopException.BadField(Field.ARROW_FIGURE, it, 1e9, 0.001, 10.0, "") } +
            PhotoProblem.entries.map { WorkshopException.Photo(it, "") } +
            listOf(
                WorkshopException.MixedPair(2.5, 1.6, 4.1, 4.4, 1.9, null, ""),
                ActivityNotFoundException(),
                IOException(),
                SQLException(),
                Said(R.string.backup_short, R.string.backup_short_remedy),
            )
        for (error in errors) {
            val trouble = shell.troubleOf(error)
            val said = Column(shell).apply { trouble(trouble, null) }.everything().mapNotNull { it.said() }
            assertTrue("$said", trouble.what.plain() in said && trouble.remedy.plain() in said)
        }
        val said = errors.map { shell.troubleOf(it) }
        assertEquals(emptyList<Trouble>(), said.filter { it.what.isBlank() || it.remedy.isBlank() || "%" in it.what + it.remedy })
    }

    @Test
    fun `a shop that measures in inches reads the piece it measured in inches`() {
        open()
        val error = WorkshopException.BadKit(KitProblem.UNCLEAR_PIECE, "", 2.2, "")
        val said = shell.troubleOf(error, Units(LengthUnit.INCH, DistanceUnit.YARD)).what
        // 2.2 / 25.4, the international inch.
        assertTrue(said, "0.087 in" in said.plain())
    }

    @Test
    fun `a defect of the core is said and the app goes on`() {
        open()
        val outcome = runCatching { core { panicOnPurpose() } }
        assertEquals("Unexpected error", shell.troubleOf(checkNotNull(outcome.exceptionOrNull())).what)
        tap("Add a kit")
        see("Name of the kit")
    }

    private companion object {
        const val FAR_FUTURE = 9999

        /** Where an SQLite file keeps its user version, big-endian (the format's documentation, section 1.3). */
        const val USER_VERSION_AT = 60L
    }
}
