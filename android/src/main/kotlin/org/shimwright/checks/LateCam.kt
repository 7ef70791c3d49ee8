package org.shimwright.checks

import android.os.Bundle
import org.shimwright.R
import org.shimwright.kit.Column
import org.shimwright.kit.choice

/** Which cam comes late, pressed instead of typed: a line of its own at the head of the check's note. */
internal class LateCam(private val kept: Bundle, private val noteKey: String, private val refresh: () -> Unit) {
    fun ask(body: Column, note: String) {
        val context = body.context
        val words = listOf(R.string.late_top, R.string.late_bottom).map(context::getString)
        val lines = note.lines()
        val chosen = words.find { it == lines.first() }
        body.choice(context.getString(R.string.late_which), words.map { it to it }, chosen) { word ->
            val own = if (chosen == null) lines else lines.drop(1)
            kept.putString(noteKey, (listOf(word) + own).filter { it.isNotBlank() }.joinToString("\n"))
            refresh()
        }
    }
}
