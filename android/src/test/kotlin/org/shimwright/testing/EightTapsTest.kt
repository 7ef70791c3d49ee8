package org.shimwright.testing

import org.junit.Assert.assertTrue
import org.junit.Test

/** The frequent job, gloves on: from the rack to a verdict on three fletched and three bare holes of one photograph. */
class EightTapsTest : Photographing() {
    @Test
    fun `eight taps at most, the shutter and the camera's own yes included`() {
        val bow = core { Samples.fill(it, NOW_MS) }.second[1]
        // Shot before, from the same place: what was entered then is offered again.
        core { Shots.shoot(it, bow, Shots.face(61.0, each = 3), NOW_MS) }
        open()
        val before = taps
        tap("Heron")
        tap("Record shots")
        photographed(demo("before.jpg"))
        tap("Group B")
        tap("Save")
        see("Bare shafts land")
        val made = taps - before + SHUTTER_AND_YES
        assertTrue("$made taps", made <= MOST)
        println("taps from the rack to the verdict: $made (at most $MOST)")
    }

    private companion object {
        const val MOST = 8
        const val SHUTTER_AND_YES = 2
    }
}
