package org.shimwright.verdict

import android.content.Context
import org.shimwright.R
import org.shimwright.checks.makerWords
import org.shimwright.checks.measuredWords
import org.shimwright.core.Adjustment
import org.shimwright.core.ArrowKind
import org.shimwright.core.Arrows
import org.shimwright.core.Call
import org.shimwright.core.Direction
import org.shimwright.core.Ending
import org.shimwright.core.Fitting
import org.shimwright.core.Knob
import org.shimwright.core.MakerRange
import org.shimwright.core.OutOfRange
import org.shimwright.core.Probe
import org.shimwright.core.Reason
import org.shimwright.core.Side
import org.shimwright.core.SplitReading
import org.shimwright.core.Trial
import org.shimwright.core.plusMinus
import org.shimwright.kit.Figures
import org.shimwright.kit.checkWord
import org.shimwright.kit.counted
import org.shimwright.kit.kindWord
import org.shimwright.kit.seatWords
import kotlin.math.abs

/** What a verdict asks for, in sentences a shop would say. */
internal class CallWords(
    private val context: Context,
    private val figures: Figures,
    private val trials: Map<Long, Trial>,
    private val nowMs: Long,
) {
    private fun text(words: Int, vararg values: Any) = context.getString(words, *values)

    /** The decision, one sentence; where nothing more pays, how the work ends. */
    fun answer(call: Call, ending: Ending?): String = ending?.let(::end) ?: answer(call)

    private fun end(ending: Ending): String = when (ending) {
        is Ending.FirstIn -> text(R.string.verdict_first_in, text(probeWord(ending.first)))
        Ending.LikelyIn -> text(R.string.verdict_leave)
        Ending.HeightStays -> text(R.string.verdict_height_stays)
        Ending.HeadsApart -> text(R.string.verdict_heads)
        is Ending.PiecesMissing -> text(R.string.verdict_pieces, ending.pair)
        Ending.TooWide -> text(R.string.verdict_wide)
        Ending.Beyond -> answer(Call.SpacersCannot)
    }

    /** One step, in a sentence. */
    fun answer(call: Call): String = when (call) {
        is Call.AdjustFirst -> adjust(call.what)
        Call.Stop -> text(R.string.verdict_stop)
        is Call.Trim -> trim(call)
        is Call.Fit -> fit(call.fitting)
        is Call.ShootMore -> text(R.string.verdict_shoot_more, listed(call.arrows), figures.distance(call.arrows.distanceM))
        Call.SpacersCannot -> text(R.string.verdict_cannot)
    }

    private fun fit(to: Fitting): String = when {
        to.top == to.bottom && to.top.thick == Side.LEFT -> text(R.string.verdict_fit_left, to.top.pair)
        to.top == to.bottom -> text(R.string.verdict_fit_right, to.top.pair)
        else -> text(R.string.verdict_fit_each, context.seatWords(to.top), context.seatWords(to.bottom))
    }

    private fun trim(call: Call.Trim): String {
        val amount = figures.length(abs(call.trim.moveMm))
        val below = call.trim.moveMm < 0
        return when (call.knob) {
            Knob.REST -> if (call.putBack) {
                back(
                    below,
                    amount,
                )
            } else {
                text(if (below) R.string.trim_rest_left else R.string.trim_rest_right, amount)
            }

            Knob.NOCK -> text(if (below) R.string.trim_nock_down else R.string.trim_nock_up, amount)
        }
    }

    private fun back(left: Boolean, amount: String) = text(if (left) R.string.trim_back_left else R.string.trim_back_right, amount)

    private fun listed(arrows: Arrows): String = listOf(
        arrows.bare to R.plurals.shot_bare,
        arrows.fletched to R.plurals.shot_fletched,
        arrows.broadhead to R.plurals.shot_broadhead,
        arrows.paper to R.plurals.shot_tears,
    ).filter { it.first > 0u }
        .joinToString(text(R.string.and)) { (count, words) -> context.counted(words, count.toInt()) }

    private fun adjust(what: Adjustment): String = when (what) {
        is Adjustment.Check -> text(if (what.failed) R.string.adjust_failed else R.string.adjust_open, text(checkWord(what.check)))
        is Adjustment.CamsApart -> text(R.string.adjust_cams)
        is Adjustment.Arrow -> text(if (what.keeps) R.string.adjust_arrow_keeps else R.string.adjust_arrow, arrow(what))
        is Adjustment.ConfirmSwap -> text(R.string.adjust_confirm)
        is Adjustment.Contact -> text(if (what.inHeight) R.string.adjust_contact_height else R.string.adjust_contact)
        is Adjustment.Spine -> text(R.string.adjust_spine)
        is Adjustment.Contradiction -> text(if (ofHeads(what)) R.string.adjust_heads else R.string.adjust_contradiction)
        is Adjustment.Vertical -> vertical(what)
    }

    /** A verdict from before sizes were named has none. */
    private fun vertical(what: Adjustment.Vertical): String {
        val down = what.direction == Direction.DOWN
        if (what.trim.moveMm == 0.0) return text(if (down) R.string.adjust_nock_down else R.string.adjust_nock_up)
        val amount = figures.length(abs(what.trim.moveMm))
        return text(if (down) R.string.adjust_nock_down_by else R.string.adjust_nock_up_by, amount)
    }

    private fun arrow(what: Adjustment.Arrow): String =
        what.arrow?.let { text(R.string.arrow_numbered, it) } ?: nth(what.arrowKind, what.index)

    /** An arrow without a number, by its place in the list. */
    fun nth(kind: ArrowKind, index: UInt): String = text(R.string.arrow_nth, text(kindWord(kind)), index.toInt() + 1)

    /** What belongs to the decision and does not fit in one sentence. */
    fun details(call: Call): List<String> = when (call) {
        is Call.AdjustFirst -> details(call.what)
        is Call.Trim -> listOf(shootThen(call))
        is Call.Fit -> if (call.experiment) listOf(text(R.string.verdict_experiment)) else emptyList()
        Call.Stop, is Call.ShootMore, Call.SpacersCannot -> emptyList()
    }

    private fun ofHeads(what: Adjustment.Contradiction) = what.probe == Probe.BROADHEAD

    private fun shootThen(call: Call.Trim): String {
        val words = if (call.putBack || call.knob == Knob.NOCK) R.string.then_shoot else R.string.then_shoot_or_back
        return text(words, listed(call.arrows), figures.distance(call.arrows.distanceM))
    }

    private fun details(what: Adjustment): List<String> = when (what) {
        is Adjustment.Check -> listOfNotNull(what.found?.let(::outside))

        is Adjustment.CamsApart -> listOf(apart(what.tiltMm, what.limitMm))

        is Adjustment.Arrow -> listOf(
            trialLine(what.trial),
            text(if (what.keeps) R.string.adjust_arrow_aside else R.string.adjust_arrow_how),
        )

        is Adjustment.ConfirmSwap -> confirm(what)

        is Adjustment.Contact -> listOf(contact(what), trialLine(what.trial))

        is Adjustment.Spine -> listOf(text(R.string.adjust_spine_how, figures.plain(what.ratio)))

        is Adjustment.Contradiction -> contradiction(what)

        is Adjustment.Vertical -> listOf(left(what.probe, what.yMm, what.sdMm), text(size(what)))
    }

    private fun contradiction(what: Adjustment.Contradiction): List<String> =
        listOf(trialLine(what.trial), text(if (ofHeads(what)) R.string.adjust_heads_how else R.string.adjust_contradiction_how))

    /** A measured check outside what the bow maker states, as finely as tells the figures apart. */
    fun outside(found: OutOfRange): String {
        fun words(value: Double, fine: Boolean) = measuredWords(found.item, value, figures, fine)
        val fine = listOfNotNull(found.low, found.high).any { words(it, false) == words(found.measured, false) }
        val stated = context.makerWords(MakerRange(found.item, found.low, found.high), figures, fine).orEmpty()
        return text(R.string.measured_outside, words(found.measured, fine), stated)
    }

    private fun size(what: Adjustment.Vertical): Int = when {
        what.trim.moveMm == 0.0 -> R.string.adjust_nock_open
        what.seenOnThisBow -> R.string.adjust_nock_shown
        else -> R.string.adjust_nock_usual
    }

    private fun confirm(what: Adjustment.ConfirmSwap): List<String> = listOf(
        worse(what.beforeMm, what.afterMm),
        text(R.string.adjust_confirm_how),
        text(R.string.then_shoot, listed(what.arrows), figures.distance(what.arrows.distanceM)),
    )

    fun apart(tiltMm: Double, limitMm: Double): String =
        text(R.string.cams_apart, figures.thickness(abs(tiltMm)), figures.thickness(limitMm))

    fun worse(beforeMm: Double, afterMm: Double): String = text(R.string.swap_worse, figures.roughly(beforeMm), figures.roughly(afterMm))

    private fun contact(what: Adjustment.Contact): String =
        if (what.inHeight) oppositeHeights(what.tearMm, what.bareMm) else opposite(what.tearMm, what.bareMm)

    /** Paper and bare shafts that no one height of the nocking point makes. */
    fun oppositeHeights(tearMm: Double, bareMm: Double): String {
        val tear = text(if (tearMm < 0) R.string.nock_low_tear else R.string.nock_high_tear, figures.size(tearMm))
        val bare = text(if (bareMm < 0) R.string.figure_low else R.string.figure_high, figures.size(bareMm))
        return text(R.string.contact_heights, tear, bare)
    }

    /** Paper and bare shafts on opposite sides; figures that were not kept are left out. */
    fun opposite(tearMm: Double, bareMm: Double): String =
        if (tearMm == 0.0) text(R.string.contact_how) else text(R.string.contact_shows, tear(tearMm), figures.roughly(bareMm))

    /** What is left of a kind up and down, with its interval. A verdict from before kinds were named has none. */
    fun left(kind: Probe?, yMm: Double, sdMm: Double): String {
        val (amount, spread) = figures.height(yMm, plusMinus(sdMm))
        return when (kind) {
            null -> text(R.string.height_left, amount, spread)
            Probe.PAPER -> text(R.string.height_torn, amount, spread)
            else -> text(R.string.height_lands, text(probeWord(kind)), amount, spread)
        }
    }

    /** Heads that land elsewhere in height than gravity and drag explain. */
    fun headsOff(reason: Reason.HeadsOffHeight): String = text(R.string.reason_heads_height, figures.raised(reason.yMm))

    /** A height that the nocking point was moved for in vain. */
    fun heightStays(reason: Reason.HeightStays): String =
        text(R.string.two_sentences, left(reason.kind, reason.yMm, reason.sdMm), text(R.string.reason_height_stays))

    private fun tear(xMm: Double): String = text(if (xMm < 0) R.string.nock_left_tear else R.string.nock_right_tear, figures.size(xMm))

    /** A trial by its day and distance, within a sentence. */
    fun trial(id: Long): String = trial(id, R.string.trial_named)

    private fun trialLine(id: Long) = trial(id, R.string.trial_line)

    private fun trial(id: Long, words: Int): String {
        val trial = trials[id] ?: return text(R.string.trial_unknown)
        return text(words, figures.day(trial.atMs, nowMs), figures.distance(trial.shot.distanceM))
    }

    /** The split in a sentence, with whether it is more than scatter; with its distance where there are several. */
    fun lands(split: SplitReading, several: Boolean) =
        lands(split.kind, split.xMm, text(if (split.isReal) R.string.is_real else R.string.is_scatter), split.distanceM.takeIf { several })

    /** Where a kind lands, and how sure that is; with its distance where several were shot. */
    fun lands(kind: Probe, xMm: Double, sure: String, distanceM: Double? = null): String = when (kind) {
        Probe.BARE -> lands(R.string.lands_bare, R.string.lands_bare_at, xMm, sure, distanceM)
        Probe.BROADHEAD -> lands(R.string.lands_broadhead, R.string.lands_broadhead_at, xMm, sure, distanceM)
        Probe.PAPER -> tear(xMm, sure, distanceM)
    }

    /** A tear that would be written as nothing is none. */
    private fun tear(xMm: Double, sure: String, distanceM: Double?): String {
        val left = xMm < 0
        val size = figures.size(xMm)
        val at = distanceM?.let { figures.distance(it) }
        val none = size == figures.size(0.0)
        return when {
            none && at == null -> text(R.string.lands_tear_none, sure)
            none -> text(R.string.lands_tear_none_at, at.orEmpty(), sure)
            at == null -> text(if (left) R.string.lands_tear_left else R.string.lands_tear_right, size, sure)
            else -> text(if (left) R.string.lands_tear_left_at else R.string.lands_tear_right_at, at, size, sure)
        }
    }

    private fun lands(words: Int, wordsAt: Int, xMm: Double, sure: String, distanceM: Double?): String {
        val side = figures.roughly(xMm)
        return if (distanceM == null) text(words, side, sure) else text(wordsAt, figures.distance(distanceM), side, sure)
    }
}

internal fun probeWord(kind: Probe): Int = when (kind) {
    Probe.BARE -> R.string.probe_bare
    Probe.BROADHEAD -> R.string.probe_broadhead
    Probe.PAPER -> R.string.probe_paper
}

/** So many arrows of a kind, or tears, that were shot. */
internal fun shotWord(kind: Probe): Int = when (kind) {
    Probe.BARE -> R.plurals.shot_bare
    Probe.BROADHEAD -> R.plurals.shot_broadhead
    Probe.PAPER -> R.plurals.shot_tears
}
