package org.shimwright.keep

import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import org.shimwright.core.BackupUse
import org.shimwright.core.PhotoRef
import org.shimwright.frame.Wishes
import org.shimwright.testing.Papers
import org.shimwright.testing.Samples
import org.shimwright.testing.Shots
import java.io.File

class StorageTest : Keeping() {
    private fun photo(name: String, ageDays: Long, bytes: Int = 1_300_000) = File(photos, name).apply {
        writeBytes(ByteArray(bytes) { it.toByte() })
        setLastModified(NOW_MS - ageDays * DAY_MS)
    }

    @Test
    fun `what nothing uses goes after a question, and what a trial uses or is young stays`() {
        val heron = core { Samples.fill(it, NOW_MS) }.second[1]
        val used = photo("$NOW_MS-0.jpg", 30)
        core { Shots.shoot(it, heron, Shots.face(12.0).copy(photo = PhotoRef(used.name, 4000u, 3000u)), NOW_MS) }
        core { Shots.shoot(it, heron, Shots.face(12.0).copy(photo = PhotoRef("$NOW_MS-7.jpg", 4000u, 3000u)), NOW_MS) }
        val (old, young) = photo("$NOW_MS-1.jpg", 30) to photo("$NOW_MS-2.jpg", 2)
        openBench(fill = false)
        see("photographs: 1 · 1.3 MB")
        tap("Storage")
        see("2 · 2.6 MB")
        see("1 photograph of a trial is not on this phone")
        dieAndReturn()
        tap("Remove what nothing uses")
        assertTrue(old.exists())
        sayYes()
        see("Removed: 1 · 1.3 MB")
        tap("500 MB")
        assertEquals(500_000_000L, Wishes.of(app).photoBudget)
        assertFalse(old.exists())
        assertTrue(used.exists() && young.exists())
        dressed("storage")
    }

    @Test
    fun `an earlier workshop is put back or deleted, each after a question`() {
        core { Samples.fill(it, NOW_MS) }
        backedUp("before.zip")
        core { shop ->
            Shots.shoot(shop, shop.rack("heron").single().bowId, Shots.face(61.0), NOW_MS)
            shop.beginTaking(Papers.file("before.zip").path, BackupUse.RESTORE, photos.path).use { shop.finishTaking(it) }
        }
        aside(workshopFile).forEach { File(it.path).setLastModified(NOW_MS - DAY_MS) }
        File(app.filesDir, "bench.workshop.damaged-1").apply { writeText("no workshop") }.setLastModified(NOW_MS - 9 * DAY_MS)
        openBench(fill = false)
        tap("Storage")
        see("Replaced by a backup")
        see("Damaged, set aside")
        dressed("storage-aside")
        tap("Delete", nth = 1)
        sayYes()
        notSee("Damaged, set aside")
        tap("Put it back")
        sayYes()
        see("The earlier workshop is back")
        assertEquals(1, core { it.holding() }.trials.toInt())
    }

    private companion object {
        const val DAY_MS = 86_400_000L
    }
}
