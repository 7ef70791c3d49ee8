package org.shimwright.checks

import android.os.Bundle
import org.shimwright.R
import org.shimwright.kit.Column
import org.shimwright.kit.choice
import org.shimwright.kit.typed

/** Which cam comes late, pressed instead of typed: a line of its own at the head of the check's note. */
internal class LateCam(private val kept: Bundle, private val noteKey: String, private val refresh: () -> Unit) {
    /** [known] is the note on record; what is typed since stays below the line. */
    fun ask(body: Column, known: String) {
        val context = body.context
        val words = listOf(R.string.late_top, R.string.late_bottom).map(context::getString)
        fun lines() = kept.typed(noteKey, known).lines()
        body.choice(context.getString(R.string.late_which), words.map { it to it }, lines().first()) { word ->
            val own = lines().filterNot { it in words || it.isBlank() }
            kept.putString(noteKey, (listOf(word) + own).joinToString("\n"))
            refresh()
        }
    }
}
