package org.shimwright.checks

import org.junit.Test
import org.shimwright.testing.LookTest
import org.shimwright.testing.Samples

class ChecksTest : LookTest() {
    private fun openChecks() {
        core { Samples.fill(it, NOW_MS) }
        open()
        tap("Heron")
        tap("Set-up checks")
    }

    @Test
    fun `the checks stand in the order they are worked`() {
        openChecks()
        see("1. Limb damage")
        tap("Next check")
        tap("Right")
        goBack()
        dieAndReturn()
        see("Right")
        dressed("checks")
    }

    @Test
    fun `a check says what to look for and what can hurt`() {
        openChecks()
        tap("Next check")
        see("A damaged limb can break")
        dressed("check")
    }

    @Test
    fun `a measured check takes a figure and keeps it`() {
        openChecks()
        tap("3. Axle to axle")
        type("Measured", "thirty-three")
        tap("Right")
        see("This is not a figure")
        type("Measured", "33 in")
        dieAndReturn()
        photographed("check-measured")
        tap("Right")
        goBack()
        see("838.2 mm")
    }

    @Test
    fun `damage stops the bow and shows on its page`() {
        openChecks()
        tap("Next check")
        tap("Not right")
        goBack()
        see("See what is not right")
        see("1 not right")
    }

    @Test
    fun `all open checks pass at once only after a question`() {
        openChecks()
        tap("All are right")
        sayYes()
        see("all looked at and right")
    }
}
