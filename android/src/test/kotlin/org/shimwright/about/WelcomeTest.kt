package org.shimwright.about

import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.annotation.Config
import org.shimwright.core.LengthUnit
import org.shimwright.frame.Wishes
import org.shimwright.home.wayToBow
import org.shimwright.testing.LookTest
import org.shimwright.testing.Samples
import java.util.Locale

/** The first start. */
class WelcomeTest : LookTest() {
    @Test
    fun `a newcomer reads the cautions and chooses units once`() {
        open(newcomer = true)
        see("What can hurt")
        tap("in")
        dieAndReturn()
        dressed("welcome")
        tap("Understood")
        see("Three steps lead to the first verdict")
        assertTrue(Wishes.of(app).cautionsRead)
        assertEquals(LengthUnit.INCH, core { it.settings().lengthUnit })
        dieAndReturn()
        notSee("What can hurt")
    }

    @Test
    fun `who comes by a shortcut reads them too, and Back does not skip them for good`() {
        val bow = core { Samples.fill(it, NOW_MS) }.second[1]
        open(wayToBow(app, bow), newcomer = true)
        see("What can hurt")
        goBack()
        see("Heron")
        assertFalse(Wishes.of(app).cautionsRead)
        open(newcomer = true)
        see("What can hurt")
    }

    @Test
    @Config(qualifiers = "en-rUS")
    fun `an inch country is offered inches`() {
        Locale.setDefault(Locale.US)
        open(newcomer = true)
        tap("Understood")
        assertEquals(LengthUnit.INCH, core { it.settings().lengthUnit })
    }
}
