package org.shimwright.verdict

import android.content.Context
import org.shimwright.R
import org.shimwright.core.Call
import org.shimwright.core.Probe
import org.shimwright.kit.Figures

/** What would change the answer, so that nobody takes it for more than it is. */
internal fun Context.otherwise(state: VerdictState, figures: Figures): List<String> = listOfNotNull(
    direction(state, figures),
    doubtful(state),
    unproven(state),
    getString(R.string.other_anew),
)

/** Nobody has seen yet which way this bow answers. */
private fun Context.direction(state: VerdictState, figures: Figures): String? {
    val response = state.verdict.response
    if (state.call !is Call.Fit || response.seenOnThisBow) return null
    return getString(R.string.other_direction, figures.chance(response.wrongWayChance))
}

/** A split that scatter alone may have made. */
private fun Context.doubtful(state: VerdictState): String? {
    val open = state.verdict.splits.find { !it.isReal } ?: return null
    return getString(R.string.other_scatter, getString(probeWord(open.kind)))
}

/** Broadheads were never shot with what is fitted. */
private fun Context.unproven(state: VerdictState): String? =
    if (state.verdict.splits.none { it.kind == Probe.BROADHEAD }) getString(R.string.other_broadheads) else null
