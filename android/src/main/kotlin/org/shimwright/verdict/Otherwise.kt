package org.shimwright.verdict

import android.content.Context
import org.shimwright.R
import org.shimwright.core.Call
import org.shimwright.core.Probe
import org.shimwright.kit.Figures
import org.shimwright.kit.fittingWords

/** What would change the answer, so that nobody takes it for more than it is. */
internal fun Context.otherwise(state: VerdictState, figures: Figures): List<String> = listOfNotNull(
    direction(state, figures),
    doubtful(state),
    close(state, figures),
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

/** The runner-up, where it is close behind. */
private fun Context.close(state: VerdictState, figures: Figures): String? {
    val chosen = state.chosen ?: return null
    val next = state.others(1).firstOrNull() ?: return null
    val behind = next.lossMm - chosen.lossMm
    if (behind < 0 || behind > chosen.sdMm) return null
    val name = if (next.fitting == state.then) getString(R.string.as_it_is) else fittingWords(next.fitting)
    return getString(R.string.other_close, name, figures.size(behind))
}

/** Broadheads were never shot with what is fitted. */
private fun Context.unproven(state: VerdictState): String? =
    if (state.verdict.splits.none { it.kind == Probe.BROADHEAD }) getString(R.string.other_broadheads) else null
