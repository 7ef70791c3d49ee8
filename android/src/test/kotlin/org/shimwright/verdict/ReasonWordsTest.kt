package org.shimwright.verdict

import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Test
import org.shimwright.core.Adjustment
import org.shimwright.core.ArrowKind
import org.shimwright.core.Call
import org.shimwright.core.CheckItem
import org.shimwright.core.DistanceUnit
import org.shimwright.core.LengthUnit
import org.shimwright.core.Probe
import org.shimwright.core.Reason
import org.shimwright.core.Side
import org.shimwright.core.Trim
import org.shimwright.core.WalkBackMeaning
import org.shimwright.kit.Figures
import org.shimwright.kit.Units
import org.shimwright.testing.Samples
import org.shimwright.testing.ShellTest

/** Every reason and every call has words in both languages, with no blank left open. */
class ReasonWordsTest : ShellTest() {
    private val reasons = listOf(
        Reason.NothingShot,
        Reason.TooFewArrows(Probe.BARE, 1u, 2u, 3u),
        Reason.NoReference(7),
        Reason.TrialWithoutFitting(7),
        Reason.SplitIsReal(Probe.BARE, 61.0, 11.0, 0.0004),
        Reason.SplitMayBeScatter(Probe.BROADHEAD, -12.0, 11.0, 0.27),
        Reason.WithinTolerance(Probe.BARE, 4.0, 25.0, 0.93),
        Reason.NotYetSeenOnThisBow,
        Reason.SeenOnThisBow(33.0, 9.0),
        Reason.AnswersTheOtherWay(0.97),
        Reason.DirectionOpen(0.3),
        Reason.FittingPays(61.0, 9.0, 2u),
        Reason.NoFittingPays(2.0, 8.0),
        Reason.KitEnds(31.0),
        Reason.PrioritiesConflict(Probe.BROADHEAD, 3.0, Probe.BARE, 9.0, 40.0),
        Reason.PiecesNotAtHand("A", 4.0),
        Reason.UnequalAxles(0.6),
        Reason.MoreArrowsPay(4.2, 3u),
        Reason.CheckFirst(CheckItem.CAM_TIMING, true),
        Reason.VerticalFirst(-44.0, 9.0),
        Reason.VerticalExplained(Probe.BARE, 12.0),
        Reason.ArrowApart(7, ArrowKind.FLETCHED, 2u),
        Reason.ArrowHabit(4, ArrowKind.FLETCHED, 5u, 30.0, -8.0, 0.01),
        Reason.WalkBackShows(WalkBackMeaning.Slant(Side.LEFT), 2.0, 0.5, 18.0, 45.0),
        Reason.WalkBackShows(WalkBackMeaning.OnTheLine, 0.0, 0.5, 18.0, 45.0),
        Reason.WalkBackShows(WalkBackMeaning.Bend(Side.RIGHT), 0.0, 0.5, 18.0, 45.0),
        Reason.WalkBackShows(WalkBackMeaning.Beside(Side.RIGHT), 0.0, 0.5, 18.0, 45.0),
        Reason.TearDisagrees(7, 2.7),
        Reason.BareScatter(3.1),
        Reason.TrialDisagrees(7, 3.3),
        Reason.OlderEpochs(2u),
        Reason.DistancesCombined(0.15),
        Reason.PaperAlone,
        Reason.NotYetShot(Probe.BROADHEAD),
        Reason.RestDirectionDisputed,
        Reason.RestDirectionSeen(-20.0, 0.9),
        Reason.CamDirectionDisputed,
        Reason.SpineLabelsDisputed,
    )

    private val trim = Trim(0.4, 0.1, 0.9)

    private val calls = listOf(
        Call.Fit(Samples.both("C", Side.RIGHT)),
        Call.Keep(trim, trim),
        Call.ShootMore(2u, 1u, 3u, 1u, 18.288),
        Call.AdjustFirst(Adjustment.FailedCheck(CheckItem.LIMB_DAMAGE)),
        Call.AdjustFirst(Adjustment.OpenCheck(CheckItem.REST_SOUND)),
        Call.AdjustFirst(Adjustment.NockingPoint(40.0, 8.0, trim)),
        Call.AdjustFirst(Adjustment.NockingPoint(40.0, 8.0, null)),
        Call.AdjustFirst(Adjustment.Arrow(7, ArrowKind.BARE, 1u, null)),
        Call.AdjustFirst(Adjustment.Arrow(7, ArrowKind.BARE, 1u, 4)),
        Call.AdjustFirst(Adjustment.Clearance(7)),
        Call.AdjustFirst(Adjustment.Spine(2.8)),
        Call.AdjustFirst(Adjustment.Contradiction(7)),
    )

    private fun said(qualifiers: String): List<String> {
        open()
        reconfigure(qualifiers)
        val figures = Figures(shell, Units(LengthUnit.MILLIMETRE, DistanceUnit.METRE))
        val words = CallWords(shell, figures, emptyMap())
        val whole = ReasonWords(shell, figures, words)
        return reasons.map(whole::of) + calls.flatMap { listOf(words.answer(it)) + words.details(it) }
    }

    @Test
    fun `every reason and call is a sentence of its own in both languages`() {
        val english = said("en-rGB-w411dp-h891dp-port-notnight-hdpi")
        val german = said("de-rDE-w411dp-h891dp-port-notnight-hdpi")
        for (sentence in english + german) {
            assertFalse(sentence, Regex("%\\d").containsMatchIn(sentence) || sentence.isBlank())
        }
        assertEquals("said of two reasons", reasons.size, english.take(reasons.size).toSet().size)
        assertEquals("left in English", emptyList<String>(), english.zip(german).filter { it.first == it.second }.map { it.first })
    }
}
