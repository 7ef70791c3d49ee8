package org.shimwright.bow

import android.view.View
import org.junit.Assert.assertEquals
import org.junit.Assert.assertNull
import org.junit.Test
import org.shimwright.core.ArrowKind
import org.shimwright.core.Probe
import org.shimwright.testing.LookTest
import org.shimwright.testing.Samples
import org.shimwright.testing.Shots

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
        notSee("Changed without the guide")
        see("do not draw, do not shoot")
        dressed("bow-half-done", full = true)
    }

    @Test
    fun `a bow without a kit asks for one`() {
        core { it.addBow(Samples.bow("Wren", null), null, NOW_MS) }
        open()
        tap("Wren")
        see("Fitted pair not recorded")
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
        fun spoken() = root.findViewWithTag<View>("axles").createAccessibilityNodeInfo().error
        assertEquals("A figure is needed here. For example 838; 33 in; 33 1/16 in.", spoken().toString())
        type("Axle to axle", "33 1/2 in")
        assertNull(spoken())
        tap("Save")
        see("850.9 mm")
        see("Left-hand · club house")
    }

    @Test
    fun `a bow has wishes of its own`() {
        openBow("Heron")
        tap("Details and kit")
        type("Tolerance", "1 in")
        type("at a distance of", "30 yd")
        tap("Bare shafts")
        dieAndReturn()
        tap("Save")
        see("25.4 mm")
        val heron = core { shop -> shop.rack("heron").single().bowId.let { shop.bowPage(it).bow.details } }
        assertEquals(25.4, checkNotNull(heron.toleranceMm), 1e-9)
        assertEquals(27.432, checkNotNull(heron.toleranceDistanceM), 1e-9)
        assertEquals(listOf(Probe.BARE, Probe.BROADHEAD, Probe.PAPER), heron.priority)
    }

    @Test
    fun `a settled bow offers the next shots`() {
        val bow = core { Samples.fill(it, NOW_MS) }.second[1]
        core { Shots.shoot(it, bow, Shots.face(4.0), NOW_MS) }
        core { Shots.shoot(it, bow, Shots.face(4.0, kind = ArrowKind.BROADHEAD), NOW_MS) }
        core { it.giveVerdict(bow, NOW_MS) }
        open()
        tap("Heron")
        see("settled")
        dressed("bow-settled")
        tap("Record shots")
        see("Shot at")
    }

    @Test
    fun `what is fitted can be said without the guide`() {
        openBow("Heron")
        tap("Changed without the guide")
        dieAndReturn()
        dressed("fitted")
        tap("A: 1.30 and 3.10")
        tap("Save")
        see("Pair A, thick side left, on both axles")
    }

    @Test
    fun `a change is recorded with its new place`() {
        openBow("Heron")
        tap("Record a change")
        tap("Rest moved")
        dieAndReturn()
        dressed("change")
        type("The rest now stands at", "1,5")
        tap("left", nth = 1)
        see("moved by 1.5 mm left")
        tap("Save")
        see("1.5 mm left")
        tap("Record a change")
        tap("Rest moved")
        see("Before: 1.5 mm left")
        tap("Save")
        see("A figure is needed here")
        type("The rest now stands at", "9")
        type("The rest was moved by", "0.5")
        tap("right")
        see("then it stands at 1 mm left")
        tap("Save")
        see("1 mm left")
        tap("Undo")
        see("1.5 mm left")
    }

    @Test
    fun `another kit asks which of its pairs is in`() {
        val (kit, bows) = core { Samples.fill(it, NOW_MS) }
        val heron = bows[1]
        val twin = core { it.saveKit(null, Samples.kit.copy(name = "Twin 4.4"), emptyList()).id }
        core { it.passOpenChecks(heron, NOW_MS) }
        open()
        tap("Heron")
        tap("Details and kit")
        notSee("Which pair of this kit is in the bow?")
        tap("Twin 4.4")
        see("Which pair of this kit is in the bow?")
        see("Still missing: pair on the top axle")
        dieAndReturn()
        dressed("details-kit")
        tap("Save")
        assertEquals(kit, core { it.fitted(heron)?.kitId })
        tap("B: 1.60 and 2.80")
        tap("left")
        notSee("Still missing")
        tap("Save")
        see("Pair B, thick side left, on both axles")
        assertEquals(twin, core { it.fitted(heron)?.kitId })
        see("still open")
    }

    @Test
    fun `a new bow asks for what it needs, and for the rest at a press`() {
        core { it.saveKit(null, Samples.kit, emptyList()) }
        open()
        tap("Add a bow")
        see("Still missing: Name, Axle to axle")
        notSee("Owner")
        dressed("details-new")
        type("Name", "Wren")
        see("Still missing: Axle to axle")
        tap("Save")
        see("A figure is needed here")
        type("Axle to axle", "838")
        notSee("Still missing")
        tap("More details (optional)")
        type("Owner", "bench")
        tap("Save")
        see("Which pair sits on each axle?")
        see("Still missing: pair on the top axle")
        tap("A: 1.30 and 3.10")
        see("Still missing: thick side on the top axle")
        tap("left")
        tap("Save")
        see("Pair A, thick side left, on both axles")
        see("Right-hand · bench")
    }

    @Test
    fun `a bow taken off the rack can be put back at once or later`() {
        openBow("Heron")
        tap("Take off the rack")
        see("3 bows")
        see("Taken off the rack.")
        tap("Undo")
        see("4 bows")
        tap("Heron")
        tap("Take off the rack")
        typeInto("search", "heron")
        tap("Heron")
        tap("Put back on the rack")
        typeInto("search", "")
        see("4 bows")
    }
}
