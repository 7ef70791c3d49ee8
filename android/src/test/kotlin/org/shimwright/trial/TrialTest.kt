package org.shimwright.trial

import org.junit.Assert.assertEquals
import org.junit.Assert.assertNotNull
import org.junit.Assert.assertNull
import org.junit.Assert.assertTrue
import org.junit.Test
import org.shimwright.core.ArrowKind
import org.shimwright.core.Exclusion
import org.shimwright.core.Trial
import org.shimwright.testing.Handed
import org.shimwright.testing.Photographing
import org.shimwright.testing.Samples
import org.shimwright.testing.Shots

/** A trial that was recorded wrongly is put right, in every way it can be wrong. */
class TrialTest : Photographing() {
    private var bow = 0L

    private fun openTrial() {
        bow = core { Samples.fill(it, NOW_MS) }.second[1]
        core { Shots.shoot(it, bow, Shots.face(61.0), NOW_MS) }
        open()
        tap("Heron")
        tap("History")
        tap("Shot at a face")
    }

    private fun trial(): Trial = core { it.trials(bow) }.single()

    @Test
    fun `its distance is corrected, and the correction taken back`() {
        openTrial()
        tap("Correct this trial")
        type("Distance", "30 m")
        type("Note", "wind from the left")
        dieAndReturn()
        dressed("trial-correct")
        tap("Save")
        see("Shot at a face, 30 m")
        see("wind from the left")
        assertEquals(30.0, trial().shot.distanceM, 1e-9)
        see("Trial corrected.")
        tap("Undo")
        assertEquals(18.288, trial().shot.distanceM, 1e-9)
        see("Shot at a face, 18.3 m")
    }

    @Test
    fun `it is struck, stays in the history, and counts again by undo`() {
        openTrial()
        tap("Strike this trial")
        see("Struck from the record")
        see("Trial struck.")
        photographed("trial-struck")
        tap("Undo")
        assertNull(trial().struckMs)
        tap("Strike this trial")
        dieAndReturn()
        goBack()
        see("struck, counts for nothing")
        goBack()
        see("trial due")
    }

    @Test
    fun `an arrow of the wrong kind is corrected`() {
        openTrial()
        tap("Change to ○ bare")
        assertEquals(ArrowKind.BARE, trial().shot.impacts.first().kind)
        tap("Undo")
        assertEquals(ArrowKind.FLETCHED, trial().shot.impacts.first().kind)
    }

    @Test
    fun `a trial shot with another bow finds its own`() {
        openTrial()
        tap("Shot with another bow")
        see("Which bow was it shot with?")
        dieAndReturn()
        tap("Marsh hen")
        see("Marsh hen")
        assertTrue(core { it.trials(bow) }.isEmpty())
        see("Moved to the other bow.")
        tap("Undo")
        assertEquals(1, core { it.trials(bow) }.size)
        see("Heron")
    }

    @Test
    fun `a tear is left out with its reason`() {
        bow = core { Samples.fill(it, NOW_MS) }.second[1]
        core { it.saveTrial(bow, Shots.paper(-20.0, 4.0), NOW_MS) }
        open()
        tap("Heron")
        tap("History")
        tap("Shot through paper")
        tap("Leave it out")
        tap("touched something")
        see("left out: touched something")
        assertEquals(Exclusion.CONTACT, trial().shot.tears.first().excluded)
    }

    @Test
    fun `its photograph shows its marks and is measured again`() {
        bow = core { Samples.fill(it, NOW_MS) }.second[1]
        core { it.passOpenChecks(bow, NOW_MS) }
        open()
        tap("Heron")
        tap("Record shots")
        type("Distance", "20 yd")
        photographed(demo("before.jpg"))
        tap("Group B")
        tap("Save")
        goBack()
        tap("History")
        tap("Shot at a face")
        dressed("trial-photo-doors")
        tap("with its marks")
        dieAndReturn()
        photographed("trial-photo")
        tap("Share this photograph")
        val lent = Handed.by(shell)
        assertEquals("image/jpeg", lent.intent.type)
        assertEquals("Heron 2026-10-14.jpg", lent.address.lastPathSegment)
        val shared = checkNotNull(app.contentResolver.openInputStream(lent.address)).use { it.readBytes() }
        // The maker of the camera stands in the file, and stays here.
        assertTrue("Lumen" in demo("before.jpg").decodeToString() && "Lumen" !in shared.decodeToString())
        goBack()
        tap("Measure the photograph again")
        see("6 of 6 found")
        dieAndReturn()
        see("6 of 6 found")
        goBack()
        see("A4 found")
        tap("Mark the holes")
        tap("Save")
        assertNotNull(trial().shot.plane?.marked)
        assertEquals(6, trial().shot.impacts.count { it.snapped })
        app.filesDir.resolve("photos").resolve(checkNotNull(trial().shot.photo).file).delete()
        goBack()
        tap("History")
        tap("Shot at a face")
        tap("with its marks")
        see("The photograph is gone")
    }
}
