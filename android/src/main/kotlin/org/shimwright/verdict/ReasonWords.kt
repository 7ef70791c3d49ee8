package org.shimwright.verdict

import android.content.Context
import org.shimwright.R
import org.shimwright.core.Direction
import org.shimwright.core.NextLook
import org.shimwright.core.Probe
import org.shimwright.core.Reason
import org.shimwright.core.Side
import org.shimwright.core.WalkBackMeaning
import org.shimwright.kit.Figures
import org.shimwright.kit.checkWord
import org.shimwright.kit.counted
import kotlin.math.abs
import kotlin.math.floor
import kotlin.math.log10
import kotlin.math.pow
import kotlin.math.roundToInt

/**
 * Every reason of the core in words. The list is closed: a new kind does not compile until it has its sentence.
 * [paperShot]: a clean hole is warned of only where there is one; [chances]: with the figure behind "real".
 */
internal class ReasonWords(
    private val context: Context,
    private val figures: Figures,
    private val calls: CallWords,
    private val paperShot: Boolean,
    private val chances: Boolean,
) {
    private fun text(words: Int, vararg values: Any) = context.getString(words, *values)

    private fun plural(words: Int, count: UInt, vararg more: Any) = context.counted(words, count.toInt(), *more)

    private fun probe(kind: Probe) = text(probeWord(kind))

    fun of(reason: Reason): String = when (reason) {
        Reason.NothingShot -> text(R.string.reason_nothing_shot)
        is Reason.TooFewArrows -> tooFew(reason)
        is Reason.NoReference -> text(R.string.reason_no_reference, calls.trial(reason.trial))
        is Reason.TrialWithoutFitting -> text(R.string.reason_no_fitting, calls.trial(reason.trial))
        is Reason.TrialOutvoted -> text(R.string.reason_outvoted, calls.trial(reason.trial))
        is Reason.SplitIsReal -> withChance(lands(reason), reason.p)
        is Reason.SplitMayBeScatter -> withChance(lands(reason), reason.p)
        is Reason.WithinTolerance -> within(reason)
        Reason.NotYetSeenOnThisBow -> text(R.string.reason_not_seen)
        is Reason.SeenOnThisBow -> seen(reason)
        is Reason.AnswersTheOtherWay -> text(R.string.reason_other_way, figures.chance(reason.chance))
        is Reason.DirectionOpen -> text(R.string.reason_direction_open, figures.chance(reason.wrongWayChance))
        is Reason.StepPays -> text(R.string.reason_step_pays, reason.minutes.roundToInt())
        Reason.TearsTeach -> text(R.string.reason_tears_teach)
        Reason.RestBeforePress -> text(R.string.reason_rest_first)
        Reason.PutBack -> text(R.string.reason_put_back)
        is Reason.NothingPays -> nothingPays(reason)
        is Reason.KitEnds -> text(R.string.reason_kit_ends, figures.size(reason.remainingMm))
        is Reason.StepsCoarse -> text(R.string.reason_steps_coarse, figures.roughly(reason.leftMm), figures.roughly(reason.rightMm))
        is Reason.LookNext -> text(nextWord(reason.look))
        is Reason.MayBeInside -> text(R.string.reason_may_be_inside, figures.chance(reason.chance))
        Reason.HeadsAlone -> text(R.string.reason_heads_alone)
        is Reason.FamilyKnown -> plural(R.plurals.reason_family, reason.relatives)
        Reason.SwapRemembered -> text(R.string.reason_remembered)
        is Reason.SwapMadeItWorse -> calls.worse(reason.beforeMm, reason.afterMm)
        is Reason.CamsApart -> calls.apart(reason.tiltMm, reason.limitMm)
        is Reason.PiecesNotAtHand -> text(R.string.reason_not_at_hand, reason.pair, figures.size(reason.afterMm))
        is Reason.UnequalAxles -> text(R.string.reason_unequal, figures.thickness(abs(reason.tiltMm)))
        is Reason.MoreArrowsPay -> plural(R.plurals.reason_more_pay, reason.arrows, figures.size(reason.savingMm))
        is Reason.CheckFirst -> checkFirst(reason)
        is Reason.VerticalFirst -> verticalFirst(reason)
        is Reason.VerticalExplained -> gravity(reason)
        is Reason.ArrowApart -> text(R.string.reason_arrow_apart, calls.nth(reason.kind, reason.index), calls.trial(reason.trial))
        is Reason.ArrowHabit -> habit(reason)
        is Reason.WalkBackShows -> walkBack(reason)
        is Reason.OppositeSigns -> calls.opposite(reason.tearMm, reason.bareMm)
        is Reason.OppositeHeights -> calls.oppositeHeights(reason.tearMm, reason.bareMm)
        is Reason.HeadsApart -> text(R.string.reason_heads_apart, figures.roughly(reason.headsMm), figures.roughly(reason.bareMm))
        is Reason.HeadsMovedApart -> text(R.string.reason_heads_moved, figures.roughly(reason.headsMm), figures.roughly(reason.bareMm))
        is Reason.HeadsOffHeight -> calls.headsOff(reason)
        is Reason.HeightStays -> calls.heightStays(reason)
        is Reason.ShootersDiffer -> shooters(reason)
        is Reason.Crept -> crept(reason)
        is Reason.BareScatter -> text(R.string.reason_bare_scatter, figures.plain(reason.ratio))
        is Reason.HeadsScatter -> text(R.string.reason_heads_scatter, figures.plain(reason.ratio))
        is Reason.TrialDisagrees -> text(R.string.reason_trial_apart, figures.plain(reason.sds), calls.trial(reason.trial))
        is Reason.OlderEpochs -> plural(R.plurals.reason_older, reason.trials)
        is Reason.DistancesCombined -> text(R.string.reason_distances, (reason.modelError * PERCENT).roundToInt())
        Reason.PaperAlone -> text(R.string.reason_paper_alone)
        is Reason.NotYetShot -> text(if (paperShot) R.string.reason_not_shot_paper else R.string.reason_not_shot, probe(reason.kind))
        is Reason.FirstIsIn -> text(R.string.reason_first_in, probe(reason.first), probe(reason.other))
        is Reason.NotShotSince -> text(R.string.reason_not_shot_since, probe(reason.kind))
        Reason.RestDirectionDisputed -> text(R.string.reason_rest_open)
        is Reason.RestDirectionSeen -> restSeen(reason)
        Reason.SpineLabelsDisputed -> text(R.string.reason_spine_disputed)
    }

    private fun tooFew(reason: Reason.TooFewArrows): String {
        val have = plural(shotWord(reason.kind), reason.have)
        if (reason.kind == Probe.PAPER) return text(R.string.reason_too_few_tears, have, reason.need.toInt())
        return text(R.string.reason_too_few, have, plural(R.plurals.shot_fletched, reason.haveReference), reason.need.toInt())
    }

    private fun nothingPays(reason: Reason.NothingPays): String {
        val (left, chance) = figures.roughly(reason.bestMm) to figures.chance(reason.chance)
        val kind = reason.kind ?: return text(R.string.reason_nothing_pays, left, chance)
        return text(R.string.reason_nothing_pays_for, left, chance, probe(kind))
    }

    private fun crept(reason: Reason.Crept): String {
        val (from, to) = listOf(reason.fromMm, reason.toMm).map { if (reason.inHeight) figures.raised(it) else figures.roughly(it) }
        val words = if (reason.inHeight) R.plurals.reason_crept_height else R.plurals.reason_crept
        return plural(words, reason.rounds, probe(reason.kind), from, to)
    }

    private fun shooters(reason: Reason.ShootersDiffer): String {
        val (apart, spread) = figures.side(reason.xMm, reason.plusMinusMm)
        return text(R.string.reason_shooters, probe(reason.kind), figures.distance(reason.distanceM), apart, spread)
    }

    private fun lands(split: Reason.SplitIsReal) = calls.lands(split.kind, split.xMm, text(R.string.is_real), split.distanceM)

    private fun lands(split: Reason.SplitMayBeScatter) = calls.lands(split.kind, split.xMm, text(R.string.is_scatter), split.distanceM)

    private fun withChance(said: String, p: Double) = if (chances) text(R.string.two_sentences, said, chance(p)) else said

    private fun chance(p: Double): String = when {
        p < RARE -> text(R.string.chance_rare)
        p < HALF -> text(R.string.chance_once, twoDigits(1 / p))
        else -> text(R.string.chance_often)
    }

    /** A count to two digits: no chance is known better. */
    private fun twoDigits(count: Double): Int {
        val step = 10.0.pow(floor(log10(count)) - 1).coerceAtLeast(1.0)
        return ((count / step).roundToInt() * step).roundToInt()
    }

    private fun within(reason: Reason.WithinTolerance) = text(
        R.string.reason_within,
        probe(reason.kind),
        figures.roughly(reason.xMm),
        figures.chance(reason.chance),
        figures.size(reason.toleranceMm),
    )

    private fun seen(reason: Reason.SeenOnThisBow) = text(
        R.string.reason_seen,
        figures.size(reason.least * figures.camStepMm),
        figures.size(reason.most * figures.camStepMm),
        figures.distance(TWENTY_YARDS_M),
        figures.thickness(figures.camStepMm),
    )

    private fun nextWord(look: NextLook): Int = when (look) {
        NextLook.HEADS -> R.string.next_heads
        NextLook.CENTRE_SHOT -> R.string.next_centre
        NextLook.CABLE_OR_YOKE -> R.string.next_cables
        NextLook.TIMING -> R.string.next_timing
        NextLook.SPINE -> R.string.next_spine
        NextLook.GRIP -> R.string.next_grip
        NextLook.ANOTHER_KIT -> R.string.next_kit
    }

    private fun checkFirst(reason: Reason.CheckFirst): String {
        val said = text(if (reason.failed) R.string.reason_check_failed else R.string.reason_check_open, text(checkWord(reason.check)))
        return reason.found?.let { text(R.string.two_sentences, said, calls.outside(it)) } ?: said
    }

    private fun gravity(reason: Reason.VerticalExplained): String {
        val raised = figures.raised(reason.yMm)
        val left = reason.leftMm ?: return text(R.string.reason_vertical_known, probe(reason.kind), raised)
        return text(R.string.reason_vertical_left, probe(reason.kind), raised, figures.raised(left))
    }

    private fun verticalFirst(reason: Reason.VerticalFirst): String {
        val way = if (reason.direction == Direction.DOWN) R.string.reason_nock_down else R.string.reason_nock_up
        return text(R.string.two_sentences, calls.left(reason.kind, reason.yMm, reason.sdMm), text(way))
    }

    private fun habit(reason: Reason.ArrowHabit) = plural(
        R.plurals.reason_habit,
        reason.trials,
        reason.arrow,
        figures.roughly(reason.xMm),
        figures.raised(reason.yMm),
        figures.distance(TWENTY_YARDS_M),
    )

    private fun walkBack(reason: Reason.WalkBackShows): String {
        val reach = text(R.string.reason_walk_back, figures.distance(reason.nearM), figures.distance(reason.farM))
        return text(R.string.two_sentences, reach, text(walkWord(reason.meaning)))
    }

    private fun walkWord(meaning: WalkBackMeaning): Int = when (meaning) {
        WalkBackMeaning.OnTheLine -> R.string.walk_on_line
        is WalkBackMeaning.Slant -> if (meaning.farSide == Side.LEFT) R.string.walk_slant_left else R.string.walk_slant_right
        is WalkBackMeaning.Bend -> if (meaning.farSide == Side.LEFT) R.string.walk_bend_left else R.string.walk_bend_right
        is WalkBackMeaning.Beside -> if (meaning.side == Side.LEFT) R.string.walk_beside_left else R.string.walk_beside_right
    }

    private fun restSeen(reason: Reason.RestDirectionSeen): String {
        val words = if (reason.mmPerMm < 0) R.string.reason_rest_left else R.string.reason_rest_right
        val step = figures.camStepMm
        return text(words, figures.size(reason.mmPerMm * step), figures.thickness(step), figures.chance(reason.chance))
    }

    private companion object {
        const val PERCENT = 100.0
        const val RARE = 0.001
        const val HALF = 0.5

        /** The distance the core states a bow's response at. */
        const val TWENTY_YARDS_M = 18.288
    }
}

/** Whether a figure stands behind what a reason calls real or scatter. */
internal val Reason.hasChance get() = this is Reason.SplitIsReal || this is Reason.SplitMayBeScatter
