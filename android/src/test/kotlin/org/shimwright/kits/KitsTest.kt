package org.shimwright.kits

import org.junit.Test
import org.shimwright.testing.LookTest
import org.shimwright.testing.Samples

class KitsTest : LookTest() {
    private fun openKits() {
        core { Samples.fill(it, NOW_MS) }
        open()
        tap("Bench")
        tap("Kits and stock")
    }

    @Test
    fun `the kits say how much of each pair is on the shelf`() {
        openKits()
        see("every pair adds up to 4.40 mm")
        dieAndReturn()
        dressed("kits")
    }

    @Test
    fun `a pair that does not add up is refused in words and nothing typed is lost`() {
        openKits()
        tap("Change kit Workbench 4.4")
        typeInto("thick1", "2.9")
        dieAndReturn()
        tap("Save")
        see("Pair B adds up to 4.50 mm, not to the kit’s total")
        dressed("kit")
        typeInto("thick1", "2.82")
        typeInto("sets1", "5")
        tap("Save")
        see("of 5 on the shelf")
        see("B: 1.60 and 2.82 mm")
    }

    @Test
    fun `a pair that sits in a bow stays in the kit`() {
        openKits()
        tap("Change kit Workbench 4.4")
        typeInto("pair2", "Z")
        tap("Save")
        see("Pair C is in the record of a bow")
    }

    @Test
    fun `a figure that cannot be read is marked where it stands`() {
        open()
        tap("Add a kit")
        type("Name of the kit", "Loose drawer")
        type("Total of every pair", "four")
        typeInto("thin0", "1.9")
        tap("Save")
        see("Add a pair")
        dressed("kit-unread")
    }
}
