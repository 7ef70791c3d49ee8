package org.shimwright.share

import android.content.Context
import org.shimwright.R
import org.shimwright.core.ArrowSetup
import org.shimwright.core.Hand
import org.shimwright.core.Paper
import org.shimwright.core.Probe
import org.shimwright.core.SheetHeading
import org.shimwright.core.SheetName
import org.shimwright.core.SheetSide
import org.shimwright.core.SheetText
import org.shimwright.core.SheetTime
import org.shimwright.core.Trial
import org.shimwright.history.realityWord
import org.shimwright.history.reasonWord
import org.shimwright.kit.Figures
import org.shimwright.kit.SceneWords
import org.shimwright.kit.counted
import org.shimwright.kit.fittingWords
import org.shimwright.swap.cautionWord
import org.shimwright.verdict.CallWords
import kotlin.math.abs

/** What stands on a tune sheet, in the language and units of the screen. */
internal class SheetWords(private val context: Context, private val figures: Figures, trials: List<Trial>) {
    private val labels = SceneWords(context, figures).apply { begin() }

    // Of no year: on paper every day carries its own.
    private val calls = CallWords(context, figures, trials.associateBy { it.id }, nowMs = 0)

    private fun text(words: Int, vararg values: Any) = context.getString(words, *values)

    fun of(text: SheetText): String = when (text) {
        SheetText.Language -> text(R.string.language_tag)
        SheetText.Title -> text(R.string.sheet_title)
        is SheetText.AsOf -> text(R.string.sheet_as_of, figures.dated(text.atMs))
        is SheetText.Own -> text.text
        is SheetText.Label -> labels.of(text.label)
        is SheetText.Heading -> text(heading(text.of))
        is SheetText.Name -> text(name(text.of))
        is SheetText.Day -> figures.dated(text.atMs)
        is SheetText.BowLength -> figures.length(text.lengthMm)
        is SheetText.DrawForce -> figures.weight(text.forceN)
        is SheetText.Hand -> text(if (text.hand == Hand.RIGHT) R.string.right_hand else R.string.left_hand)
        is SheetText.Kit -> text(R.string.sheet_kit, text.name, figures.thickness(text.totalMm))
        is SheetText.Fitted -> context.fittingWords(text.fitting)
        SheetText.Contested -> text(R.string.contested)
        SheetText.NothingFitted -> text(R.string.bow_nothing_known)
        is SheetText.Why -> text(reasonWord(text.reason))
        is SheetText.RestAndNock -> text(R.string.sheet_rest_nock, figures.restPlace(text.restMm), figures.nockPlace(text.nockMm))
        is SheetText.Verdict -> calls.answer(text.call)
        is SheetText.Arrow -> arrow(text.setup)
        is SheetText.Shot -> shot(text)
        is SheetText.Split -> split(text)
        SheetText.NothingShotSince -> text(R.string.sheet_nothing_since)
        SheetText.IntervalNote -> text(R.string.sheet_interval_note)
        is SheetText.Caution -> text(cautionWord(text.caution))
    }

    private fun heading(of: SheetHeading): Int = when (of) {
        SheetHeading.FITTED -> R.string.sheet_fitted
        SheetHeading.BOW -> R.string.sheet_bow
        SheetHeading.ARROWS -> R.string.arrows
        SheetHeading.SHOT -> R.string.sheet_before_after
        SheetHeading.CAUTIONS -> R.string.about_cautions
    }

    private fun name(of: SheetName): Int = when (of) {
        SheetName.FITTED -> R.string.sheet_spacers
        SheetName.SINCE -> R.string.sheet_since
        SheetName.WHY -> R.string.sheet_why
        SheetName.REST_AND_NOCK -> R.string.sheet_rest_nock_name
        SheetName.VERDICT -> R.string.sheet_verdict
        SheetName.HAND -> R.string.hand
        SheetName.AXLE_TO_AXLE -> R.string.axle_to_axle
        SheetName.BRACE_HEIGHT -> R.string.brace_height
        SheetName.DRAW_WEIGHT -> R.string.draw_weight
        SheetName.DRAW_LENGTH -> R.string.draw_length
        SheetName.CAMS -> R.string.sheet_cams
        SheetName.KIT -> R.string.kit
        SheetName.NOTES -> R.string.notes
    }

    private fun arrow(setup: ArrowSetup): String = listOfNotNull(
        text(R.string.sheet_shaft, figures.length(setup.shaftLengthMm)),
        setup.diameterMm?.let { text(R.string.sheet_thick, figures.length(it)) },
        setup.totalMassKg?.let { text(R.string.sheet_mass, mass(it)) },
        setup.pointMassKg?.let { text(R.string.sheet_point, mass(it)) },
        setup.staticSpine?.let { text(R.string.sheet_spine, figures.plain(it)) },
        setup.speedMps?.let { text(R.string.figure_unit, figures.speedField(it), figures.speedUnit) },
    ).joinToString()

    private fun mass(kg: Double) = text(R.string.figure_unit, figures.massField(kg), figures.grain)

    private fun shot(shot: SheetText.Shot): String {
        val words = if (shot.time == SheetTime.BEFORE) R.string.sheet_shot_before else R.string.sheet_shot_now
        val what = when (shot.probe) {
            Probe.BARE -> R.string.sheet_bare
            Probe.BROADHEAD -> R.string.sheet_broadheads
            Probe.PAPER -> R.string.sheet_paper
        }
        return text(words, text(what), figures.distance(shot.distanceM), figures.dated(shot.atMs))
    }

    /** Sideways with its interval, up and down with its own, and how many arrows that rests on. */
    private fun split(split: SheetText.Split): String {
        val real = text(realityWord(split.x.reality))
        val sideways = when (split.probe) {
            Probe.BARE -> text(R.string.lands_bare, figures.roughly(split.x.valueMm), real)
            Probe.BROADHEAD -> text(R.string.lands_broadhead, figures.roughly(split.x.valueMm), real)
            Probe.PAPER -> text(tear(split.x.valueMm), figures.size(split.x.valueMm), real)
        }
        val range = split.x.takeIf(::known)?.let { figures.interval(it.low95Mm, it.high95Mm) }
        val arrows = context.counted(R.plurals.sheet_arrows, split.arrows.toInt())
        val height = text(R.string.sheet_height, upDown(split.y), arrows)
        return listOfNotNull(sideways, range, height).reduce { said, more -> text(R.string.two_sentences, said, more) }
    }

    private fun tear(xMm: Double) = if (xMm < 0) R.string.lands_tear_left else R.string.lands_tear_right

    private fun upDown(side: SheetSide): String {
        if (!known(side)) return text(if (side.valueMm < 0) R.string.figure_low else R.string.figure_high, figures.size(side.valueMm))
        return figures.upright(side.valueMm, abs(side.high95Mm - side.low95Mm) / 2)
    }

    private fun known(side: SheetSide) = side.low95Mm.isFinite() && side.high95Mm.isFinite()
}

/** The paper of a country: Letter where the Unicode CLDR says US-Letter (from memory), A4 elsewhere. */
internal fun paperOf(country: String): Paper = if (country in LETTER) Paper.LETTER else Paper.A4

private val LETTER = setOf("BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE")
