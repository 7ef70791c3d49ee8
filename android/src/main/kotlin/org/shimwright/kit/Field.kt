package org.shimwright.kit

import android.content.Context
import android.os.Bundle
import android.text.Editable
import android.text.InputType
import android.text.TextWatcher
import android.util.TypedValue
import android.view.View
import android.view.inputmethod.EditorInfo
import android.widget.EditText
import android.widget.LinearLayout
import android.widget.TextView

/** What a field takes. */
enum class Entry(val inputType: Int) {
    TEXT(InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_FLAG_CAP_SENTENCES),
    LINES(InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_FLAG_CAP_SENTENCES or InputType.TYPE_TEXT_FLAG_MULTI_LINE),

    /** A length or another figure, perhaps with its unit or a fraction: the core reads it. */
    FIGURE(InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_FLAG_NO_SUGGESTIONS),
    COUNT(InputType.TYPE_CLASS_NUMBER),
}

/**
 * A labelled field. What is typed is kept in [kept] under [key], so that it survives rotation and process death;
 * [first] is shown as long as nothing was typed. [wrong] says what is wrong with it and what to do.
 */
class Field(val label: CharSequence, val key: String, val kept: Bundle) {
    var first: CharSequence = ""
    var entry = Entry.TEXT
    var unit: CharSequence? = null
    var hint: CharSequence? = null
    var wrong: CharSequence? = null
    var changed: () -> Unit = {}
}

/** The typed text of a field, or [first] when nothing was typed. */
fun Bundle.typed(key: String, first: String = ""): String = getString(key) ?: first

fun Column.field(label: CharSequence, key: String, kept: Bundle, set: Field.() -> Unit = {}): EditText {
    val field = Field(label, key, kept).apply(set)
    val name = put(context.words(Type.LABEL, label))
    val edit = edit(field)
    name.labelFor = edit.id
    put(line(edit, field.unit), Space.SMALL)
    field.wrong?.let { put(context.words(Type.NOTE, it, Palette.of(context).wants), Space.SMALL) }
    return edit
}

private fun Column.edit(field: Field): EditText = EditText(context).apply {
    val palette = Palette.of(context)
    id = View.generateViewId()
    tag = field.key
    inputType = field.entry.inputType
    setTextSize(TypedValue.COMPLEX_UNIT_SP, Type.BODY.sp)
    setTextColor(palette.ink)
    setHintTextColor(palette.muted)
    hint = field.hint
    minHeight = dp(Space.ACTION)
    setText(field.kept.typed(field.key, field.first.toString()))
    background = context.plate(palette.card, if (field.wrong == null) palette.muted else palette.wants, edgeWidth = 1)
    setPadding(dp(Space.CARD), dp(Space.SMALL), dp(Space.CARD), dp(Space.SMALL))
    addTextChangedListener(
        typing {
            field.kept.putString(field.key, it)
            field.changed()
        },
    )
}

private fun Column.line(edit: EditText, unit: CharSequence?): LinearLayout = LinearLayout(context).apply {
    gravity = android.view.Gravity.CENTER_VERTICAL
    addView(edit, LinearLayout.LayoutParams(0, LinearLayout.LayoutParams.WRAP_CONTENT, 1f))
    if (unit != null) addView(unitWord(unit))
}

private fun LinearLayout.unitWord(unit: CharSequence): TextView = context.words(Type.BODY, unit).apply {
    setPaddingRelative(dp(Space.GAP), 0, dp(Space.SMALL), 0)
}

/** A field to search with, its question shown inside it. */
fun Context.search(question: CharSequence, key: String, kept: Bundle, look: (String) -> Unit): EditText = EditText(this).apply {
    val palette = Palette.of(context)
    tag = key
    inputType = InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_FLAG_NO_SUGGESTIONS
    imeOptions = EditorInfo.IME_ACTION_SEARCH
    hint = question
    setTextSize(TypedValue.COMPLEX_UNIT_SP, Type.BODY.sp)
    setTextColor(palette.ink)
    setHintTextColor(palette.muted)
    minHeight = dp(Space.ACTION)
    setText(kept.typed(key))
    background = context.plate(palette.ground, palette.muted)
    setPadding(dp(Space.CARD), dp(Space.SMALL), dp(Space.CARD), dp(Space.SMALL))
    addTextChangedListener(
        typing {
            kept.putString(key, it)
            look(it)
        },
    )
}

/** Calls [say] with the text after every change. */
fun typing(say: (String) -> Unit): TextWatcher = object : TextWatcher {
    override fun beforeTextChanged(text: CharSequence?, start: Int, count: Int, after: Int) = Unit

    override fun onTextChanged(text: CharSequence?, start: Int, before: Int, count: Int) = Unit

    override fun afterTextChanged(text: Editable?) = say(text?.toString().orEmpty())
}
