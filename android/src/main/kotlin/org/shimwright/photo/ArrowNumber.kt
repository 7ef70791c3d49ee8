package org.shimwright.photo

import android.os.Bundle
import org.shimwright.R
import org.shimwright.kit.Column
import org.shimwright.kit.Entry
import org.shimwright.kit.action
import org.shimwright.kit.field
import org.shimwright.kit.typed
import org.shimwright.kit.wrong

/** The number written on the chosen arrow. It counts as it is typed; the button says where it is none, and names the mark by it. */
internal class ArrowNumber(private val kept: Bundle, private val marks: Marks, private val refresh: () -> Unit) {
    fun ask(body: Column, index: Int, known: Int?) {
        val context = body.context
        if (!kept.containsKey(NUMBER)) kept.putString(NUMBER, known?.toString().orEmpty())
        body.field(context.getString(R.string.arrow_number), NUMBER, kept) {
            entry = Entry.COUNT
            if (NUMBER in kept.wrong) wrong = context.getString(R.string.arrow_number_wrong)
            changed = { if (fits()) marks.number(index, typed()) }
        }
        body.action(context.getString(R.string.keep_number)) {
            kept.wrong = if (fits()) kept.wrong - NUMBER else kept.wrong + NUMBER
            refresh()
        }
    }

    /** What was typed for a mark is with it, or was no number. */
    fun forget() {
        kept.remove(NUMBER)
        kept.wrong -= NUMBER
    }

    private fun typed() = kept.typed(NUMBER).trim().toIntOrNull()

    /** Nothing typed is no number, and right. */
    private fun fits() = kept.typed(NUMBER).isBlank() || typed() in NUMBERS

    private companion object {
        const val NUMBER = "number"
        val NUMBERS = 1..999
    }
}
