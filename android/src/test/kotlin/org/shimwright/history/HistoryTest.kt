package org.shimwright.history

import android.app.AlertDialog
import android.content.DialogInterface
import android.os.Looper
import org.junit.Assert.assertEquals
import org.junit.Test
import org.robolectric.Shadows.shadowOf
import org.robolectric.shadows.ShadowAlertDialog
import org.shimwright.core.ChangeKind
import org.shimwright.core.DistanceUnit
import org.shimwright.core.FittingReason
import org.shimwright.core.LabelText
import org.shimwright.core.LengthUnit
import org.shimwright.core.SetupChange
import org.shimwright.core.Shape
import org.shimwright.core.Side
import org.shimwright.kit.Figures
import org.shimwright.kit.SceneWords
import org.shimwright.kit.Units
import org.shimwright.testing.LookTest
import org.shimwright.testing.Samples
import org.shimwright.testing.Shots

/** A bow's diary after a whole round: shot, judged, swapped, proven. */
class HistoryTest : LookTest() {
    private val start = NOW_MS - DAYS * DAY_MS

    private fun round(): Long {
        val bow = core { Samples.fill(it, start - DAY_MS) }.second[1]
        core { shop ->
            Samples.fixRest(shop, bow, start)
            Shots.shoot(shop, bow, Shots.face(61.0), start)
            val verdict = shop.giveVerdict(bow, start + 1)
            shop.startSwap(bow, Samples.both("C", Side.RIGHT), FittingReason.VERDICT, verdict.id, start + 2)
            Shots.finishSwap(shop, bow, start + HOUR_MS)
            Shots.shoot(shop, bow, Shots.face(9.0), start + 2 * HOUR_MS)
            shop.recordChange(bow, SetupChange(ChangeKind.REST_MOVED, 0.4, "trim after the swap", start + DAY_MS))
            Shots.shoot(shop, bow, Shots.face(-4.0), NOW_MS - HOUR_MS)
        }
        open()
        tap("Heron")
        tap("History")
        return bow
    }

    @Test
    fun `the diary shows the split before and after, and what was foretold`() {
        round()
        see("expected")
        see("1 of 1 inside the 95 % range")
        see("Rest moved")
        dressed("history")
        dieAndReturn()
        see("Verdict: fit other spacers")
        tap("Verdict: fit other spacers")
        see("The bow has been changed since this verdict")
    }

    @Test
    fun `an empty diary teaches what fills it`() {
        core { Samples.fill(it, NOW_MS) }
        open()
        tap("Heron")
        tap("History")
        see("Shoot fletched arrows together with bare shafts")
        photographed("history-new")
    }

    @Test
    fun `an earlier fitting is put back by the guide, after a question`() {
        round()
        tap("Put back an earlier fitting")
        dieAndReturn()
        see("Which one?")
        photographed("history-put-back")
        tap("Pair B, thick side left, on both axles")
        val dialog = ShadowAlertDialog.getLatestDialog() as AlertDialog
        dialog.getButton(DialogInterface.BUTTON_POSITIVE).performClick()
        shadowOf(Looper.getMainLooper()).idle()
        settle()
        see("step 1 of")
    }

    @Test
    fun `an arrow is left out with a reason and taken in again`() {
        round()
        tap("Shot at a face")
        dressed("trial")
        tap("Leave it out")
        dieAndReturn()
        tap("bad shot")
        see("left out: bad shot")
        tap("Take it in again")
        notSee("left out: bad shot")
    }

    @Test
    fun `a change entered wrongly is put right, struck and taken in again`() {
        val bow = round()
        fun lastPlace() = core { shop -> shop.trials(bow).last().setup.restMm }
        tap("Rest moved")
        dieAndReturn()
        see("What was shot since counts as shot so.")
        see("Before: 0 mm")
        type("The rest was moved by", "0.4")
        tap("left")
        tap("Save")
        see("now 0.4 mm left")
        assertEquals(-0.4, lastPlace(), 1e-9)
        tap("Undo")
        see("now 0.4 mm right")
        assertEquals(0.4, lastPlace(), 1e-9)
        tap("Rest moved")
        tap("This was never changed")
        see("Struck from the record")
        assertEquals(0.0, lastPlace(), 1e-9)
        photographed("change-struck")
        tap("Count it again")
        see("What was shot since counts as shot so.")
        assertEquals(0.4, lastPlace(), 1e-9)
        dressed("change-correct")
    }

    @Test
    fun `a chart of several years tells each of them once`() {
        val bow = core { Samples.fill(it, NOW_MS) }.second[1]
        for (daysAgo in listOf(500, 499, 0)) core { Shots.shoot(it, bow, Shots.face(60.0), NOW_MS - daysAgo * DAY_MS) }
        val chart = checkNotNull(core { it.historyPage(bow, 1.0) }.chart)
        val days = chart.items.mapNotNull { (it.shape as? Shape.Label)?.text as? LabelText.Day }
        val words = SceneWords(app, Figures(app, Units(LengthUnit.MILLIMETRE, DistanceUnit.METRE))).apply { begin(chart) }
        assertEquals(listOf("2025", "2026"), days.mapNotNull(words::yearOver))
        open()
        tap("Heron")
        tap("History")
        photographed("history-years")
    }

    private companion object {
        const val HOUR_MS = 3_600_000L
        const val DAY_MS = 24 * HOUR_MS
        const val DAYS = 11
    }
}
