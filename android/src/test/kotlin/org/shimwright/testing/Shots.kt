package org.shimwright.testing

import org.shimwright.core.ArrowKind
import org.shimwright.core.Found
import org.shimwright.core.PointMm
import org.shimwright.core.StepKind
import org.shimwright.core.Surface
import org.shimwright.core.Trial
import org.shimwright.core.TrialDraft
import org.shimwright.core.TrialImpact
import org.shimwright.core.TrialTear
import org.shimwright.core.Workshop

/** Invented shots: a fletched group near the middle, and another group beside it. */
object Shots {
    private const val TWENTY_YARDS_M = 18.288
    private val fletched = listOf(-9.0 to 3.0, 1.5 to -8.5, 6.0 to 6.0, 2.0 to 0.5)
    private val other = listOf(-8.0 to 4.0, 5.0 to 7.0, 3.0 to -9.0, -1.0 to 2.0)

    private fun impact(kind: ArrowKind, at: Pair<Double, Double>, number: Int?, xMm: Double, yMm: Double) =
        TrialImpact(kind, PointMm(at.first + xMm, at.second + yMm), 0.4, null, true, number, null)

    /** Four fletched and four of [kind], the latter [xMm] to the right and [yMm] up. */
    fun face(xMm: Double, yMm: Double = 0.0, kind: ArrowKind = ArrowKind.BARE, each: Int = 4) = TrialDraft(
        surface = Surface.FACE,
        distanceM = TWENTY_YARDS_M,
        shooter = "",
        arrowSetupId = null,
        impacts = fletched.take(each).mapIndexed { index, at -> impact(ArrowKind.FLETCHED, at, index + 1, 0.0, 0.0) } +
            other.take(each).mapIndexed { index, at -> impact(kind, at, index + 5, xMm, yMm) },
        tears = emptyList(),
        photo = null,
        plane = null,
        note = "",
    )

    /** Three fletched arrows through paper, the nock [xMm] right and [yMm] above the point. */
    fun paper(xMm: Double, yMm: Double) = face(0.0).copy(
        surface = Surface.PAPER,
        distanceM = 2.0,
        impacts = emptyList(),
        tears = listOf(0.0, 1.5, -1.0).map { TrialTear(ArrowKind.FLETCHED, PointMm(xMm + it, yMm - it), 0.5, null, null) },
    )

    /** Looks the bow over, so that no check stands before the spacers, and shoots. */
    fun shoot(workshop: Workshop, bowId: Long, shot: TrialDraft, atMs: Long): Trial {
        workshop.passOpenChecks(bowId, atMs)
        return workshop.saveTrial(bowId, shot, atMs)
    }

    /** Goes through the guide of the swap under way to its end, finding what is recorded. */
    fun finishSwap(workshop: Workshop, bowId: Long, atMs: Long) {
        while (workshop.bowPage(bowId).swap != null) {
            val asks = workshop.swapPage(bowId).current?.kind == StepKind.CONFIRM_FOUND
            if (asks) workshop.swapFound(bowId, Found.AsRecorded, atMs) else workshop.swapDone(bowId, atMs)
        }
    }
}
