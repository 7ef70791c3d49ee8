package org.shimwright.bow

import org.junit.Assert.assertEquals
import org.junit.Test
import org.shimwright.core.Side
import org.shimwright.testing.LookTest
import org.shimwright.testing.Samples

/** A swap from before the record counts as a before and after, as far as somebody is sure of it. */
class RememberTest : LookTest() {
    @Test
    fun `a swap from memory is written down, and forgotten`() {
        val heron = core { Samples.fill(it, NOW_MS) }.second[1]
        open()
        tap("Heron")
        tap("A swap from memory")
        tap("A")
        tap("left")
        tap("C", nth = 1)
        tap("right", nth = 1)
        type("By about", "far")
        tap("Save")
        see("A figure is needed here")
        type("By about", "40")
        type("Give or take", "15 mm")
        type("Distance", "20 yd")
        dieAndReturn()
        dressed("remember")
        tap("Save")
        see("moved 40 mm left, give or take 15 mm, at 18.3 m")
        val swap = core { it.bowPage(heron).bow.details.remembered }.single()
        assertEquals(Samples.both("A", Side.LEFT) to Samples.both("C", Side.RIGHT), swap.from to swap.to)
        assertEquals(listOf(-40.0, 15.0, 18.288), listOf(swap.movedMm, swap.sdMm, swap.distanceM))
        photographed("remember-known")
        tap("Forget this swap")
        assertEquals(0, core { it.bowPage(heron).bow.details.remembered }.size)
    }
}
