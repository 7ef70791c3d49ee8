package org.shimwright.verdict

import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Test
import org.shimwright.core.Adjustment
import org.shimwright.core.ArrowKind
import org.shimwright.core.Arrows
import org.shimwright.core.Call
import org.shimwright.core.CheckItem
import org.shimwright.core.Direction
import org.shimwright.core.DistanceUnit
import org.shimwright.core.Knob
import org.shimwright.core.LengthUnit
import org.shimwright.core.MeasuredUnit
import org.shimwright.core.NextLook
import org.shimwright.core.OutOfRange
import org.shimwright.core.Probe
import org.shimwright.core.Reason
import org.shimwright.core.Side
import org.shimwright.core.Trim
import org.shimwright.core.WalkBackMeaning
import org.shimwright.frame.Wishes
import org.shimwright.kit.Figures
import org.shimwright.kit.Units
import org.shimwright.testing.Samples
import org.shimwright.testing.ShellTest

/** Every reason and every call has words in every language, with no blank left open. */
class ReasonWordsTest : ShellTest() {
    private val outside = OutOfRange(CheckItem.AXLE_TO_AXLE, 845.0, 836.0, 842.0, MeasuredUnit.MILLIMETRE)

    private val reasons = listOf(
        Reason.NothingShot,
        Reason.TooFewArrows(Probe.BARE, 1u, 2u, 3u),
        Reason.TooFewArrows(Probe.PAPER, 1u, 1u, 3u),
        Reason.NoReference(7),
        Reason.TrialWithoutFitting(7),
        Reason.TrialOutvoted(7),
        Reason.SplitIsReal(Probe.BARE, 61.0, 11.0, 24.2, 0.0004, null),
        Reason.SplitIsReal(Probe.BROADHEAD, 61.0, 11.0, 24.2, 0.0004, 36.576),
        Reason.SplitMayBeScatter(Probe.BROADHEAD, -12.0, 11.0, 24.2, 0.27, null),
        Reason.WithinTolerance(Probe.BARE, 4.0, 25.0, 0.93),
        Reason.NotYetSeenOnThisBow,
        Reason.SeenOnThisBow(33.0, 12.0, 19.0, 52.0),
        Reason.AnswersTheOtherWay(0.97),
        Reason.DirectionOpen(0.3),
        Reason.StepPays(0.05, 0.44, 40.0),
        Reason.TearsTeach,
        Reason.RestBeforePress,
        Reason.PutBack,
        Reason.NothingPays(null, -31.0, 0.35),
        Reason.NothingPays(Probe.BARE, -31.0, 0.35),
        Reason.KitEnds(31.0),
        Reason.StepsCoarse(-41.0, 38.0),
        Reason.MayBeInside(0.6),
        Reason.HeadsAlone,
        Reason.FamilyKnown(3u),
        Reason.SwapRemembered,
        Reason.SwapMadeItWorse(60.0, 95.0),
        Reason.CamsApart(1.2, 0.6),
        Reason.PiecesNotAtHand("A", 4.0),
        Reason.UnequalAxles(0.6),
        Reason.MoreArrowsPay(4.2, 3u),
        Reason.CheckFirst(CheckItem.CAM_TIMING, true, null),
        Reason.CheckFirst(CheckItem.AXLE_TO_AXLE, true, outside),
        Reason.VerticalFirst(null, -44.0, 9.0, Direction.DOWN),
        Reason.VerticalFirst(Probe.BARE, -44.0, 9.0, Direction.DOWN),
        Reason.VerticalFirst(Probe.PAPER, 16.0, 2.5, Direction.DOWN),
        Reason.VerticalExplained(Probe.BARE, 12.0, null),
        Reason.VerticalExplained(Probe.BARE, 15.0, -24.0),
        Reason.ArrowApart(7, ArrowKind.FLETCHED, 2u),
        Reason.ArrowHabit(4, ArrowKind.FLETCHED, 5u, 30.0, -8.0, 0.01),
        Reason.WalkBackShows(WalkBackMeaning.Slant(Side.LEFT), 2.0, 0.5, 18.0, 45.0),
        Reason.WalkBackShows(WalkBackMeaning.OnTheLine, 0.0, 0.5, 18.0, 45.0),
        Reason.WalkBackShows(WalkBackMeaning.Bend(Side.RIGHT), 0.0, 0.5, 18.0, 45.0),
        Reason.WalkBackShows(WalkBackMeaning.Beside(Side.RIGHT), 0.0, 0.5, 18.0, 45.0),
        Reason.OppositeSigns(25.0, 60.0),
        Reason.OppositeHeights(-20.0, -51.0),
        Reason.OppositeHeights(18.0, 3.0),
        Reason.HeadsApart(-60.0, 50.0),
        Reason.HeadsMovedApart(50.0, -50.0),
        Reason.HeadsOffHeight(-61.0),
        Reason.HeightStays(Probe.BARE, -58.0, 7.0),
        Reason.ShootersDiffer(Probe.BARE, -34.0, 12.0, 18.288),
        Reason.Crept(Probe.BARE, 8u, false, -2.0, 36.0),
        Reason.Crept(Probe.BARE, 6u, true, -2.0, -58.0),
        Reason.BareScatter(3.1),
        Reason.HeadsScatter(4.2),
        Reason.TrialDisagrees(7, 3.3),
        Reason.OlderEpochs(2u),
        Reason.DistancesCombined(0.15),
        Reason.PaperAlone,
        Reason.NotYetShot(Probe.BROADHEAD),
        Reason.NotShotSince(Probe.BROADHEAD),
        Reason.FirstIsIn(Probe.BROADHEAD, Probe.BARE),
        Reason.RestDirectionDisputed,
        Reason.RestDirectionSeen(-20.0, 0.9),
        Reason.SpineLabelsDisputed,
    ) + NextLook.entries.map { Reason.LookNext(it) }

    private val arrows = Arrows(3u, 3u, 2u, 1u, 18.288)
    private val left = Trim(-0.8, 0.4, 0.5)
    private val right = Trim(0.8, 0.4, 0.9)
    private val none = Trim(0.0, 0.0, 1.0)

    private val calls = listOf(
        Call.Fit(Samples.both("C", Side.RIGHT), experiment = true),
        Call.Stop,
        Call.SpacersCannot,
        Call.Trim(Knob.REST, left, putBack = false, arrows),
        Call.Trim(Knob.REST, right, putBack = false, arrows),
        Call.Trim(Knob.REST, left, putBack = true, arrows),
        Call.Trim(Knob.REST, right, putBack = true, arrows),
        Call.Trim(Knob.NOCK, left, putBack = false, arrows),
        Call.Trim(Knob.NOCK, right, putBack = false, arrows),
        Call.ShootMore(arrows),
    ) + listOf(
        Adjustment.Check(CheckItem.LIMB_DAMAGE, failed = true, null),
        Adjustment.Check(CheckItem.AXLE_TO_AXLE, failed = true, outside),
        Adjustment.Check(CheckItem.REST_SOUND, failed = false, null),
        Adjustment.CamsApart(1.2, 0.6),
        Adjustment.Arrow(7, ArrowKind.BARE, 1u, null, false),
        Adjustment.Arrow(7, ArrowKind.BARE, 1u, 4, false),
        Adjustment.Arrow(7, ArrowKind.BARE, 1u, 4, true),
        Adjustment.ConfirmSwap(60.0, 95.0, arrows),
        Adjustment.Contact(7, 25.0, 60.0, inHeight = false),
        Adjustment.Contact(7, -25.0, -60.0, inHeight = false),
        Adjustment.Contact(7, 0.0, 60.0, inHeight = false),
        Adjustment.Contact(7, -20.0, -51.0, inHeight = true),
        Adjustment.Spine(2.8),
        Adjustment.Contradiction(7, null),
        Adjustment.Contradiction(7, Probe.BROADHEAD),
        Adjustment.Vertical(Probe.BROADHEAD, 40.0, 8.0, Direction.UP, right, seenOnThisBow = true),
        Adjustment.Vertical(Probe.PAPER, -40.0, 8.0, Direction.DOWN, left, seenOnThisBow = false),
        Adjustment.Vertical(null, 40.0, 8.0, Direction.UP, none, seenOnThisBow = false),
        Adjustment.Vertical(null, -40.0, 8.0, Direction.DOWN, none, seenOnThisBow = false),
    ).map { Call.AdjustFirst(it) }

    private fun said(qualifiers: String): List<String> {
        open()
        reconfigure(qualifiers)
        val figures = Figures(shell, Units(LengthUnit.MILLIMETRE, DistanceUnit.METRE))
        val words = CallWords(shell, figures, emptyMap(), NOW_MS)
        val whole = ReasonWords(shell, figures, words, paperShot = true, chances = true)
        return reasons.map(whole::of) + calls.flatMap { listOf(words.answer(it)) + words.details(it) }
    }

    @Test
    fun `every reason and call is a sentence of its own in every language`() {
        val english = said("en-rGB-w411dp-h891dp-port-notnight-hdpi")
        assertEquals("said of two reasons", reasons.size, english.take(reasons.size).toSet().size)
        complete(english)
        for (language in Wishes.SPOKEN.drop(1)) {
            val other = said("$language-w411dp-h891dp-port-notnight-hdpi")
            complete(other)
            assertEquals("left in English", emptyList<String>(), english.zip(other).filter { it.first == it.second }.map { it.first })
        }
    }

    private fun complete(sentences: List<String>) {
        for (sentence in sentences) assertFalse(sentence, Regex("%\\d").containsMatchIn(sentence) || sentence.isBlank())
    }
}
