package org.shimwright.history

import org.shimwright.core.FittingRecord
import org.shimwright.core.Forecast
import org.shimwright.core.Happening
import org.shimwright.core.History
import org.shimwright.core.Scene
import org.shimwright.core.TrialSplit
import org.shimwright.core.Workshop
import org.shimwright.kit.Units
import org.shimwright.kit.units

/** What happened to a bow, newest first. */
data class HistoryState(
    val bow: String,
    val history: History,
    /** Null while there is no split to draw. */
    val chart: Scene?,
    val fitted: FittingRecord?,
    val swapping: Boolean,
    /** Whether two phones recorded different fittings, and nobody has said yet which one is in the bow. */
    val contested: Boolean,
    /** Only the fittings show, to choose one to put back. */
    val choosing: Boolean,
    val units: Units,
    val nowMs: Long,
) {
    val shown: List<Happening>
        get() = if (choosing) history.happenings.filter { it is Happening.Fitted && canPutBack(it.entry) } else history.happenings

    val anyToPutBack get() = history.happenings.any { it is Happening.Fitted && canPutBack(it.entry) }

    /** Only what differs from what is in the bow can be put back, and only between swaps. */
    fun canPutBack(entry: FittingRecord) = !swapping && entry.fitting != fitted?.fitting && entry.kitId == fitted?.kitId

    fun splits(trialId: Long): List<TrialSplit> = history.splits.filter { it.trialId == trialId }

    fun forecast(fittingId: Long): Forecast? = history.forecasts.find { it.fittingId == fittingId }
}

/** The history of [bowId], its chart for who reads letters [letters] times their usual size. */
internal fun historyState(workshop: Workshop, bowId: Long, choosing: Boolean, nowMs: Long, letters: Float): HistoryState {
    val page = workshop.historyPage(bowId, letters.toDouble())
    return HistoryState(
        bow = page.name,
        history = page.history,
        chart = page.chart,
        fitted = page.fitted,
        swapping = page.swapping,
        contested = page.contested.isNotEmpty(),
        choosing = choosing,
        units = workshop.units(),
        nowMs = nowMs,
    )
}

internal fun Happening.atMs(): Long = when (this) {
    is Happening.Fitted -> entry.atMs
    is Happening.Shot -> atMs
    is Happening.Judged -> atMs
    is Happening.Changed -> record.change.atMs
}
