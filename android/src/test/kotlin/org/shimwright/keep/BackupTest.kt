package org.shimwright.keep

import android.content.Intent
import android.os.Bundle
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertNull
import org.junit.Test
import org.shimwright.core.Progress
import org.shimwright.frame.Route
import org.shimwright.frame.Wishes
import org.shimwright.testing.Papers
import java.util.zip.ZipFile

class BackupTest : Keeping() {
    @Test
    fun `a backup goes to a document the user picks, and the app remembers when`() {
        openBench()
        see("No backup made on this phone yet")
        dressed("keep")
        tap("Back up")
        dieAndReturn()
        dressed("backup")
        tap("Choose where to put it")
        val asked = answer(Intent.ACTION_CREATE_DOCUMENT, "mine.zip")
        assertEquals("Shimwright 2026-10-14.zip", asked.getStringExtra(Intent.EXTRA_TITLE))
        assertEquals("application/zip", asked.type)
        see("Backup finished")
        dressed("backup-done")
        // java.util.zip reads it: another program's zip.
        val parts = ZipFile(Papers.file("mine.zip")).use { zip -> zip.entries().toList().map { it.name } }
        assertEquals(listOf("workshop.json", "manifest.json"), parts)
        assertEquals(NOW_MS, Wishes.of(app).lastBackupMs)
        tap("Understood")
        see("last backup: today")
        goBack()
        see("last backup: today")
    }

    @Test
    fun `a document that cannot be written is said, and is no backup`() {
        openBench()
        tap("Back up")
        tap("Choose where to put it")
        Papers.full = true
        answer(Intent.ACTION_CREATE_DOCUMENT, "full.zip")
        see("The backup could not be written there")
        see("No backup made on this phone yet")
        dieAndReturn()
        see("No backup made on this phone yet")
    }

    @Test
    fun `going back from the picker changes nothing`() {
        openBench()
        tap("Back up")
        tap("Choose where to put it")
        answer(Intent.ACTION_CREATE_DOCUMENT, null)
        see("No backup made on this phone yet")
    }

    @Test
    fun `a document whose process died on the way is no backup, and goes`() {
        Papers.file("half.zip").writeText("PK and no more")
        openAt(Route.BACKUP, Bundle(), Bundle().apply { putString("document", Papers.address("half.zip").toString()) })
        see("The app was closed before the backup was whole")
        assertFalse(Papers.file("half.zip").exists())
        photographed("backup-broken")
    }

    @Test
    fun `stopping on the way leaves no document`() {
        openBench()
        tap("Back up")
        tap("Choose where to put it")
        Papers.file("stopped.zip").writeText("")
        midway(Intent.ACTION_CREATE_DOCUMENT, "stopped.zip", "Writing the backup…") { press("Cancel") }
        see("Stopped: no backup was made")
        assertFalse(Papers.file("stopped.zip").exists())
        assertNull(Wishes.of(app).lastBackupMs)
        photographed("backup-stopped")
    }

    @Test
    fun `Back on the way stops, and stays`() {
        openBench()
        tap("Back up")
        tap("Choose where to put it")
        @Suppress("DEPRECATION") // as the app receives it
        midway(Intent.ACTION_CREATE_DOCUMENT, "stopped.zip", "Writing the backup…") { shell.onBackPressed() }
        see("Stopped: no backup was made")
        goBack()
        see("Restore")
    }

    @Test
    fun `how far it is`() {
        openBench()
        tap("Back up")
        val holding = core { it.holding() }
        val photos = core { it.photoUsage(photos.path) }
        val state = BackupState(Stage.RUNNING, Progress(312_000_000, 1_100_000_000, true), null, holding, photos, METRIC, NOW_MS)
        dressed("backup-running") { frozen { page, host -> BackupScreen(host, Bundle(), Bundle()).draw(page, state) } }
    }
}
