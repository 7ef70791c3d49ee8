package org.shimwright.verdict

import org.shimwright.core.BowPage
import org.shimwright.core.Call
import org.shimwright.core.Choice
import org.shimwright.core.Fitting
import org.shimwright.core.FittingRecord
import org.shimwright.core.Happening
import org.shimwright.core.Knob
import org.shimwright.core.Predicted
import org.shimwright.core.Probe
import org.shimwright.core.Reason
import org.shimwright.core.Scene
import org.shimwright.core.Trial
import org.shimwright.core.VerdictGiven
import org.shimwright.core.Workshop
import org.shimwright.core.paperToleranceMm
import org.shimwright.kit.Units
import org.shimwright.kit.units

/** A verdict with the pictures that prove it. */
data class VerdictState(
    val given: VerdictGiven,
    val bow: BowPage,
    val trials: Map<Long, Trial>,
    val scene: Scene?,
    val change: Scene?,
    /** What was fitted when the verdict was given. */
    val then: Fitting?,
    val newest: Boolean,
    val toleranceMm: Double,
    val paperToleranceMm: Double,
    /** Whether the figures behind "real" show. */
    val chances: Boolean,
    val units: Units,
    val nowMs: Long,
) {
    val verdict get() = given.verdict
    val call get() = verdict.call

    /** Whether the verdict still speaks about the bow as it is. */
    val stands get() = newest && bow.swap == null && bow.verdictStands

    /** What it used, newest first. */
    val used get() = given.trialIds.mapNotNull(trials::get).sortedByDescending { it.atMs }

    /** The other fittings it weighed, best first; what the call asks for is left out. */
    fun others(most: Int): List<Choice> {
        val chosen = (call as? Call.Fit)?.fitting ?: then
        return verdict.options.filter { it.fitting != chosen }.sortedBy { it.lossMm }.take(most)
    }

    /** The chosen fitting among what was weighed. */
    val chosen: Choice? get() {
        val fitting = (call as? Call.Fit)?.fitting ?: then
        return verdict.options.find { it.fitting == fitting }
    }

    val reasons: List<Reason> get() = verdict.reasons

    /** Whether what the verdict asks for changes what is expected sideways. */
    val forecasts get() = call.let { it is Call.Fit || (it is Call.Trim && it.knob == Knob.REST) }

    val paperShot get() = verdict.splits.any { it.kind == Probe.PAPER }

    /** The tolerance a forecast is held against, mm. */
    fun toleranceOf(expected: Predicted) = if (expected.kind == Probe.PAPER) paperToleranceMm else toleranceMm
}

internal fun verdictState(workshop: Workshop, verdictId: Long, chances: Boolean, nowMs: Long): VerdictState {
    val given = workshop.verdict(verdictId)
    val bow = workshop.bowPage(given.bowId)
    val entry = workshop.history(given.bowId).happenings.filterIsInstance<Happening.Fitted>().find { it.entry.id == given.fittingId }?.entry
    val settings = workshop.settings()
    return VerdictState(
        given = given,
        bow = bow,
        trials = workshop.trials(given.bowId).associateBy { it.id },
        scene = if (given.trialIds.isEmpty()) null else workshop.verdictScene(verdictId),
        change = entry?.let { change(workshop, it, given.verdict.call) },
        then = entry?.fitting,
        newest = bow.lastVerdict?.id == given.id,
        toleranceMm = bow.bow.details.toleranceMm ?: settings.toleranceMm,
        paperToleranceMm = paperToleranceMm(),
        chances = chances,
        units = workshop.units(),
        nowMs = nowMs,
    )
}

private fun change(workshop: Workshop, from: FittingRecord, call: Call): Scene? =
    if (call is Call.Fit) workshop.changeScene(from.kitId, from.fitting, call.fitting) else null
