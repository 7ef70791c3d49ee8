package org.shimwright.bow

import android.content.Context
import android.os.Bundle
import android.widget.EditText
import org.shimwright.R
import org.shimwright.core.ChangeKind
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Reading
import org.shimwright.kit.Signs
import org.shimwright.kit.Units
import org.shimwright.kit.field
import org.shimwright.kit.length
import org.shimwright.kit.note
import org.shimwright.kit.typed
import org.shimwright.kit.wrong

/** Whether a change is a move of the rest or the nocking point, with a place where it ends. */
internal fun ChangeKind.moves() = this == ChangeKind.REST_MOVED || this == ChangeKind.NOCK_MOVED

/**
 * The question how far the rest or the nocking point was moved, or where it stands now: either answers the other, and what is
 * typed last counts. [kept] holds what was typed.
 */
internal class Moved(private val kept: Bundle) {
    /** What is known of the move before anything is typed: where it began, mm, and where it [ended] if that is known. */
    class Known(val kind: ChangeKind, val beganMm: Double, val ended: Double?)

    private class Ask(val label: Int, val key: String, val first: Double?, val means: (Double) -> String)

    fun ask(body: Column, known: Known, wrong: Boolean, figures: Figures, units: Units) {
        val context = body.context
        val rest = known.kind == ChangeKind.REST_MOVED
        val place = if (rest) figures::restPlace else figures::nockPlace
        val by = Ask(if (rest) R.string.rest_moved_by else R.string.nock_moved_by, BY, known.ended?.minus(known.beganMm)) {
            context.getString(R.string.stands_then, place(known.beganMm + it))
        }
        val at = Ask(if (rest) R.string.rest_now_at else R.string.nock_now_at, PLACE, known.ended) {
            context.getString(R.string.moved_then, place(it - known.beganMm))
        }
        body.note(context.getString(R.string.stood_before, place(known.beganMm)))
        var byField: EditText? = null
        var atField: EditText? = null
        byField = body.offset(by, known.kind, wrong, figures, units) { atField?.setText("") }
        atField = body.offset(at, known.kind, false, figures, units) { byField?.setText("") }
        body.note(context.getString(if (rest) R.string.rest_from else R.string.nock_from))
    }

    /** One of the two fields; what is typed into it takes the place of the [other]. */
    private fun Column.offset(ask: Ask, kind: ChangeKind, bad: Boolean, figures: Figures, units: Units, other: () -> Unit): EditText =
        field(context.getString(ask.label), ask.key, kept) {
            first = ask.first?.let(figures::lengthField).orEmpty()
            length(figures)
            means = { text -> if (text.isFigure()) Reading(units).signed(ask.key, text)?.let(ask.means) else null }
            signs = signs(context, kind)
            if (bad) wrong = context.getString(R.string.offset_needed)
            changed = { if (kept.typed(ask.key).isFigure()) other() }
        }

    private fun signs(context: Context, kind: ChangeKind): Signs {
        val (below, above) = if (kind == ChangeKind.REST_MOVED) R.string.left to R.string.right else R.string.low to R.string.high
        return Signs(context.getString(below), context.getString(above))
    }

    /** Where it stands now, mm: as typed, else as it was known; null, and wrong, where neither says it. */
    fun read(known: Known, reading: Reading): Double? {
        val (by, at) = kept.typed(BY) to kept.typed(PLACE)
        return when {
            by.isNotBlank() && by.trim() != MINUS -> reading.signed(BY, by)?.plus(known.beganMm)
            at.isNotBlank() && at.trim() != MINUS -> reading.signed(PLACE, at)
            kept.containsKey(BY) || kept.containsKey(PLACE) || known.ended == null -> reading.signed(BY, "")
            else -> known.ended
        }
    }

    /** Forgets what was typed: it was of another change. */
    fun forget() {
        kept.remove(BY)
        kept.remove(PLACE)
    }

    private fun String.isFigure() = any { it.isDigit() }

    private companion object {
        const val BY = "moved-by"
        const val PLACE = "place"
        const val MINUS = "-"
    }
}
