package org.shimwright.rack

import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import org.shimwright.frame.Wishes
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
    fun `bows open on the press stand first, and the rack shows one kind alone`() {
        core { Samples.fill(it, NOW_MS) }
        open()
        val names = listOf("Club loan 4", "Alder 33", "Heron", "Marsh hen")
        assertEquals(names, read().lines().filter { it in names })
        tap("Half done 1")
        see("1 bow")
        dieAndReturn()
        notSee("Heron")
        tap("All 4")
        tap("Heron")
        tap("Take off the rack")
        tap("Off the rack")
        see("Heron")
        notSee("Alder 33")
        photographed("rack-off")
    }

    @Test
    fun `a rack whose bows are all off it shows them, and the rack again once one is back`() {
        core { shop -> shop.addBow(Samples.bow("Wren", null), null, NOW_MS).id.let { shop.archiveBow(it, true, NOW_MS) } }
        open()
        see("Every bow is off the rack.")
        notSee("No bow on the rack yet")
        dressed("rack-all-off")
        tap("Wren")
        tap("Put back on the rack")
        see("kit not chosen")
        notSee("Off the rack")
        tap("Wren")
        tap("Take off the rack")
        tap("Undo")
        core { Samples.fill(it, NOW_MS) }
        tap("Wren")
        tap("Take off the rack")
        tap("Off the rack 1")
        tap("Wren")
        tap("Put back on the rack")
        see("5 bows")
        see("Heron")
    }

    @Test
    fun `camp red is one tap away, and so is the day`() {
        core { Samples.fill(it, NOW_MS) }
        open()
        tap("Switch to camp red")
        assertTrue(Wishes.of(app).camp)
        tap("Leave camp red")
        assertFalse(Wishes.of(app).camp)
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
        see("Nothing found.")
        photographed("rack-none")
    }
}
