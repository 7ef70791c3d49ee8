package org.shimwright.checks

import org.junit.Test
import org.shimwright.core.CheckItem
import org.shimwright.core.FittingReason
import org.shimwright.core.Side
import org.shimwright.testing.LookTest
import org.shimwright.testing.Samples
import org.shimwright.testing.Shots

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
        tap("OK")
        goBack()
        dieAndReturn()
        see("OK")
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
        tap("OK")
        see("That is not a figure")
        type("Measured", "33 in")
        dieAndReturn()
        photographed("check-measured")
        tap("OK")
        goBack()
        see("838.2 mm")
    }

    @Test
    fun `cam timing says which cam comes late, and by how much`() {
        openChecks()
        tap("Cam timing")
        type("Note", "after the new string")
        tap("top cam late")
        dieAndReturn()
        tap("bottom cam late")
        type("Measured", "1")
        tap("Not OK")
        see("1 mm, today 09:40, bottom cam late")
        see("after the new string")
        notSee("top cam late")
    }

    @Test
    fun `a figure outside what the maker states stands as not right, with both`() {
        openChecks()
        tap("4. Brace height")
        see("What the bow maker states is not entered")
        tap("Enter the bow maker")
        type("Measured", "160")
        type("Bow maker, from", "168")
        type("Bow maker, to", "162")
        tap("OK")
        see("This is below the figure it should start from")
        type("Bow maker, from", "162")
        type("Bow maker, to", "168")
        dieAndReturn()
        tap("OK")
        // It was not taken as OK, and the page says why.
        see("160 mm is not what the bow maker states")
        goBack()
        see("160 mm, bow maker: 162 mm to 168 mm")
        tap("4. Brace height")
        dressed("check-outside")
        goBack()
        goBack()
        see("1 not OK")
    }

    @Test
    fun `a swap opens its checks again and says so`() {
        core {
            val bow = Samples.fill(it, NOW_MS).second[1]
            it.passOpenChecks(bow, NOW_MS)
            it.startSwap(bow, Samples.both("C", Side.RIGHT), FittingReason.OWN_CHOICE, null, NOW_MS)
            Shots.finishSwap(it, bow, NOW_MS)
        }
        open()
        tap("Heron")
        see("8 still open")
        tap("Set-up checks")
        see("again after the swap")
        see("Some 20 shots")
        see("the field-point group moved")
        dressed("checks-after-swap")
        tap("All are OK")
        sayYes()
        see("all looked at and OK")
    }

    @Test
    fun `damage stops the bow and shows on its page`() {
        openChecks()
        tap("Next check")
        tap("Not OK")
        goBack()
        see("See what is not OK")
        see("1 not OK")
    }

    @Test
    fun `after the last check the verdict that waited for it is given anew by itself`() {
        val bow = core { Samples.fill(it, NOW_MS) }.second[1]
        core { it.saveTrial(bow, Shots.face(61.0), NOW_MS) }
        open()
        tap("Heron")
        tap("Ask for the verdict")
        see("Look at this first")
        tap("See the check")
        val checks = CheckItem.entries.size
        repeat(checks) { done ->
            if (done == checks / 2) dieAndReturn()
            tap("OK")
        }
        see("thick side right, on both axles")
        notSee("Ask for a new verdict")
    }

    @Test
    fun `a change makes the verdict stale everywhere it is offered`() {
        val bow = core { Samples.fill(it, NOW_MS) }.second[1]
        core { Shots.shoot(it, bow, Shots.face(61.0), NOW_MS) }
        open()
        tap("Heron")
        tap("Ask for the verdict")
        goBack()
        tap("Record a change")
        tap("Rest moved")
        type("The rest now stands at", "1")
        dieAndReturn()
        tap("Save")
        see("the bow was changed since")
        see("Record shots") // What was moved is shot before it is judged.
        tap("Last verdict")
        tap("Ask for a new verdict")
        notSee("Ask for a new verdict")
    }

    @Test
    fun `all open checks pass at once only after a question`() {
        openChecks()
        tap("All are OK")
        sayYes()
        see("all looked at and OK")
    }
}
