package org.shimwright.rack

import org.junit.Test
import org.shimwright.testing.LookTest
import org.shimwright.testing.Samples

class RackTest : LookTest() {
    @Test
    fun `an empty rack teaches the first step`() {
        open()
        see("No bow on the rack yet")
        dieAndReturn()
        dressed("rack-empty")
    }

    @Test
    fun `the rack shows what is fitted and what each bow waits for`() {
        core { Samples.fill(it, NOW_MS) }
        open()
        see("4 bows")
        see("Alder 33")
        dressed("rack")
    }

    @Test
    fun `the search finds as one types and survives the process`() {
        core { Samples.fill(it, NOW_MS) }
        open()
        typeInto("search", "her")
        see("Heron")
        notSee("Alder 33")
        dieAndReturn()
        see("1 bow")
        typeInto("search", "zebra")
        see("No bow answers to that")
    }
}
