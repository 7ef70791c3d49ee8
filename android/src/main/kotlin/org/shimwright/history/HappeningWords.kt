package org.shimwright.history

import android.content.Context
import org.shimwright.R
import org.shimwright.bow.changeWord
import org.shimwright.core.ArrowKind
import org.shimwright.core.ChangeKind
import org.shimwright.core.ChangeRecord
import org.shimwright.core.FittingReason
import org.shimwright.core.Happening
import org.shimwright.core.MoreArrows
import org.shimwright.core.Outcome
import org.shimwright.core.Reality
import org.shimwright.core.SetupChange
import org.shimwright.core.Surface
import org.shimwright.core.TrialSplit
import org.shimwright.kit.Figures
import org.shimwright.kit.counted
import org.shimwright.kit.fittingWords

/** What happened, in words. */
internal class HappeningWords(private val context: Context, private val figures: Figures, private val state: HistoryState) {
    private fun text(words: Int, vararg values: Any) = context.getString(words, *values)

    fun title(happening: Happening): String = when (happening) {
        is Happening.Fitted -> context.fittingWords(happening.entry.fitting)
        is Happening.Shot -> text(surface(happening.surface), figures.distance(happening.distanceM))
        is Happening.Judged -> text(outcome(happening.outcome))
        is Happening.Changed -> text(changeWord(happening.record.change.kind))
    }

    private fun surface(surface: Surface): Int = if (surface == Surface.FACE) R.string.shot_face else R.string.shot_paper

    private fun outcome(outcome: Outcome): Int = when (outcome) {
        Outcome.ADJUST_FIRST -> R.string.judged_adjust
        Outcome.STOP -> R.string.judged_stop
        Outcome.TRIM -> R.string.judged_trim
        Outcome.FIT -> R.string.judged_fit
        Outcome.SHOOT_MORE -> R.string.judged_shoot
        Outcome.LEAVE -> R.string.judged_leave
        Outcome.SPACERS_CANNOT -> R.string.judged_cannot
    }

    fun notes(happening: Happening): List<String> = when (happening) {
        is Happening.Fitted -> fitted(happening)
        is Happening.Shot -> shot(happening)
        is Happening.Judged -> emptyList()
        is Happening.Changed -> changed(happening.record)
    }

    private fun shot(happening: Happening.Shot): List<String> {
        if (!happening.counts) return listOf(text(R.string.trial_note_struck), counted(happening.arrows))
        return state.splits(happening.trialId).map(::split).ifEmpty { listOf(counted(happening.arrows)) }
    }

    private fun fitted(happening: Happening.Fitted): List<String> {
        val forecast = state.forecast(happening.entry.id)
        val told = forecast?.let {
            val interval = figures.interval(it.expectedLow95Mm, it.expectedHigh95Mm)
            text(R.string.forecast_tested, figures.roughly(it.expectedMm), figures.roughly(it.shotMm), interval)
        }
        return listOfNotNull(text(reasonWord(happening.entry.reason)), told)
    }

    fun split(split: TrialSplit): String {
        val words = if (split.kind == ArrowKind.BROADHEAD) R.string.lands_broadhead else R.string.lands_bare
        val lands = text(words, figures.roughly(split.x.valueMm), text(realityWord(split.reality)))
        return text(R.string.two_sentences, lands, figures.interval(split.x.low95Mm, split.x.high95Mm))
    }

    private fun counted(arrows: MoreArrows): String = listOf(
        arrows.fletched to R.plurals.count_fletched,
        arrows.bare to R.plurals.count_bare,
        arrows.broadhead to R.plurals.count_broadhead,
        arrows.paper to R.plurals.count_paper,
    ).filter { it.first > 0u }.joinToString { (count, words) -> context.counted(words, count.toInt()) }

    private fun changed(record: ChangeRecord): List<String> {
        val struck = text(R.string.trial_note_struck).takeIf { record.struck }
        return listOfNotNull(struck, place(record.change), record.change.note.takeIf { it.isNotBlank() })
    }

    private fun place(change: SetupChange): String? = change.valueMm?.let { mm ->
        val rest = change.kind == ChangeKind.REST_MOVED
        text(R.string.change_to, if (rest) figures.restPlace(mm) else figures.nockPlace(mm))
    }
}

/** The chart for those who cannot see it: every split in its order. */
internal fun Context.spokenChart(state: HistoryState, figures: Figures): String {
    val words = HappeningWords(this, figures, state)
    return state.history.splits.joinToString(" ") { getString(R.string.spoken_split, figures.day(it.atMs, state.nowMs), words.split(it)) }
}

/** Why a fitting is in the record. */
internal fun reasonWord(reason: FittingReason): Int = when (reason) {
    FittingReason.TAKEN_IN -> R.string.fitted_taken_in
    FittingReason.VERDICT -> R.string.fitted_verdict
    FittingReason.OWN_CHOICE -> R.string.fitted_own_choice
    FittingReason.PUT_BACK -> R.string.fitted_put_back
    FittingReason.FOUND_INSIDE -> R.string.fitted_found
}

/** Whether a split is more than scatter. */
internal fun realityWord(reality: Reality): Int = when (reality) {
    Reality.TOO_FEW_ARROWS -> R.string.reality_few
    Reality.NOT_SHOWN -> R.string.reality_not_shown
    Reality.LIKELY -> R.string.reality_likely
    Reality.CLEAR -> R.string.reality_clear
}
