package org.shimwright.checks

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.MakerRange
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Reading
import org.shimwright.kit.action
import org.shimwright.kit.field
import org.shimwright.kit.note
import org.shimwright.kit.typed

/** What the bow maker states for the check on the screen: shown beside the figure, entered once, kept with the bow. */
internal class MakerPart(private val kept: Bundle, private val refresh: () -> Unit) {
    fun ask(body: Column, state: CheckStep, figures: Figures) {
        val context = body.context
        body.note(context.makerWords(state.maker, figures) ?: context.getString(R.string.maker_unknown))
        if (!kept.getBoolean(OPEN)) {
            body.action(context.getString(R.string.maker_enter)) {
                kept.putBoolean(OPEN, true)
                refresh()
            }
            return
        }
        end(body, state, figures, R.string.maker_low, LOW, state.maker.low)
        end(body, state, figures, R.string.maker_high, HIGH, state.maker.high)
    }

    private fun end(body: Column, state: CheckStep, figures: Figures, label: Int, key: String, now: Double?) {
        val context = body.context
        val item = state.maker.item
        body.field(context.getString(label), key, kept) {
            first = now?.let { figures.measuredField(item, it) }.orEmpty()
            takes(item, figures, context)
            if (key in state.wrong) wrong = context.getString(if (CROSSED in state.wrong) R.string.maker_order else R.string.figure_unread)
        }
    }

    /** What the fields say; an untouched one keeps its exact value. */
    fun read(state: CheckStep, reading: Reading): MakerRange {
        val low = end(state, reading, LOW, state.maker.low)
        val high = end(state, reading, HIGH, state.maker.high)
        if (low != null && high != null && low > high) reading.wrong += setOf(HIGH, CROSSED)
        return MakerRange(state.maker.item, low, high)
    }

    private fun end(state: CheckStep, reading: Reading, key: String, before: Double?): Double? =
        if (kept.containsKey(key)) reading.measured(state.maker.item, key, kept.typed(key)) else before

    private companion object {
        const val OPEN = "maker_open"
        const val LOW = "maker_low"
        const val HIGH = "maker_high"
        const val CROSSED = "maker_crossed"
    }
}
