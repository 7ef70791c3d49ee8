package org.shimwright.bow

import org.junit.Test
import org.shimwright.testing.LookTest
import org.shimwright.testing.Samples

class BowTest : LookTest() {
    private fun openBow(name: String) {
        core { Samples.fill(it, NOW_MS) }
        open()
        tap(name)
    }

    @Test
    fun `a bow says what is fitted, why, and what to do next`() {
        openBow("Alder 33")
        see("Pair C, thick side right, on both axles")
        dieAndReturn()
        see("Pair C, thick side right, on both axles")
        dressed("bow")
    }

    @Test
    fun `a bow whose swap is half done leads back to it`() {
        openBow("Club loan 4")
        see("Go on with the swap")
        notSee("Fitted without the guide")
        dressed("bow-half-done")
    }

    @Test
    fun `a bow without a kit asks for one`() {
        core { it.addBow(Samples.bow("Wren", null), null, NOW_MS) }
        open()
        tap("Wren")
        see("Nobody has said what is fitted")
        dressed("bow-unknown")
        tap("Choose its kit")
        see("Axle to axle")
    }

    @Test
    fun `the details of a bow`() {
        openBow("Alder 33")
        tap("Details and kit")
        type("Owner", "club house")
        dieAndReturn()
        dressed("details")
        type("Axle to axle", "a yard or so")
        tap("Save")
        see("A figure is needed here")
        type("Axle to axle", "33 1/2 in")
        tap("Save")
        see("850.9 mm")
        see("Left-hand · club house")
    }

    @Test
    fun `what is fitted can be said without the guide`() {
        openBow("Heron")
        tap("Fitted without the guide")
        dieAndReturn()
        dressed("fitted")
        tap("A: 1.30 and 3.10")
        tap("Save")
        see("Pair A, thick side left, on both axles")
    }

    @Test
    fun `a change is recorded with its new place`() {
        openBow("Heron")
        tap("Something was changed")
        tap("Rest moved")
        dieAndReturn()
        dressed("change")
        type("The rest now stands at", "-1,5")
        tap("Save")
        see("-1.5 mm")
    }

    @Test
    fun `a bow leaves the rack only after a question and can return`() {
        openBow("Heron")
        tap("Take off the rack")
        sayYes()
        see("3 bows")
        typeInto("search", "heron")
        tap("Heron")
        tap("Put back on the rack")
        typeInto("search", "")
        see("4 bows")
    }
}
