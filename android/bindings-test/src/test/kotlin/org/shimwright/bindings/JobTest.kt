package org.shimwright.bindings

import org.junit.Assert.assertEquals
import org.junit.Assert.assertNotNull
import org.junit.Assert.assertTrue
import org.junit.Rule
import org.junit.Test
import org.shimwright.core.ArrowKind
import org.shimwright.core.Call
import org.shimwright.core.FittingReason
import org.shimwright.core.Found
import org.shimwright.core.PhotoRef
import org.shimwright.core.PhotoSession
import org.shimwright.core.PointMm
import org.shimwright.core.PointPx
import org.shimwright.core.Reference
import org.shimwright.core.RestRoom
import org.shimwright.core.StepKind
import org.shimwright.core.Surface
import org.shimwright.core.SwapEvent
import org.shimwright.core.SwapPage
import org.shimwright.core.Tap
import org.shimwright.core.TrialDraft
import org.shimwright.core.TrialImpact
import org.shimwright.core.Waits

/** A trial carried from a photograph's bytes to a verdict, through the swap, to what is fitted and why. */
class JobTest {
    @get:Rule val bench = Bench()

    private fun taps(): List<Tap> {
        val at = { kind: ArrowKind, x: Int, y: Int -> Tap(kind, PointPx(x.toDouble(), y.toDouble()), null) }
        return listOf(
            at(ArrowKind.FLETCHED, 1599, 1372),
            at(ArrowKind.FLETCHED, 1688, 1500),
            at(ArrowKind.FLETCHED, 1737, 1361),
            at(ArrowKind.BARE, 2193, 1435),
            at(ArrowKind.BARE, 2394, 1368),
            at(ArrowKind.BARE, 2289, 1512),
        )
    }

    private fun measured(photo: PhotoSession): TrialDraft {
        val corners = listOf(481 to 355, 3677 to 318, 3432 to 2519, 646 to 2360)
        val facts = photo.fit(Reference.Sheet(297.0, 210.0, corners.map { (x, y) -> PointPx(x.toDouble(), y.toDouble()) }), null)
        assertTrue("residual ${facts.residualMm} mm", facts.residualMm < 0.2)
        val impacts =
            taps().map { tap ->
                val hole = photo.snap(tap).impact
                TrialImpact(hole.kind, PointMm(hole.xMm, hole.yMm), hole.sdMm, hole.px, hole.snapped, null, null)
            }
        val file = PhotoRef("before.jpg", photo.widthPx(), photo.heightPx())
        return TrialDraft(Surface.FACE, 18.288, "", null, impacts, emptyList(), file, photo.planeRecord(), "")
    }

    private fun confirm(bowId: Long): SwapPage {
        val step = bench.workshop.swapPage(bowId).current!!
        return when (step.kind) {
            StepKind.CONFIRM_FOUND -> bench.workshop.swapFound(bowId, Found.AsRecorded, 5_000)
            else -> bench.workshop.swapDone(bowId, 5_000)
        }
    }

    @Test
    fun fromThePhotographToWhatIsFittedAndWhy() {
        // Its rest cannot move, so only the press is left.
        val bow = bench.bow(restRoom = RestRoom(0.0, 0.0))
        bench.workshop.beginPhoto(photo("before.jpg")).use { photo ->
            val shot = measured(photo)
            assertTrue("most holes are found", shot.impacts.count { it.snapped } >= 4)
            bench.workshop.saveTrial(bow.id, shot, 2_000)
            bench.workshop.rememberLens(photo, 2_001)
        }
        // The same bow shot twice more and written down by hand, so that the verdict can be sure.
        repeat(2) { bench.workshop.saveTrial(bow.id, face(70.0), 2_100L + it) }
        val given = bench.workshop.giveVerdict(bow.id, 3_000)
        val call = given.verdict.call
        assertTrue("$call", call is Call.Fit)
        val to = (call as Call.Fit).fitting
        assertEquals(Waits.Swap, bench.workshop.rack("").single().waits)
        assertTrue(bench.workshop.verdictPage(given.id).proof!!.items.isNotEmpty())

        bench.workshop.startSwap(bow.id, to, FittingReason.VERDICT, given.id, 4_000)
        var page = confirm(bow.id)
        while (page.event !is SwapEvent.Finished) page = confirm(bow.id)

        bench.reopen()
        val fitted = bench.workshop.fitted(bow.id)!!
        assertEquals(to, fitted.fitting)
        assertEquals(FittingReason.VERDICT to given.id, fitted.reason to fitted.verdictId)
        assertEquals(given, bench.workshop.verdictPage(fitted.verdictId!!).given)
        val history = bench.workshop.historyPage(bow.id, 1.0)
        assertEquals(3, history.history.splits.size)
        assertNotNull(history.chart)
    }
}
