package org.shimwright.kit

import android.content.Context
import android.graphics.Color
import android.graphics.Typeface
import android.text.SpannableStringBuilder
import android.text.Spanned
import android.text.style.StyleSpan
import android.util.TypedValue
import android.view.View
import android.widget.TextView
import android.widget.Toast

/** The sizes of type: what a text is for decides how it looks. */
enum class Type(val sp: Float, val bold: Boolean, val muted: Boolean = false) {
    /** The answer of a screen, one sentence. */
    ANSWER(24f, true),
    SCREEN(22f, true),
    TITLE(18f, true),
    STRONG(16f, true),
    STEP(20f, false),
    BODY(16f, false),
    NOTE(14f, false, muted = true),
    LABEL(13f, true, muted = true),
    BUTTON(17f, true),
}

/** A text of the given [type]; the colour is the type's unless [colour] says otherwise. */
fun Context.words(type: Type, text: CharSequence, colour: Int? = null): TextView = TextView(this).apply {
    val palette = Palette.of(context)
    setTextSize(TypedValue.COMPLEX_UNIT_SP, type.sp)
    typeface = if (type.bold) BOLD else Typeface.SANS_SERIF
    setTextColor(colour ?: if (type.muted) palette.muted else palette.ink)
    setLineSpacing(0f, if (type == Type.BODY) BODY_LEADING else 1f)
    textAlignment = View.TEXT_ALIGNMENT_VIEW_START
    showAllInk()
    this.text = text
}

/**
 * Shows the ink that reaches past the width of its letter: a text view cuts it off there, but not where a shadow would fall, and this
 * one has no colour. What holds the view must not cut either: [Column] and [Flow] do not.
 */
fun TextView.showAllInk() = setShadowLayer(textSize * INK_REACH, 0f, 0f, Color.TRANSPARENT)

/** In sizes of type. Roboto Bold's Latin letters reach .07 past their widths at most, by the font's own tables; the rest is soft edge. */
private const val INK_REACH = 0.08f

/** The one bold of the app. */
val BOLD: Typeface = Typeface.create(Typeface.SANS_SERIF, Typeface.BOLD)

private const val BODY_LEADING = 1.12f

/** [sentence] with [part] in bold, where it first occurs, or where it does [last]. */
fun emphasised(sentence: String, part: String, last: Boolean = false): CharSequence {
    val text = SpannableStringBuilder(sentence)
    val start = if (last) sentence.lastIndexOf(part) else sentence.indexOf(part)
    if (part.isEmpty() || start < 0) return text
    text.setSpan(StyleSpan(Typeface.BOLD), start, start + part.length, Spanned.SPAN_EXCLUSIVE_EXCLUSIVE)
    return text
}

/** [words] with the [count] they are said of, in its form of the plural, and what [more] they have blanks for. */
fun Context.counted(words: Int, count: Int, vararg more: Any): String = resources.getQuantityString(words, count, count, *more)

/** Says [words] to a screen reader, and shows them for a moment to everybody else. */
fun View.announce(words: Int) {
    announceForAccessibility(context.getString(words))
    Toast.makeText(context, words, Toast.LENGTH_SHORT).show()
}
