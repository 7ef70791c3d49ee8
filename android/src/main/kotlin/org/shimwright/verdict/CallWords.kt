package org.shimwright.verdict

import android.content.Context
import org.shimwright.R
import org.shimwright.core.Adjustment
import org.shimwright.core.ArrowKind
import org.shimwright.core.Call
import org.shimwright.core.Fitting
import org.shimwright.core.Probe
import org.shimwright.core.Side
import org.shimwright.core.SplitReading
import org.shimwright.core.Trial
import org.shimwright.core.Trim
import org.shimwright.kit.Figures
import org.shimwright.kit.checkWord
import org.shimwright.kit.kindWord
import org.shimwright.kit.seatWords

/** Half of a 95 % interval in standard deviations. */
internal const val SDS_95 = 1.96

/** What a verdict asks for, in sentences a person would say. */
internal class CallWords(private val context: Context, private val figures: Figures, private val trials: Map<Long, Trial>) {
    private fun text(words: Int, vararg values: Any) = context.getString(words, *values)

    /** The answer, one sentence. */
    fun answer(call: Call): String = when (call) {
        is Call.Fit -> fit(call.fitting)
        is Call.Keep -> text(R.string.verdict_keep)
        is Call.ShootMore -> text(R.string.verdict_shoot_more, more(call), figures.distance(call.distanceM))
        is Call.AdjustFirst -> adjust(call.what)
    }

    private fun fit(to: Fitting): String = when {
        to.top == to.bottom && to.top.thick == Side.LEFT -> text(R.string.verdict_fit_left, to.top.pair)
        to.top == to.bottom -> text(R.string.verdict_fit_right, to.top.pair)
        else -> text(R.string.verdict_fit_each, context.seatWords(to.top), context.seatWords(to.bottom))
    }

    private fun more(call: Call.ShootMore): String = listOf(
        call.bare to R.plurals.more_bare,
        call.fletched to R.plurals.more_fletched,
        call.broadhead to R.plurals.more_broadhead,
        call.paper to R.plurals.more_paper,
    ).filter { it.first > 0u }
        .joinToString(text(R.string.and)) { (count, words) -> context.resources.getQuantityString(words, count.toInt(), count.toInt()) }

    private fun adjust(what: Adjustment): String = when (what) {
        is Adjustment.FailedCheck -> text(R.string.adjust_failed, text(checkWord(what.check)))
        is Adjustment.OpenCheck -> text(R.string.adjust_open, text(checkWord(what.check)))
        is Adjustment.NockingPoint -> text(R.string.adjust_nock)
        is Adjustment.Arrow -> text(R.string.adjust_arrow, arrow(what))
        is Adjustment.Clearance -> text(R.string.adjust_clearance)
        is Adjustment.Spine -> text(R.string.adjust_spine)
        is Adjustment.Contradiction -> text(R.string.adjust_contradiction)
    }

    private fun arrow(what: Adjustment.Arrow): String = what.arrow?.let { text(R.string.arrow_numbered, it) } ?: nth(what.kind, what.index)

    /** An arrow without a number, by its place in the list. */
    fun nth(kind: ArrowKind, index: UInt): String = text(R.string.arrow_nth, text(kindWord(kind)), index.toInt() + 1)

    /** What belongs to the answer and does not fit in one sentence. */
    fun details(call: Call): List<String> = when (call) {
        is Call.Keep -> listOfNotNull(call.rest?.let { rest(it) }, call.nock?.let { nock(it) })
        is Call.AdjustFirst -> details(call.what)
        is Call.Fit, is Call.ShootMore -> emptyList()
    }

    private fun details(what: Adjustment): List<String> = when (what) {
        is Adjustment.NockingPoint -> {
            val (amount, spread) = figures.height(what.yMm, SDS_95 * what.sdMm)
            listOfNotNull(text(R.string.adjust_nock_left, amount, spread), what.trim?.let { nock(it) } ?: text(R.string.adjust_nock_open))
        }

        is Adjustment.Arrow -> listOf(trial(what.trial), text(R.string.adjust_arrow_how))

        is Adjustment.Clearance -> listOf(trial(what.trial), text(R.string.adjust_clearance_how))

        is Adjustment.Spine -> listOf(text(R.string.adjust_spine_how, figures.plain(what.ratio)))

        is Adjustment.Contradiction -> listOf(trial(what.trial), text(R.string.adjust_contradiction_how))

        is Adjustment.FailedCheck, is Adjustment.OpenCheck -> emptyList()
    }

    private fun rest(trim: Trim): String {
        val (amount, spread) = figures.side(trim.moveMm, SDS_95 * trim.sdMm)
        return text(R.string.trim_rest, amount, spread, figures.chance(trim.directionChance))
    }

    private fun nock(trim: Trim): String {
        val (amount, spread) = figures.estimate(kotlin.math.abs(trim.moveMm), SDS_95 * trim.sdMm)
        val words = if (trim.moveMm < 0) R.string.trim_nock_down else R.string.trim_nock_up
        return text(words, text(R.string.figure_unit, amount, figures.lengthUnit), spread, figures.chance(trim.directionChance))
    }

    /** A trial by its day and distance. */
    fun trial(id: Long): String {
        val trial = trials[id] ?: return text(R.string.trial_unknown)
        return text(R.string.trial_named, figures.day(trial.atMs), figures.distance(trial.shot.distanceM))
    }

    /** The split in a sentence, with its interval. */
    fun lands(split: SplitReading) = lands(split.kind, split.xMm, split.sdXMm)

    fun lands(kind: Probe, xMm: Double, sdMm: Double): String {
        val (amount, spread) = figures.side(xMm, SDS_95 * sdMm)
        return text(landsWord(kind), amount, spread)
    }

    private fun landsWord(kind: Probe) = when (kind) {
        Probe.BARE -> R.string.lands_bare
        Probe.BROADHEAD -> R.string.lands_broadhead
        Probe.PAPER -> R.string.lands_paper
    }
}

internal fun probeWord(kind: Probe): Int = when (kind) {
    Probe.BARE -> R.string.probe_bare
    Probe.BROADHEAD -> R.string.probe_broadhead
    Probe.PAPER -> R.string.probe_paper
}
