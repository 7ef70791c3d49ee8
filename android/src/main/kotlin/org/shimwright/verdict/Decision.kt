package org.shimwright.verdict

import android.content.Context
import org.shimwright.R
import org.shimwright.core.Call
import org.shimwright.core.Predicted
import org.shimwright.core.Reason
import org.shimwright.kit.Figures
import org.shimwright.kit.emphasised

/** No more lines than this stand under the decision; the rest is "why". */
private const val MOST_LINES = 5

/** What stands under the decision: what belongs to it, what it is worth, what was shot. */
internal fun Context.decision(state: VerdictState, figures: Figures, words: CallWords): List<CharSequence> {
    if (state.verdict.splits.isEmpty()) return words.details(state.call).take(MOST_LINES)
    val height = state.verdict.reasons.mapNotNull { reason ->
        when (reason) {
            is Reason.HeightStays -> words.heightStays(reason)
            is Reason.HeadsOffHeight -> words.headsOff(reason)
            else -> null
        }
    }
    // Where nothing moves sideways the chance is of the side alone, and the height is what is out.
    val upright = height.isNotEmpty() && !state.page.forecasts
    val worth = if (upright) emptyList() else listOfNotNull(chance(state, figures), forecast(state, figures))
    val several = state.severalDistances
    val shot = state.verdict.splits.map { split ->
        val sentence = getString(R.string.two_sentences, words.lands(split, several), figures.interval(split.low95Mm, split.high95Mm))
        emphasised(sentence, figures.roughly(split.xMm))
    }
    // What is to be done about the heads is said with their height; before it stands only which trial it was.
    val details = words.details(state.call).take(if (state.verdict.reasons.any { it is Reason.HeadsOffHeight }) 1 else MOST_LINES)
    return (details + height + worth + shot).take(MOST_LINES)
}

/** The chance to be inside the tolerance: now, and after what the verdict asks for. */
private fun Context.chance(state: VerdictState, figures: Figures): CharSequence {
    val now = state.verdict.asItIs
    val inside = figures.chance(now.withinTolerance)
    val size = figures.size(state.page.toleranceMm)
    val tolerance = state.page.toleranceAtM?.let { getString(R.string.size_at_distance, size, figures.distance(it)) } ?: size
    if (!state.page.forecasts) return emphasised(getString(R.string.chance_now, inside, tolerance), inside)
    val after = figures.chance(state.verdict.predicted.withinTolerance)
    // The last: what is "under 1 in 100" now has a "1 in 100" in it already.
    return emphasised(getString(R.string.chance_now_and_after, inside, tolerance, after), after, last = true)
}

/** Where the arrows are expected afterwards, with the interval in words. */
private fun Context.forecast(state: VerdictState, figures: Figures): CharSequence? {
    val expected: Predicted = state.verdict.predicted
    if (!state.page.forecasts && state.call !is Call.Stop) return null
    val sentence = getString(if (state.page.forecasts) R.string.forecast_after else R.string.forecast_now, figures.roughly(expected.xMm))
    return getString(R.string.two_sentences, sentence, figures.interval(expected.low95Mm, expected.high95Mm))
}
