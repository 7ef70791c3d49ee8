package org.shimwright.kit

import android.content.Context
import android.os.Bundle
import android.text.Editable
import android.text.InputType
import android.text.TextWatcher
import android.util.TypedValue
import android.view.Gravity
import android.view.View
import android.view.ViewGroup
import android.view.accessibility.AccessibilityNodeInfo
import android.view.inputmethod.EditorInfo
import android.widget.EditText
import android.widget.LinearLayout
import android.widget.TextView

/** What a field takes. [pad] is the keyboard it opens with where that differs: any text may still come from another one. */
enum class Entry(val inputType: Int, val pad: Int = inputType) {
    TEXT(InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_FLAG_CAP_SENTENCES),
    LINES(InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_FLAG_CAP_SENTENCES or InputType.TYPE_TEXT_FLAG_MULTI_LINE),

    /** A length or another figure, perhaps with its unit or a fraction: the core reads it. */
    FIGURE(
        InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_FLAG_NO_SUGGESTIONS,
        InputType.TYPE_CLASS_NUMBER or InputType.TYPE_NUMBER_FLAG_DECIMAL or InputType.TYPE_NUMBER_FLAG_SIGNED,
    ),
    COUNT(InputType.TYPE_CLASS_NUMBER),
}

/**
 * A labelled field. What is typed is kept in [kept] under [key], so that it survives rotation and process death;
 * [first] is shown as long as nothing was typed. [wrong] says what is wrong with it and what to do, until it is typed anew.
 */
class Field(val label: CharSequence, val key: String, val kept: Bundle) {
    var first: CharSequence = ""
    var entry = Entry.TEXT
    var unit: CharSequence? = null

    /** Symbols that can be written after the figure by a press, where more than [unit] are usual. */
    var units: List<String> = emptyList()
    var hint: CharSequence? = null
    var wrong: CharSequence? = null
    var changed: () -> Unit = {}

    /** What is typed, as it will be taken, where that is not plain from the text: shown below it as it is typed. */
    var means: (String) -> CharSequence? = { null }

    /** Which way the figure goes, chosen by a press. */
    var signs: Signs? = null

    /** The user has gone on to another field. */
    var left: () -> Unit = {}
}

/** Takes a length: in the workshop's unit, or in the other one at a press. */
fun Field.length(figures: Figures) {
    entry = Entry.FIGURE
    unit = figures.lengthUnit
    units = figures.lengthUnits
    means = figures::lengthMeant
}

/** Takes a distance to the target, likewise. */
fun Field.distance(figures: Figures) {
    entry = Entry.FIGURE
    unit = figures.distanceUnit
    units = figures.distanceUnits
    means = figures::distanceMeant
}

/** Words for a figure below zero and above it, which then needs no sign. */
class Signs(val below: CharSequence, val above: CharSequence)

/** The keys of the fields of a form that could not be read. */
var Bundle.wrong: Set<String>
    get() = getStringArray(WRONG).orEmpty().toSet()
    set(keys) = putStringArray(WRONG, keys.toTypedArray())

private const val WRONG = "wrong"

/** The typed text of a field, or [first] when nothing was typed. */
fun Bundle.typed(key: String, first: String = ""): String = getString(key) ?: first

fun Column.field(label: CharSequence, key: String, kept: Bundle, set: Field.() -> Unit = {}): EditText {
    val field = Field(label, key, kept).apply(set)
    val name = put(context.words(Type.LABEL, label))
    val edit = edit(field)
    name.labelFor = edit.id
    put(line(edit, field), Space.SMALL)
    field.signs?.let { put(signs(edit, it), Space.SMALL) }
    val wrong = field.wrong?.let { put(context.words(Type.NOTE, it, Palette.of(context).wants), Space.SMALL) }
    edit.wrong = wrong
    val means = put(context.words(Type.NOTE, ""), Space.SMALL)
    means.say(field.means(edit.text.toString()))
    edit.addTextChangedListener(
        typing { text ->
            wrong?.visibility = View.GONE
            edit.background = context.fieldPlate(wrong = false)
            means.say(field.means(text))
        },
    )
    return edit
}

/** The text of a field. A screen reader tells what is wrong with it at the field itself, as long as a note shows it. */
internal class Entered(context: Context) : EditText(context) {
    var wrong: TextView? = null

    val isWrong get() = wrong?.visibility == View.VISIBLE

    override fun onInitializeAccessibilityNodeInfo(info: AccessibilityNodeInfo) {
        super.onInitializeAccessibilityNodeInfo(info)
        if (!isWrong) return
        info.isContentInvalid = true
        info.error = wrong?.text
    }
}

/** The fields below this view that show what is wrong with them, from the top. */
internal fun View.wrongFields(): List<EditText> = when (this) {
    is Entered -> listOf(this).filter { it.isWrong }
    is ViewGroup -> (0 until childCount).flatMap { getChildAt(it).wrongFields() }
    else -> emptyList()
}

private fun Column.signs(edit: EditText, signs: Signs): View {
    // Left stands left, as on the target.
    val row = Abreast(context).apply { layoutDirection = View.LAYOUT_DIRECTION_LTR }
    for ((word, sign) in listOf(signs.below to MINUS, signs.above to "")) {
        val button = context.button(word) { edit.setText(sign + edit.text.toString().trim().removePrefix(MINUS)) }
        fun show(text: String) = button.choose(text.trim().startsWith(MINUS) == (sign == MINUS))
        show(edit.text.toString())
        edit.addTextChangedListener(typing(::show))
        row.addView(button)
    }
    return row
}

private const val MINUS = "-"

private fun TextView.say(meaning: CharSequence?) {
    text = meaning ?: ""
    visibility = if (meaning.isNullOrEmpty()) View.GONE else View.VISIBLE
}

private fun Column.edit(field: Field): Entered = Entered(context).apply {
    dress(field.key)
    id = View.generateViewId()
    inputType = field.entry.inputType
    setRawInputType(field.entry.pad)
    // After the type of input, which would set it in lines of text.
    minHeight = dp(Space.ACTION)
    // A figure is read from the left in every language.
    if (field.entry == Entry.FIGURE || field.entry == Entry.COUNT) textDirection = View.TEXT_DIRECTION_LTR
    // Enter leads to the next field where there is one.
    if (field.entry != Entry.LINES) imeOptions = EditorInfo.IME_ACTION_NEXT
    hint = field.hint
    setText(field.kept.typed(field.key, field.first.toString()))
    background = context.fieldPlate(field.wrong != null)
    setPadding(dp(Space.CARD), dp(Space.SMALL), dp(Space.CARD), dp(Space.SMALL))
    setOnFocusChangeListener { _, has -> if (!has) field.left() }
    addTextChangedListener(
        typing {
            field.kept.putString(field.key, it)
            // What was said of it held for what stood there before.
            if (field.key in field.kept.wrong) field.kept.wrong -= field.key
            field.changed()
        },
    )
}

private fun EditText.dress(key: String) {
    val palette = Palette.of(context)
    tag = key
    setTextSize(TypedValue.COMPLEX_UNIT_SP, Type.BODY.sp)
    setTextColor(palette.ink)
    setHintTextColor(palette.muted)
}

private fun Column.line(edit: EditText, field: Field): View {
    val line = LinearLayout(context).apply {
        gravity = Gravity.CENTER_VERTICAL
        clipChildren = false
        addView(edit, LinearLayout.LayoutParams(0, LinearLayout.LayoutParams.WRAP_CONTENT, 1f))
    }
    val unit = field.unit
    when {
        field.units.size < 2 -> if (unit != null) line.addView(unitWord(unit))

        // Beside a photograph a field has no room for anything beside it.
        sideways(context) -> return Column(context, Space.SMALL).apply {
            put(line)
            put(Abreast(context).apply { field.units.forEach { addView(unitButton(edit, it, field)) } })
        }

        else -> for (symbol in field.units) {
            val place = LinearLayout.LayoutParams(LinearLayout.LayoutParams.WRAP_CONTENT, LinearLayout.LayoutParams.WRAP_CONTENT)
            line.addView(unitButton(edit, symbol, field), place.apply { marginStart = dp(Space.SMALL) })
        }
    }
    return line
}

/** Writes its symbol after the figure; the one that holds without being written is chosen at first. */
private fun View.unitButton(edit: EditText, symbol: String, field: Field): View {
    val button = context.button(symbol) { edit.setText(withUnit(edit.text.toString(), symbol, field)) }
    fun show(text: String) = button.choose(symbol == unitOf(text, field))
    show(edit.text.toString())
    edit.addTextChangedListener(typing(::show))
    return button.apply { minWidth = dp(Space.ACTION) }
}

private fun unitOf(text: String, field: Field): String =
    field.units.filter { text.trim().endsWith(it) }.maxByOrNull { it.length } ?: field.unit.toString()

private fun withUnit(text: String, symbol: String, field: Field): String {
    val bare = text.trim().removeSuffix(unitOf(text, field)).trim()
    return if (symbol == field.unit.toString()) bare else "$bare $symbol"
}

private fun LinearLayout.unitWord(unit: CharSequence): TextView = context.words(Type.BODY, unit).apply {
    setPaddingRelative(dp(Space.GAP), 0, dp(Space.SMALL), 0)
}

/** A field to search with, its question shown inside it. */
fun Context.search(question: CharSequence, key: String, kept: Bundle, look: (String) -> Unit): EditText = EditText(this).apply {
    dress(key)
    inputType = InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_FLAG_NO_SUGGESTIONS
    imeOptions = EditorInfo.IME_ACTION_SEARCH
    minHeight = dp(Space.ACTION)
    hint = question
    setText(kept.typed(key))
    background = context.fieldPlate(wrong = false)
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
