package org.shimwright.verdict

import org.shimwright.core.Fitting
import org.shimwright.core.Probe
import org.shimwright.core.Trial
import org.shimwright.core.VerdictPage
import org.shimwright.core.Workshop
import org.shimwright.kit.Units
import org.shimwright.kit.units

/** A verdict with the pictures that prove it. */
data class VerdictState(
    val page: VerdictPage,
    /** Whether the figures behind "real" show. */
    val chances: Boolean,
    val units: Units,
    val nowMs: Long,
) {
    val verdict get() = page.given.verdict
    val call get() = verdict.call

    /** What was fitted when the verdict was given. */
    val then: Fitting? get() = page.then?.fitting

    /** What it used, by id. */
    val trials: Map<Long, Trial> get() = page.trials.associateBy { it.id }

    val paperShot get() = verdict.splits.any { it.kind == Probe.PAPER }

    /** Whether one kind was shot at several distances; splits stand one for each. */
    val severalDistances get() = verdict.splits.groupBy { it.kind }.any { it.value.size > 1 }
}

internal fun verdictState(workshop: Workshop, verdictId: Long, chances: Boolean, nowMs: Long) =
    VerdictState(workshop.verdictPage(verdictId), chances, workshop.units(), nowMs)
