package org.shimwright.checks

import android.content.Context
import org.shimwright.R
import org.shimwright.bow.changeWord
import org.shimwright.core.Bow
import org.shimwright.core.CheckItem
import org.shimwright.core.CheckState
import org.shimwright.core.MakerRange
import org.shimwright.core.MeasuredUnit
import org.shimwright.core.Reopened
import org.shimwright.core.SetupCheck
import org.shimwright.core.settlingShots
import org.shimwright.kit.Column
import org.shimwright.kit.Entry
import org.shimwright.kit.Field
import org.shimwright.kit.Figures
import org.shimwright.kit.Reading
import org.shimwright.kit.caution
import org.shimwright.kit.checkWord
import org.shimwright.kit.counted
import org.shimwright.kit.length

/** What the bow's maker states for a check; open at both ends where nobody has entered it. */
internal fun Bow.makerRange(item: CheckItem): MakerRange = maker.find { it.item == item } ?: MakerRange(item, null, null)

/** A measured value with its unit; [fine] to all that was typed. */
internal fun measuredWords(item: CheckItem, value: Double, figures: Figures, fine: Boolean = false): String = when {
    unitOf(item) == MeasuredUnit.NEWTON -> figures.weight(value)
    fine -> figures.lengthFine(value)
    else -> figures.length(value)
}

/** The same as a field takes it. */
internal fun Figures.measuredField(item: CheckItem, value: Double): String =
    if (unitOf(item) == MeasuredUnit.NEWTON) weightField(value) else lengthField(value)

/** A field for what a check measures: a weight in the trade's one unit, a length in either. */
internal fun Field.takes(item: CheckItem, figures: Figures, context: Context) {
    if (unitOf(item) != MeasuredUnit.NEWTON) return length(figures)
    entry = Entry.FIGURE
    unit = context.getString(R.string.unit_pound)
}

/** A value as typed: a length may lie left, below or before, with a minus. */
internal fun Reading.measured(item: CheckItem, key: String, text: String): Double? = when {
    unitOf(item) == MeasuredUnit.NEWTON -> weight(key, text)
    text.isBlank() -> null
    else -> signed(key, text)
}

/** What the maker states; null where nothing is known. */
internal fun Context.makerWords(range: MakerRange, figures: Figures, fine: Boolean = false): String? {
    val low = range.low?.let { measuredWords(range.item, it, figures, fine) }
    val high = range.high?.let { measuredWords(range.item, it, figures, fine) }
    return when {
        low != null && high != null -> getString(R.string.maker_between, low, high)
        low != null -> getString(R.string.maker_from, low)
        high != null -> getString(R.string.maker_to, high)
        else -> null
    }
}

/** What opened a check again. */
internal fun Context.reopenedWords(by: Reopened): String = when (by) {
    is Reopened.Swap -> getString(R.string.reopened_swap)
    is Reopened.Change -> getString(R.string.reopened_change, getString(changeWord(by.kind)))
}

/** What holds for every check that a swap opened. */
internal fun Context.afterSwap(): String {
    val shots = settlingShots().toInt()
    val settle = counted(R.plurals.settle, shots)
    return getString(R.string.two_sentences, settle, getString(R.string.sight_again))
}

/** What is on record as damaged: whoever opens the bow's page must read it before drawing, pressing or shooting. */
internal fun Column.damage(checks: List<SetupCheck>) {
    for (check in checks.filter { it.state == CheckState.FAILED && it.item.breaks }) {
        val caution = cautionOf(check.item) ?: continue
        val heading = context.getString(
            R.string.two_facts,
            context.getString(checkWord(check.item)),
            context.getString(R.string.check_failed),
        )
        caution(heading, context.getString(caution))
    }
}

/** Whether the bow breaks there when it is drawn or pressed. */
internal val CheckItem.breaks get() = this == CheckItem.LIMB_DAMAGE || this == CheckItem.STRING_AND_CABLES
