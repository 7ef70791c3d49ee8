package org.shimwright.kit

import android.content.Context
import org.shimwright.R
import org.shimwright.core.ArrowKind
import org.shimwright.core.LabelText
import org.shimwright.core.Scene
import org.shimwright.core.Shape
import org.shimwright.core.Word

/** The words of a scene's labels, in the language and units of the screen. */
class SceneWords(private val context: Context, private val figures: Figures) {
    private var day = ""
    private var year = ""
    private var severalYears = false

    /** A [scene] begins: its first label of a day names the day, the further ones the time. */
    fun begin(scene: Scene? = null) {
        day = ""
        year = ""
        val days = scene?.items.orEmpty().mapNotNull { ((it.shape as? Shape.Label)?.text as? LabelText.Day)?.atMs }
        severalYears = days.distinctBy(figures::year).size > 1
    }

    /** The year to be told over a label: of the first day of each, where days of several years stand side by side. */
    fun yearOver(text: LabelText): String? {
        if (!severalYears || text !is LabelText.Day) return null
        return figures.year(text.atMs).takeIf { it != year }?.also { year = it }
    }

    private fun dayOrTime(atMs: Long): String {
        val named = figures.day(atMs)
        if (named == day) return figures.time(atMs)
        day = named
        return named
    }

    fun of(text: LabelText): String = when (text) {
        is LabelText.Fixed -> context.getString(fixed(text.word), figures.lengthUnit)
        is LabelText.Kind -> context.getString(kindWord(text.kind))
        is LabelText.Own -> text.text
        is LabelText.SpacerPair -> context.getString(R.string.pair_named, text.name)
        is LabelText.Thickness -> figures.thickness(text.thicknessMm)
        is LabelText.Length -> figures.length(text.lengthMm)
        is LabelText.CamMove -> figures.camMove(text.shiftMm)
        is LabelText.Sideways -> figures.sideways(text.xMm, text.plusMinusMm)
        is LabelText.Height -> figures.upright(text.yMm, text.plusMinusMm)
        is LabelText.Offset -> figures.offset(text.xMm, text.yMm, text.plusMinusMm)
        is LabelText.Fitted -> context.fittingTiny(text.fitting)
        is LabelText.AxisValue -> figures.bare(text.valueMm)
        is LabelText.Day -> dayOrTime(text.atMs)
        is LabelText.Number -> figures.count(text.number)
    }

    private fun fixed(word: Word): Int = when (word) {
        Word.NOW -> R.string.scene_now
        Word.FIT -> R.string.scene_fit
        Word.BEFORE -> R.string.scene_before
        Word.AFTER -> R.string.scene_after
        Word.TOP_AXLE -> R.string.top_axle
        Word.BOTTOM_AXLE -> R.string.bottom_axle
        Word.LEFT -> R.string.left
        Word.RIGHT -> R.string.right
        Word.EXPECTED_AFTER -> R.string.scene_expected_after
        Word.TOLERANCE -> R.string.scene_tolerance
        Word.SPLIT_AXIS -> R.string.scene_split_axis
        Word.THICK -> R.string.scene_thick
        Word.THIN -> R.string.scene_thin
        Word.STRING_SIDE -> R.string.scene_string_side
        Word.CAM_STAYS -> R.string.scene_cam_stays
        Word.NOT_SNAPPED -> R.string.scene_not_snapped
        Word.PROPOSED -> R.string.scene_proposed
        Word.POINT -> R.string.scene_point
        Word.NOCK -> R.string.scene_nock
    }
}

fun kindWord(kind: ArrowKind): Int = when (kind) {
    ArrowKind.FLETCHED -> R.string.kind_fletched
    ArrowKind.BARE -> R.string.kind_bare
    ArrowKind.BROADHEAD -> R.string.kind_broadhead
}
