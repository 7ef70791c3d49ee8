package org.shimwright.verdict

import org.junit.Test
import org.shimwright.core.ArrowKind
import org.shimwright.core.FittingReason
import org.shimwright.core.Side
import org.shimwright.testing.LookTest
import org.shimwright.testing.Samples
import org.shimwright.testing.Shots

/** Verdicts over the real core: what was shot decides what the screen says. */
class VerdictTest : LookTest() {
    private fun heron(): Long = core { Samples.fill(it, NOW_MS) }.second[1]

    private fun shot(xMm: Double, yMm: Double = 0.0, each: Int = 4): Long {
        val bow = heron()
        core { Shots.shoot(it, bow, Shots.face(xMm, yMm, each = each), NOW_MS) }
        open()
        tap("Heron")
        return bow
    }

    @Test
    fun `a clear split asks for other spacers and leads into the swap`() {
        shot(xMm = 61.0)
        tap("Ask for the verdict")
        see("thick side right, on both axles")
        see("Bare shafts land 61 mm right of fletched")
        see("After the swap expect")
        see("not yet seen on this bow")
        dressed("verdict")
        dieAndReturn()
        see("What would change the answer")
        tap("Start the swap")
        see("step 1 of")
    }

    @Test
    fun `a split inside the tolerance is left alone`() {
        shot(xMm = 4.0)
        tap("Ask for the verdict")
        see("Leave the spacers as they are")
        photographed("verdict-keep")
        tap("Keep it")
        see("settled")
    }

    @Test
    fun `too few arrows ask for more`() {
        shot(xMm = 40.0, each = 1)
        tap("Ask for the verdict")
        see("are needed")
        photographed("verdict-more")
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
    fun `broadheads are spoken of as broadheads`() {
        val bow = heron()
        core { Shots.shoot(it, bow, Shots.face(-48.0, kind = ArrowKind.BROADHEAD), NOW_MS) }
        open()
        tap("Heron")
        tap("Ask for the verdict")
        see("Broadheads land 48 mm left of fletched")
    }
}
