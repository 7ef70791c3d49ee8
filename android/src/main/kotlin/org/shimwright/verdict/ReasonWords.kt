package org.shimwright.verdict

import android.content.Context
import org.shimwright.R
import org.shimwright.core.Probe
import org.shimwright.core.Reason
import org.shimwright.core.Side
import org.shimwright.core.WalkBackMeaning
import org.shimwright.kit.Figures
import org.shimwright.kit.checkWord
import kotlin.math.abs
import kotlin.math.roundToInt

/** Every reason of the core in words. The list is closed: a new kind does not compile until it has its sentence. */
internal class ReasonWords(private val context: Context, private val figures: Figures, private val calls: CallWords) {
    private fun text(words: Int, vararg values: Any) = context.getString(words, *values)

    private fun plural(words: Int, count: UInt, vararg more: Any) =
        context.resources.getQuantityString(words, count.toInt(), count.toInt(), *more)

    private fun probe(kind: Probe) = text(probeWord(kind))

    private fun side(mm: Double) = figures.side(mm, ROUGHLY_MM).first

    private fun height(mm: Double) = figures.height(mm, ROUGHLY_MM).first

    fun of(reason: Reason): String = when (reason) {
        Reason.NothingShot -> text(R.string.reason_nothing_shot)
        is Reason.TooFewArrows -> tooFew(reason)
        is Reason.NoReference -> text(R.string.reason_no_reference, calls.trial(reason.trial))
        is Reason.TrialWithoutFitting -> text(R.string.reason_no_fitting, calls.trial(reason.trial))
        is Reason.SplitIsReal -> text(R.string.two_sentences, calls.lands(reason.kind, reason.xMm, reason.sdMm), real(reason.p))
        is Reason.SplitMayBeScatter -> text(R.string.two_sentences, calls.lands(reason.kind, reason.xMm, reason.sdMm), scatter(reason.p))
        is Reason.WithinTolerance -> within(reason)
        Reason.NotYetSeenOnThisBow -> text(R.string.reason_not_seen)
        is Reason.SeenOnThisBow -> seen(reason)
        is Reason.AnswersTheOtherWay -> text(R.string.reason_other_way, figures.chance(reason.chance))
        is Reason.DirectionOpen -> text(R.string.reason_direction_open, figures.chance(reason.wrongWayChance))
        is Reason.FittingPays -> plural(R.plurals.reason_pays, reason.axles, figures.size(reason.nowMm), figures.size(reason.afterMm))
        is Reason.NoFittingPays -> text(R.string.reason_none_pays, figures.size(reason.savingMm), figures.size(reason.priceMm))
        is Reason.KitEnds -> text(R.string.reason_kit_ends, figures.size(reason.remainingMm))
        is Reason.PrioritiesConflict -> conflict(reason)
        is Reason.PiecesNotAtHand -> text(R.string.reason_not_at_hand, reason.pair, figures.size(reason.afterMm))
        is Reason.UnequalAxles -> text(R.string.reason_unequal, figures.thickness(abs(reason.tiltMm)))
        is Reason.MoreArrowsPay -> plural(R.plurals.reason_more_pay, reason.arrows, figures.length(reason.savingMm))
        is Reason.CheckFirst -> text(checkFirst(reason.failed), text(checkWord(reason.check)))
        is Reason.VerticalFirst -> verticalFirst(reason)
        is Reason.VerticalExplained -> text(R.string.reason_vertical_known, probe(reason.kind), height(reason.yMm))
        is Reason.ArrowApart -> text(R.string.reason_arrow_apart, calls.nth(reason.kind, reason.index), calls.trial(reason.trial))
        is Reason.ArrowHabit -> habit(reason)
        is Reason.WalkBackShows -> walkBack(reason)
        is Reason.TearDisagrees -> text(R.string.reason_tear, figures.plain(reason.sds), calls.trial(reason.trial))
        is Reason.BareScatter -> text(R.string.reason_bare_scatter, figures.plain(reason.ratio))
        is Reason.TrialDisagrees -> text(R.string.reason_trial_apart, figures.plain(reason.sds), calls.trial(reason.trial))
        is Reason.OlderEpochs -> plural(R.plurals.reason_older, reason.trials)
        is Reason.DistancesCombined -> text(R.string.reason_distances, (reason.modelError * PERCENT).roundToInt())
        Reason.PaperAlone -> text(R.string.reason_paper_alone)
        is Reason.NotYetShot -> text(R.string.reason_not_shot, probe(reason.kind))
        Reason.RestDirectionDisputed -> text(R.string.reason_rest_disputed)
        is Reason.RestDirectionSeen -> restSeen(reason)
        Reason.CamDirectionDisputed -> text(R.string.reason_cam_disputed)
        Reason.SpineLabelsDisputed -> text(R.string.reason_spine_disputed)
    }

    private fun tooFew(reason: Reason.TooFewArrows) =
        text(R.string.reason_too_few, probe(reason.kind), reason.have.toInt(), reason.haveReference.toInt(), reason.need.toInt())

    private fun real(p: Double): String = when {
        p < RARE -> text(R.string.chance_rare)
        p < HALF -> text(R.string.chance_once, (1 / p).roundToInt())
        else -> text(R.string.chance_often)
    }

    private fun scatter(p: Double): String =
        if (p < HALF) text(R.string.scatter_once, (1 / p.coerceAtLeast(RARE)).roundToInt()) else text(R.string.scatter_often)

    private fun within(reason: Reason.WithinTolerance) = text(
        R.string.reason_within,
        probe(reason.kind),
        side(reason.xMm),
        figures.chance(reason.chance),
        figures.size(reason.toleranceMm),
    )

    private fun seen(reason: Reason.SeenOnThisBow) = text(
        R.string.reason_seen,
        figures.plain(reason.mmPerMm),
        figures.plain(SDS_95 * reason.sd),
        figures.distance(TWENTY_YARDS_M),
    )

    private fun conflict(reason: Reason.PrioritiesConflict) = text(
        R.string.reason_conflict,
        probe(reason.kind),
        side(reason.xMm),
        probe(reason.against),
        figures.size(reason.nowMm),
        figures.size(reason.thereMm),
    )

    private fun checkFirst(failed: Boolean) = if (failed) R.string.reason_check_failed else R.string.reason_check_open

    private fun verticalFirst(reason: Reason.VerticalFirst): String {
        val (amount, spread) = figures.height(reason.yMm, SDS_95 * reason.sdMm)
        return text(R.string.reason_vertical_first, amount, spread)
    }

    private fun habit(reason: Reason.ArrowHabit) = plural(
        R.plurals.reason_habit,
        reason.trials,
        reason.arrow,
        side(reason.xMm),
        height(reason.yMm),
        figures.distance(TWENTY_YARDS_M),
        real(reason.p),
    )

    private fun walkBack(reason: Reason.WalkBackShows): String {
        val reach = text(R.string.reason_walk_back, figures.distance(reason.nearM), figures.distance(reason.farM))
        return text(R.string.two_sentences, reach, text(meaning(reason.meaning)))
    }

    private fun meaning(meaning: WalkBackMeaning): Int = when (meaning) {
        WalkBackMeaning.OnTheLine -> R.string.walk_on_line
        is WalkBackMeaning.Slant -> if (meaning.farSide == Side.LEFT) R.string.walk_slant_left else R.string.walk_slant_right
        is WalkBackMeaning.Bend -> if (meaning.farSide == Side.LEFT) R.string.walk_bend_left else R.string.walk_bend_right
        is WalkBackMeaning.Beside -> if (meaning.side == Side.LEFT) R.string.walk_beside_left else R.string.walk_beside_right
    }

    private fun restSeen(reason: Reason.RestDirectionSeen): String {
        val words = if (reason.mmPerMm < 0) R.string.reason_rest_left else R.string.reason_rest_right
        return text(words, figures.plain(abs(reason.mmPerMm)), figures.chance(reason.chance))
    }

    private companion object {
        const val PERCENT = 100.0

        /** What is said without an interval is said to the whole millimetre. */
        const val ROUGHLY_MM = 5.0
        const val RARE = 0.001
        const val HALF = 0.5

        /** The distance the core states a bow's answer at. */
        const val TWENTY_YARDS_M = 18.288
    }
}
