package org.shimwright.swap

import android.view.KeyEvent
import android.view.WindowManager
import org.junit.Assert.assertEquals
import org.junit.Assert.assertNotEquals
import org.junit.Test
import org.shimwright.core.FittingReason
import org.shimwright.core.Side
import org.shimwright.testing.LookTest
import org.shimwright.testing.Samples

class SwapTest : LookTest() {
    private var bow = 0L

    /** The guide from pair B left to pair C right, at its first step. */
    private fun begin() {
        core { bow = Samples.fill(it, NOW_MS).second[1] }
        core { it.startSwap(bow, Samples.both("C", Side.RIGHT), FittingReason.OWN_CHOICE, null, NOW_MS) }
        open()
        tap("Heron")
        tap("Go on with the swap")
    }

    /** Confirms steps until [title] shows; answers "as recorded" on the way where [asRecorded]. */
    private fun goOnTo(title: String, asRecorded: Boolean = false) {
        repeat(MOST_STEPS) {
            if (read().contains(title)) return
            check(confirmStep(asRecorded)) { "no way on from:\n${read()}" }
        }
        see(title)
    }

    @Test
    fun `a step in large type, cautions first, the phone awake`() {
        begin()
        assertNotEquals(0, shell.window.attributes.flags and WindowManager.LayoutParams.FLAG_KEEP_SCREEN_ON)
        see("Put every arrow away")
        dressed("swap-first")
        goOnTo("Lay out the pieces")
        photographed("swap-lay-out")
        goOnTo("Press the bow evenly")
        dressed("swap-press", full = true)
    }

    @Test
    fun `as recorded to the end writes the fitting`() {
        begin()
        goOnTo("What came out: top axle?")
        dieAndReturn()
        see("What came out: top axle?")
        dressed("swap-found")
        goOnTo("Set the spacers of pair C", asRecorded = true)
        see("Left: thin, 1.90 mm, marked “one dot”. Right: thick, 2.50 mm, marked “two dots”.")
        see("string side toward you")
        dressed("swap-set")
        goOnTo("Spin both cams", asRecorded = true)
        see("A bow whose cam binds or slides must not be drawn")
        dressed("swap-spin")
        goOnTo("The swap is done and recorded", asRecorded = true)
        see("Some 20 shots")
        see("Cam timing, Cam lean, Peep, Centre shot, Vane clearance, Sight")
        see("the field-point group moved")
        dressed("swap-over")
        tap("To the bow")
        see("Pair C, thick side right, on both axles")
        assertEquals(Samples.both("C", Side.RIGHT), core { it.fitted(bow) }?.fitting)
    }

    @Test
    fun `something else inside corrects the record and closes the bow`() {
        begin()
        goOnTo("What came out: top axle?")
        tap("Something else")
        dressed("swap-something-else")
        tap("A: 1.30 and 3.10")
        tap("left")
        dieAndReturn()
        tap("This was inside")
        see("The record was wrong and is corrected")
        dressed("swap-corrected")
        goOnTo("The swap is done and recorded", asRecorded = true)
        tap("To the bow")
        assertEquals(Samples.seat("A", Side.LEFT), core { it.fitted(bow) }?.fitting?.top)
    }

    @Test
    fun `two pieces that are no pair are refused in words, or recorded as found`() {
        begin()
        goOnTo("What came out: top axle?")
        tap("Something else")
        type("Left piece", "2.8")
        tap("These were inside")
        see("What came out: top axle?")
        type("Right piece", "1.3 mm")
        tap("These were inside")
        see("These two are no pair of this kit")
        dieAndReturn()
        photographed("swap-no-pair")
        tap("They were inside: record it")
        notSee("These two are no pair of this kit")
    }

    @Test
    fun `one piece measured where it sits tells the pair`() {
        begin()
        goOnTo("What came out: top axle?")
        tap("Something else")
        tap("left", nth = 1)
        see("Its thickness")
        type("Its thickness", "2.2")
        tap("This piece was inside")
        see("A piece of 2.20 mm does not show which pair it belongs to")
        type("Its thickness", "3.1")
        dieAndReturn()
        photographed("swap-one-piece")
        tap("This piece was inside")
        see("The record was wrong and is corrected")
        goOnTo("The swap is done and recorded", asRecorded = true)
        assertEquals(Samples.seat("A", Side.LEFT), core { it.fitted(bow) }?.fitting?.top)
    }

    @Test
    fun `shoulders alone are recorded as a side whose pair is unknown`() {
        begin()
        goOnTo("What came out: top axle?")
        tap("Something else")
        tap("right", nth = 2)
        dieAndReturn()
        photographed("swap-shoulders")
        tap("Thick side known, pair unknown")
        see("Set the spacers of pair C")
        goOnTo("The swap is done and recorded", asRecorded = true)
        tap("To the bow")
        tap("History")
        see("Thick side other than recorded, pair unknown")
        see("Thick piece right, pair not identified (top axle)")
    }

    @Test
    fun `the second half of a double tap confirms no step`() {
        begin()
        rest(1000)
        tap("Done, next")
        see("step 2 of")
        tap("No damage, next")
        see("step 2 of")
        rest(1000)
        tap("No damage, next")
        see("step 3 of")
    }

    @Test
    fun `what can hurt wants a press and hold`() {
        begin()
        goOnTo("Press the bow evenly")
        rest(1000)
        tap("Press and hold: Slack and even")
        see("Press the bow evenly")
        hold("Press and hold: Slack and even")
        see("Take out one screw")
    }

    @Test
    fun `an overview shows what is done, due and to come`() {
        begin()
        goOnTo("Press the bow evenly")
        tap("All steps")
        see("5. Photograph string and cables (done)")
        see("6. Press the bow evenly (now)")
        see("25. Release the press slowly")
        dieAndReturn()
        dressed("swap-overview")
        tap("Back to the step")
        see("Press the bow evenly")
    }

    @Test
    fun `it stops with a warning and goes on where it was`() {
        begin()
        goOnTo("Press the bow evenly")
        tap("Stop here")
        see("Stop in the middle of the swap?")
        dieAndReturn()
        dressed("swap-stopping")
        tap("Go on later")
        see("Go on with the swap")
        dieAndReturn()
        tap("Go on with the swap")
        see("Press the bow evenly")
        tap("Back")
        see("Photograph string and cables")
    }

    @Test
    fun `Back is a step back, and from the first step the question whether to stop`() {
        begin()
        goOnTo("Read the bow maker’s instructions")
        goBack()
        see("Look the bow over for damage")
        dieAndReturn()
        goBack()
        see("Put every arrow away")
        goBack()
        see("Stop in the middle of the swap?")
        goBack()
        see("Put every arrow away")
        goBack()
        tap("Go on later")
        see("do not draw, do not shoot")
    }

    @Test
    fun `a volume key confirms a step with gloves on, but no step that loads the limbs`() {
        begin()
        volumeKey()
        see("Look the bow over for damage")
        goOnTo("Press the bow evenly")
        volumeKey()
        see("Press the bow evenly")
    }

    private fun volumeKey() {
        shell.onKeyDown(KeyEvent.KEYCODE_VOLUME_DOWN, KeyEvent(KeyEvent.ACTION_DOWN, KeyEvent.KEYCODE_VOLUME_DOWN))
        settle()
    }

    @Test
    fun `undone before the bow was opened, nothing has changed`() {
        begin()
        goOnTo("Press the bow evenly")
        tap("Stop here")
        tap("Put back what was in it")
        assertEquals(Samples.both("B", Side.LEFT), core { it.fitted(bow) }?.fitting)
    }

    @Test
    fun `undone half way, the guide leads back`() {
        begin()
        goOnTo("Axle fully home: bottom axle", asRecorded = true)
        tap("Stop here")
        tap("Put back what was in it")
        see("Putting back what was in it")
        goOnTo("The swap is done and recorded", asRecorded = true)
        assertEquals(Samples.both("B", Side.LEFT), core { it.fitted(bow) }?.fitting)
    }

    private companion object {
        const val MOST_STEPS = 60
    }
}
