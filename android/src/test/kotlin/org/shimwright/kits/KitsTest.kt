package org.shimwright.kits

import org.junit.Assert.assertEquals
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
        see("each pair adds up to 4.40 mm")
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
    fun `a kit is put away and taken out again`() {
        openKits()
        tap("Change kit Workbench 4.4")
        tap("Put this kit away")
        see("Kit put away.")
        see("Put away")
        dieAndReturn()
        goBack()
        goBack()
        tap("Add a bow")
        notSee("Workbench 4.4")
        goBack()
        tap("Bench")
        tap("Kits and stock")
        tap("Change kit Workbench 4.4")
        tap("Use this kit again")
        notSee("Put away")
    }

    @Test
    fun `the thick piece is worked out from the total`() {
        open()
        tap("Add a kit")
        type("Name of the kit", "Loose drawer")
        type("Total of every pair", "4.4")
        typeInto("thin0", "1.9")
        dieAndReturn()
        tap("Save")
        assertEquals(2.5, core { it.kits() }.single().record.kit.pairs.single().thickMm, 1e-9)
    }

    @Test
    fun `a new kit asks for thicknesses only, and a mark alone makes no pair`() {
        open()
        tap("Add a kit")
        notSee("Mark on the thin piece")
        dressed("kit-new")
        type("Name of the kit", "Loose drawer")
        type("Total of every pair", "4.4")
        typeInto("thin0", "1.9")
        tap("Name, marks and count (optional)", nth = 1)
        typeInto("thin_mark1", "one dot")
        tap("Save")
        see("A figure is needed here")
        typeInto("thin1", "1.6")
        tap("Save")
        assertEquals(listOf("", "one dot"), core { it.kits() }.single().record.kit.pairs.map { it.thinMark })
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
