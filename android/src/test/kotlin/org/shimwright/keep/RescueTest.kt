package org.shimwright.keep

import android.content.Intent
import org.junit.Assert.assertArrayEquals
import org.junit.Assert.assertEquals
import org.junit.Assert.assertNull
import org.junit.Assert.assertTrue
import org.junit.Test
import org.shimwright.core.FileProblem
import org.shimwright.core.WorkshopException
import org.shimwright.frame.Wishes
import org.shimwright.testing.PHONE
import org.shimwright.testing.Samples
import org.shimwright.testing.Shots
import java.io.File

/** A damaged workshop is no dead end: what can be read is saved, or a backup restored, and nothing is deleted. */
class RescueTest : Keeping() {
    private fun closed() {
        close()
        app.worker.close { it.destroy() }
        while (!app.worker.idle) Thread.sleep(1)
    }

    /** Fills a workshop of many trials and makes its backup; answers the bow. */
    private fun filled(): Long {
        val heron = core { Samples.fill(it, NOW_MS) }.second[1]
        core { shop -> repeat(TRIALS) { Shots.shoot(shop, heron, Shots.face(61.0), NOW_MS - it * HOUR_MS) } }
        backedUp("last.zip")
        closed()
        return heron
    }

    /** Overwrites page after page of the file, one at a time, until the trials of [bow] cannot be read. */
    private fun spoil(bow: Long): ByteArray {
        val sound = workshopFile.readBytes()
        // From the middle on: what is lost behind the last row that can be read leaves no gap to tell it by.
        val rows = (1 until sound.size / PAGE).filter { "snapped" in String(sound, it * PAGE, PAGE, Charsets.ISO_8859_1) }
        for (page in rows.drop(rows.size / 2)) {
            val hurt = sound.copyOf()
            hurt.fill(0x5a, page * PAGE, (page + 1) * PAGE)
            workshopFile.writeBytes(hurt)
            val told = runCatching { core { it.trials(bow) } }.exceptionOrNull()
            closed()
            if ((told as? WorkshopException.File)?.problem == FileProblem.DAMAGED && Wishes.of(app).setAside == null) return hurt
            Wishes.of(app).setAside = null
        }
        error("no page hurts")
    }

    @Test
    fun `what can be read of a file is saved, and what is missing is said`() {
        val damaged = spoil(filled())
        open()
        // Which screen meets the page first hangs on where the rows lie.
        for (door in listOf("Heron", "History")) if ("The workshop file was damaged" !in read()) tap(door)
        see("The workshop file was damaged")
        dressed("trouble-damaged")
        reconfigure(PHONE)
        tap("See what can be done")
        notSee("Start an empty workshop")
        photographed("rescue-here")
        tap("Save what can be read")
        see("missing")
        dressed("rescued")
        reconfigure(PHONE)
        dieAndReturn()
        val kept = aside(workshopFile).single { !it.damaged }
        assertArrayEquals(damaged, File(kept.path).readBytes())
        val left = core { it.trials(it.rack("heron").single().bowId) }.size
        assertTrue("$left", left in 1 until TRIALS)
        tap("Merge a backup")
        tap("Choose a backup")
        answer(Intent.ACTION_OPEN_DOCUMENT, "last.zip")
        tap("Merge them")
        sayYes()
        assertEquals("the backup brings back what was lost", TRIALS, core { it.trials(it.rack("heron").single().bowId) }.size)
    }

    @Test
    fun `a row that cannot be read costs itself, and its bow says so`() {
        val heron = core { Samples.fill(it, NOW_MS) }.second[1]
        core { shop -> repeat(2) { Shots.shoot(shop, heron, Shots.face(61.0), NOW_MS + it) } }
        closed()
        val bytes = workshopFile.readBytes()
        val name = String(bytes, Charsets.ISO_8859_1).indexOf("\"impacts\"")
        bytes[name + 1] = '?'.code.toByte()
        workshopFile.writeBytes(bytes)
        open()
        tap("Heron")
        see("1 entry cannot be read")
        see("trials")
        assertEquals(1, core { it.trials(heron) }.size)
        dressed("bow-unread")
        reconfigure(PHONE)
        tap("Backup and storage")
        see("Restore")
    }

    @Test
    fun `a file that nothing can be read of leads to the backup`() {
        filled()
        workshopFile.writeText("no workshop at all, only words ".repeat(200))
        open()
        see("The workshop file was damaged")
        tap("Restore a backup")
        goBack()
        see("The workshop file was damaged")
        tap("Restore a backup")
        dieAndReturn()
        tap("Choose a backup")
        answer(Intent.ACTION_OPEN_DOCUMENT, "last.zip")
        see("Backup made today")
        tap("Restore it")
        see("The backup made today")
        assertNull(Wishes.of(app).setAside)
        tap("To the rack")
        see("4 bows")
        assertEquals(TRIALS, core { it.trials(it.rack("heron").single().bowId) }.size)
        assertTrue(File(app.filesDir, "bench.workshop.damaged-1").readText().startsWith("no workshop"))
    }

    private companion object {
        const val TRIALS = 60

        /** SQLite's default page size (its documentation, "page_size"). */
        const val PAGE = 4096
    }
}
