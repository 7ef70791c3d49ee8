package org.shimwright.testing

import org.junit.Test

/** The whole way from an empty phone to a bow with something fitted, by hand. */
class JourneyTest : ShellTest() {
    @Test
    fun `a kit, a bow, and what is fitted in it`() {
        open()
        see("Three steps lead to the first verdict")
        tap("Add a kit")
        type("Name of the kit", "Workbench 4.4")
        type("Total of every pair", "4,4")
        typeInto("thin0", "1.9")
        tap("Save")
        see("✓ 1. The kit")
        tap("Add a bow")
        tap("Save")
        see("Give it a name")
        type("Name", "Heron")
        type("Axle to axle", "33 in")
        dieAndReturn()
        tap("Save")
        see("Which pair sits on each axle?")
        tap("A: 1.90 and 2.50")
        tap("left")
        see("Pair A, thick side left, on both axles")
        tap("Save")
        see("Pair A, thick side left, on both axles")
        see("838.2 mm")
        goBack()
        see("1 bow")
        see("trial due")
    }
}
