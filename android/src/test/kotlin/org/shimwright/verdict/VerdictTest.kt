package org.shimwright.verdict

import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.shimwright.core.ArrowKind
import org.shimwright.core.ChangeKind
import org.shimwright.core.FittingReason
import org.shimwright.core.Probe
import org.shimwright.core.RestRoom
import org.shimwright.core.SetupChange
import org.shimwright.core.Side
import org.shimwright.testing.LookTest
import org.shimwright.testing.Samples
import org.shimwright.testing.Shots

/** Verdicts over the real core: what was shot decides what the screen says. */
class VerdictTest : LookTest() {
    private fun heron(): Long = core { Samples.fill(it, NOW_MS) }.second[1]

    /** A bow whose rest cannot move. */
    private fun pressOnly(): Long = heron().also { bow -> core { Samples.fixRest(it, bow, NOW_MS) } }

    private fun shot(xMm: Double, yMm: Double = 0.0, each: Int = 4, bow: Long = heron()): Long {
        core { Shots.shoot(it, bow, Shots.face(xMm, yMm, each = each), NOW_MS) }
        open()
        tap("Heron")
        return bow
    }

    @Test
    fun `a clear split tries the rest first, which leads to its place and on to shooting`() {
        val bow = shot(xMm = 61.0)
        tap("Ask for the verdict")
        see("Move the rest")
        see("Put it back if that is worse.")
        see("As it is: under 1 in 100 to be inside 25 mm; after:")
        see("Bare shafts land 61 mm right of field points: real.")
        see("19 times in 20")
        dressed("verdict-trim")
        tap("The rest is moved: record it")
        see("The rest now stands at")
        dieAndReturn()
        tap("Save")
        see("Distance")
        assertEquals(-1.2, core { it.bowPage(bow) }.setup.restMm, 1e-6)
    }

    @Test
    fun `another fitting than the one asked for can be swapped to with the guide, as one's own choice`() {
        val bow = shot(xMm = 61.0, bow = pressOnly())
        tap("Ask for the verdict")
        tap("to be inside the tolerance")
        sayYes()
        see("step 1 of")
        assertEquals(FittingReason.OWN_CHOICE, core { it.swapPage(bow) }.progress.reason)
    }

    @Test
    fun `where the rest cannot move it asks for other spacers, as an experiment, and leads into the swap`() {
        shot(xMm = 61.0, bow = pressOnly())
        tap("Ask for the verdict")
        see("thick side right, on both axles")
        see("this swap is an experiment")
        see("After it expect")
        dressed("verdict", full = true)
        dieAndReturn()
        see("What would change the answer")
        tap("Show the chances")
        see("Chance alone would do that")
        tap("Start the swap")
        see("step 1 of")
    }

    @Test
    fun `a rest that made it worse goes back`() {
        val bow = heron()
        core { shop ->
            Samples.roomForRest(shop, bow, RestRoom(0.8, 0.0), NOW_MS)
            Shots.shoot(shop, bow, Shots.face(40.0), NOW_MS)
            shop.recordChange(bow, SetupChange(ChangeKind.REST_MOVED, -0.8, "", NOW_MS))
            Shots.shoot(shop, bow, Shots.face(72.0), NOW_MS)
        }
        open()
        tap("Heron")
        tap("Ask for the verdict")
        see("Put the rest back")
        photographed("verdict-back")
    }

    @Test
    fun `height comes first, with its direction and its size`() {
        val bow = shot(xMm = 60.0, yMm = -90.0)
        tap("Ask for the verdict")
        see("Nocking point down")
        see("gravity and drag taken off")
        photographed("verdict-height")
        tap("The nocking point is moved: record it")
        tap("Save")
        see("Distance")
        assertTrue(core { it.bowPage(bow) }.setup.nockMm < 0.0)
    }

    @Test
    fun `a split inside the tolerance stops there, and only that settles the bow`() {
        val bow = heron()
        core { Shots.shoot(it, bow, Shots.face(4.0, kind = ArrowKind.BROADHEAD), NOW_MS) }
        shot(xMm = 4.0, bow = bow)
        tap("Ask for the verdict")
        see("Stop here")
        photographed("verdict-stop")
        tap("Done")
        see("settled")
    }

    @Test
    fun `what spacers cannot cure says where to look, and is not settled`() {
        val bow = pressOnly()
        core { shop ->
            shop.recordFitting(bow, Samples.both("A", Side.RIGHT), NOW_MS)
            Shots.shoot(shop, bow, Shots.face(44.0), NOW_MS)
            shop.recordFitting(bow, Samples.both("A", Side.LEFT), NOW_MS)
            Shots.shoot(shop, bow, Shots.face(60.0), NOW_MS)
            shop.recordFitting(bow, Samples.both("A", Side.RIGHT), NOW_MS)
            Shots.shoot(shop, bow, Shots.face(46.0), NOW_MS)
        }
        open()
        tap("Heron")
        tap("Ask for the verdict")
        see("Spacers cannot cure this")
        see("Look at cam timing.")
        dressed("verdict-cannot")
        goBack()
        see("look elsewhere than spacers")
    }

    @Test
    fun `a bow that is likely in is left as it is, with nowhere else to look, and is not settled`() {
        val bow = pressOnly()
        core { shop ->
            shop.saveBow(bow, shop.bowPage(bow).bow.details.copy(priority = listOf(Probe.BARE)), null, NOW_MS)
            repeat(3) { Shots.shoot(shop, bow, Shots.face(23.5), NOW_MS + it) }
        }
        open()
        tap("Heron")
        tap("Ask for the verdict")
        see("Leave it here: more likely inside tolerance than not")
        dressed("verdict-leave")
        tap("Done")
        see("left as it is, likely in")
        see("Record shots")
    }

    @Test
    fun `a height that the nocking point does not move is said, and is not settled`() {
        val bow = heron()
        core { shop ->
            val nocksMm = listOf(0.0, -1.6, -3.2, -3.2)
            for ((round, nockMm) in nocksMm.withIndex()) {
                val atMs = NOW_MS + round * MINUTE_MS
                if (nockMm < 0.0) shop.recordChange(bow, SetupChange(ChangeKind.NOCK_MOVED, nockMm, "", atMs))
                Shots.shoot(shop, bow, Shots.face(4.0, -76.0), atMs + 1)
            }
        }
        open()
        tap("Heron")
        tap("Ask for the verdict")
        see("look elsewhere")
        see("The nocking point was moved for that, and hardly changes it.")
        photographed("verdict-height-stays")
    }

    @Test
    fun `a split that is out only farther away is held against what is allowed there`() {
        val bow = heron()
        core { shop ->
            Shots.shoot(shop, bow, Shots.face(17.0), NOW_MS)
            repeat(2) { Shots.shoot(shop, bow, Shots.face(95.0).copy(distanceM = 45.0), NOW_MS + 1 + it) }
        }
        open()
        tap("Heron")
        tap("Ask for the verdict")
        see("Move the rest")
        see("to be inside 62 mm at 45 m")
        see("At 45 m bare shafts land 95 mm right")
        photographed("verdict-far")
    }

    @Test
    fun `too few arrows ask for more`() {
        shot(xMm = 40.0, each = 1)
        tap("Ask for the verdict")
        see("1 bare shaft and 1 field point shot; 3 of each are needed.")
        photographed("verdict-more")
    }

    @Test
    fun `heads far off in height beside level bare shafts are looked at first`() {
        val bow = heron()
        core { shop ->
            Shots.shoot(shop, bow, Shots.face(3.0), NOW_MS)
            Shots.shoot(shop, bow, Shots.face(4.0, yMm = -75.0, kind = ArrowKind.BROADHEAD), NOW_MS)
        }
        open()
        tap("Heron")
        tap("Ask for the verdict")
        see("Look at the broadheads first")
        see("Weigh and spin-test the heads")
        dressed("verdict-heads", full = true)
    }

    @Test
    fun `after a swap that made it worse a second round comes first`() {
        val bow = pressOnly()
        core { shop ->
            Shots.shoot(shop, bow, Shots.face(60.0), NOW_MS)
            shop.recordFitting(bow, Samples.both("B", Side.RIGHT), NOW_MS)
            Shots.shoot(shop, bow, Shots.face(110.0), NOW_MS)
        }
        open()
        tap("Heron")
        tap("Ask for the verdict")
        see("Confirm the last swap before another one")
        dressed("verdict-confirm", full = true)
    }

    @Test
    fun `two who shoot a bow differently are told apart`() {
        val bow = heron()
        core { shop ->
            Shots.shoot(shop, bow, Shots.face(60.0).copy(shooter = "shop"), NOW_MS)
            Shots.shoot(shop, bow, Shots.face(5.0).copy(shooter = "owner"), NOW_MS)
        }
        open()
        tap("Heron")
        tap("Ask for the verdict")
        see("Bare shafts land 5 mm right of field points")
        see("the last shooter\u2019s land 55 mm left of another\u2019s")
    }

    @Test
    fun `an open check comes before the spacers`() {
        val bow = heron()
        core { it.saveTrial(bow, Shots.face(61.0), NOW_MS) }
        open()
        tap("Heron")
        tap("Ask for the verdict")
        see("Look at this first")
        photographed("verdict-check")
        tap("See the check")
        see("Limb damage")
    }

    @Test
    fun `an older verdict says so and offers a new one`() {
        val bow = shot(xMm = 61.0)
        tap("Ask for the verdict")
        core { it.recordFitting(bow, Samples.both("C", Side.RIGHT), NOW_MS) }
        goBack()
        tap("Last verdict")
        see("The bow has been changed since this verdict")
        tap("Ask for a new verdict")
        notSee("The bow has been changed since this verdict")
    }

    @Test
    fun `while a swap is open no verdict is given, and the words say why`() {
        val bow = shot(xMm = 61.0)
        core { it.startSwap(bow, Samples.both("C", Side.RIGHT), FittingReason.OWN_CHOICE, null, NOW_MS) }
        goBack()
        tap("Heron")
        tap("History")
        tap("Shot at a face")
        tap("Ask for a new verdict")
        see("A swap is under way on this bow")
    }

    @Test
    fun `paper alone is told in tears, in every language`() {
        val bow = heron()
        core { Shots.shoot(it, bow, Shots.paper(-23.0, 3.0), NOW_MS) }
        open()
        tap("Heron")
        tap("Ask for the verdict")
        see("2 m · 3 tears in paper")
        notSee("3 + 3 arrows")
        photographed("verdict-paper")
        reconfigure("de-rDE-w411dp-h891dp-port-notnight-hdpi")
        see("2 m · 3 Risse im Papier")
        reconfigure("fr-rFR-w411dp-h891dp-port-notnight-hdpi")
        see("2 m · 3 déchirures dans le papier")
    }

    @Test
    fun `broadheads are spoken of as broadheads`() {
        val bow = heron()
        core { Shots.shoot(it, bow, Shots.face(-48.0, kind = ArrowKind.BROADHEAD), NOW_MS) }
        open()
        tap("Heron")
        tap("Ask for the verdict")
        see("Broadheads land 48 mm left of field points")
    }

    private companion object {
        const val MINUTE_MS = 60_000L
    }
}
