package org.shimwright.keep

import android.content.Intent
import android.os.Bundle
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertNotEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.shimwright.core.Progress
import org.shimwright.core.Side
import org.shimwright.frame.Wishes
import org.shimwright.home.wayToBow
import org.shimwright.testing.PHONE
import org.shimwright.testing.Papers
import org.shimwright.testing.Samples
import org.shimwright.testing.Shots
import java.io.RandomAccessFile
import java.util.zip.ZipEntry
import java.util.zip.ZipFile
import java.util.zip.ZipOutputStream

/** Restoring and merging: looked into first, asked, whole or not at all, and the way back. */
class TakeTest : Keeping() {
    private fun choose(name: String) {
        tap("Choose a backup")
        answer(Intent.ACTION_OPEN_DOCUMENT, name)
    }

    @Test
    fun `a backup is looked into, restored after a question, and what it replaced is put back`() {
        val heron = core { Samples.fill(it, NOW_MS) }.second[1]
        backedUp("before.zip")
        core { shop -> repeat(2) { Shots.shoot(shop, heron, Shots.face(61.0), NOW_MS) } }
        openBench(fill = false)
        tap("Restore")
        dieAndReturn()
        dressed("restore")
        choose("before.zip")
        see("Backup made today")
        see("4 · here 4")
        see("0 · here 2")
        dressed("restore-ready")
        assertEquals("nothing before the question", 2, core { it.trials(heron) }.size)
        tap("Restore it")
        sayYes()
        see("The backup made today")
        dressed("restore-taken")
        assertEquals(0, core { it.trials(it.rack("heron").single().bowId) }.size)
        dieAndReturn()
        tap("Put it back")
        sayYes()
        see("The earlier workshop is back")
        assertEquals(2, core { it.trials(it.rack("heron").single().bowId) }.size)
        tap("To the rack")
        see("4 bows")
        goBack()
        assertTrue(shell.isFinishing)
    }

    @Test
    fun `a new phone restores without a question`() {
        core { Samples.fill(it, NOW_MS) }
        backedUp("old.zip")
        close()
        app.worker.close { it.destroy() }
        while (!app.worker.idle) Thread.sleep(1)
        app.filesDir.listFiles().orEmpty().filter { it.name.startsWith(workshopFile.name) }.forEach { it.delete() }
        openBench(fill = false)
        tap("Restore")
        choose("old.zip")
        tap("Restore it")
        see("The backup made today")
        tap("To the rack")
        see("4 bows")
    }

    @Test
    fun `the backup of another phone comes in, and a person settles what both say of one bow`() {
        val heron = core { Samples.fill(it, NOW_MS) }.second[1]
        backedUp("shared.zip")
        otherPhone("shared.zip", "other.zip") { shop ->
            val there = shop.rack("heron").single().bowId
            shop.recordFitting(there, Samples.both("C", Side.RIGHT), NOW_MS - HOUR_MS)
            Shots.shoot(shop, there, Shots.face(12.0), NOW_MS - HOUR_MS)
        }
        core {
            // Told apart by the clock, as on phones: else the two records' random ids decide which comes first.
            it.tellTime(NOW_MS + HOUR_MS)
            it.recordFitting(heron, Samples.both("A", Side.LEFT), NOW_MS)
        }
        openBench(fill = false)
        tap("Merge")
        dressed("merge")
        choose("other.zip")
        dressed("merge-ready")
        tap("Merge them")
        sayYes()
        see("United with the backup")
        see("1 · 1 new")
        see("Two records disagree on 1 bow")
        dressed("merge-taken")
        tap("Back up")
        see("Choose where to put it")
        goBack()
        tap("Heron")
        see("Two records disagree: check what is in the bow")
        see("Not sure what is fitted")
        dieAndReturn()
        dressed("bow-contested")
        reconfigure(PHONE)
        tap("History")
        see("Two records disagree")
        photographed("history-contested")
        tap("Record what is in it")
        tap("This is in it", nth = 1)
        notSee("Two records disagree")
        val settled = core { shop -> shop.rack("heron").single().bowId.let { shop.bowPage(it) } }
        assertTrue(settled.contested.isEmpty())
    }

    @Test
    fun `a merge forgets every number kept from before`() {
        val (_, bows) = core { Samples.fill(it, NOW_MS) }
        backedUp("shared.zip")
        val before = wayToBow(app, bows[1])
        open()
        tap("Heron")
        tap("Details and kit")
        type("Owner", "club house")
        goBack()
        goBack()
        tap("Bench")
        tap("Backup and storage")
        tap("Merge")
        choose("shared.zip")
        see("1 thing is not saved yet")
        photographed("merge-drafts")
        tap("Merge them")
        sayYes()
        tap("To the rack")
        tap("Heron")
        tap("Details and kit")
        notSee("Not saved yet")
        assertNotEquals(before.data, wayToBow(app, bows[1]).data)
        open(before)
        see("4 bows")
    }

    @Test
    fun `what is no backup, newer, damaged or unreadable is said, and changes nothing`() {
        core { Samples.fill(it, NOW_MS) }
        backedUp("good.zip")
        Papers.file("letter.zip").writeText("no zip at all")
        Papers.file("empty.zip").writeText("")
        Papers.file("good.zip").copyTo(Papers.file("torn.zip"))
        RandomAccessFile(Papers.file("torn.zip"), "rw").use {
            it.seek(200)
            it.write(ByteArray(40))
        }
        openBench(fill = false)
        tap("Restore")
        choose("letter.zip")
        see("This is no backup of a workshop")
        dressed("restore-refused")
        choose("empty.zip")
        see("This is no backup of a workshop")
        choose("torn.zip")
        see("This backup is damaged")
        ofTheFuture("good.zip", "newer.zip")
        choose("newer.zip")
        see("A newer version made this backup")
        see("Nothing here was changed. Update this app first.")
        choose("gone.zip")
        see("The document cannot be read")
        assertEquals(4, core { it.rack("") }.size)
        assertFalse(app.cacheDir.resolve("incoming.zip").exists())
        assertTrue(aside(workshopFile).isEmpty())
    }

    /** The backup [of] as the next version of the app will write it, as [name]. */
    private fun ofTheFuture(of: String, name: String) {
        ZipFile(Papers.file(of)).use { today ->
            ZipOutputStream(Papers.file(name).outputStream()).use { zip ->
                for (part in today.entries()) {
                    val bytes = today.getInputStream(part).readBytes()
                    val manifest = part.name == "manifest.json"
                    zip.putNextEntry(ZipEntry(part.name))
                    zip.write(if (manifest) bytes.decodeToString().replace("\"version\": 1", "\"version\": 2").toByteArray() else bytes)
                }
            }
        }
    }

    @Test
    fun `a document that is no other app's is refused`() {
        openBench()
        tap("Restore")
        tap("Choose a backup")
        val asked = org.robolectric.Shadows.shadowOf(shell).nextStartedActivityForResult
        val own = Intent().setData(android.net.Uri.fromFile(workshopFile))
        org.robolectric.Shadows.shadowOf(shell).receiveResult(asked.intent, android.app.Activity.RESULT_OK, own)
        settle()
        see("This file cannot be taken")
    }

    @Test
    fun `stopping on the way, and not now, leave everything as it was`() {
        core { Samples.fill(it, NOW_MS) }
        backedUp("good.zip")
        openBench(fill = false)
        tap("Merge")
        tap("Choose a backup")
        midway(Intent.ACTION_OPEN_DOCUMENT, "good.zip", "Reading the backup…") { press("Cancel") }
        see("Choose a backup")
        choose("good.zip")
        see("Backup made today")
        tap("Not now")
        see("Choose a backup")
        assertEquals(0, Wishes.of(app).generation)
        assertFalse(app.cacheDir.resolve("incoming.zip").exists())
    }

    @Test
    fun `how far it is`() {
        openBench()
        tap("Restore")
        val here = core { it.holding() }
        for ((stage, name) in listOf(Taking.COPYING to "restore-running", Taking.FINISHING to "restore-finishing")) {
            val state = TakeState(stage, Progress(81_000_000, 312_000_000, true), null, here, 0, METRIC, NOW_MS)
            dressed(name) { frozen { page, host -> RestoreScreen(host, Bundle(), Bundle()).draw(page, state) } }
        }
    }
}
