package org.shimwright.kit

import android.content.Context
import android.content.res.ColorStateList
import android.graphics.Bitmap
import android.graphics.drawable.StateListDrawable
import android.util.TypedValue
import android.view.Gravity
import android.view.View
import android.widget.Button
import android.widget.CheckBox
import android.widget.ImageView
import android.widget.LinearLayout

/** How much a button asks for: one main action a screen, others plain. */
enum class Weight { MAIN, PLAIN, DANGER }

/** A button of 56 dp or more, its words never cut. */
fun Context.button(text: CharSequence, weight: Weight = Weight.PLAIN, press: () -> Unit): Button = Button(this).apply {
    val palette = Palette.of(context)
    this.text = text
    isAllCaps = false
    stateListAnimator = null
    setTextSize(TypedValue.COMPLEX_UNIT_SP, Type.BUTTON.sp)
    typeface = BOLD
    showAllInk()
    minHeight = dp(Space.ACTION)
    minimumHeight = dp(Space.ACTION)
    setPadding(dp(Space.GAP), dp(Space.SMALL), dp(Space.GAP), dp(Space.SMALL))
    paint(weight, palette)
    setOnClickListener { press() }
}

private fun Button.paint(weight: Weight, palette: Palette) {
    val ink = when (weight) {
        Weight.MAIN -> palette.onMain
        Weight.PLAIN -> palette.ink
        Weight.DANGER -> palette.wants
    }
    setTextColor(ColorStateList(arrayOf(intArrayOf(-android.R.attr.state_enabled), intArrayOf()), intArrayOf(palette.muted, ink)))
    val plate = if (weight == Weight.MAIN) {
        // Where the main action is no filled area (camp red), its thick edge sets it apart.
        context.plate(palette.main, palette.brass, edgeWidth = 4, wash = palette.onMain)
    } else {
        context.plate(palette.ground, palette.edge, edgeWidth = 2, wash = palette.ink)
    }
    background = StateListDrawable().apply {
        addState(intArrayOf(-android.R.attr.state_enabled), context.plate(palette.ground, palette.line, dashed = true))
        addState(intArrayOf(), plate)
    }
}

/** Shows whether a button is the chosen one of several: a tint, a thick edge and a tick, never the look of the main action. */
fun Button.choose(chosen: Boolean) {
    val palette = Palette.of(context)
    isSelected = chosen
    val bare = text.toString().removePrefix(CHOSEN)
    text = if (chosen) CHOSEN + bare else bare
    contentDescription = bare
    background = if (chosen) {
        context.plate(palette.tint, palette.brass, edgeWidth = 3, wash = palette.ink)
    } else {
        context.plate(palette.ground, palette.edge, edgeWidth = 2, wash = palette.ink)
    }
}

private const val CHOSEN = "\u2713\u00a0"

/** A plain button inside the body of a page or card. */
fun Column.action(text: CharSequence, weight: Weight = Weight.PLAIN, press: () -> Unit) = put(context.button(text, weight, press))

/** Buttons side by side where their words fit. */
fun Column.actions(fill: Abreast.() -> Unit) = put(Abreast(context).apply(fill))

fun Abreast.action(text: CharSequence, weight: Weight = Weight.PLAIN, press: () -> Unit) =
    context.button(text, weight, press).also(::addView)

/** One of several; the chosen one carries a tick. [spoken] names the question to a screen reader. */
fun <T> Column.choice(spoken: CharSequence, options: List<Pair<T, CharSequence>>, chosen: T?, pick: (T) -> Unit): View {
    put(context.words(Type.LABEL, spoken))
    val row = Abreast(context)
    for ((value, label) in options) {
        row.addView(
            context.button(label) { pick(value) }.apply {
                choose(value == chosen)
                tag = spoken
            },
        )
    }
    return put(row, Space.SMALL)
}

/** A box to tick, 48 dp high, its words part of the target. */
fun Column.tick(text: CharSequence, ticked: Boolean, change: (Boolean) -> Unit): CheckBox {
    val box = CheckBox(context).apply {
        this.text = text
        isChecked = ticked
        minHeight = dp(Space.TARGET)
        gravity = Gravity.CENTER_VERTICAL or Gravity.START
        textAlignment = View.TEXT_ALIGNMENT_VIEW_START
        setTextSize(TypedValue.COMPLEX_UNIT_SP, Type.BODY.sp)
        setTextColor(Palette.of(context).ink)
        showAllInk()
        setOnCheckedChangeListener { _, on -> change(on) }
    }
    return put(box)
}

/** A line that opens something: a small [picture] of it at the start, where there is one, and words. */
fun Column.door(text: CharSequence, note: CharSequence? = null, picture: Bitmap? = null, press: () -> Unit): View {
    val words = LinearLayout(context).apply {
        orientation = LinearLayout.VERTICAL
        clipChildren = false
        gravity = Gravity.CENTER_VERTICAL
        addView(context.words(Type.STRONG, text))
        if (note != null) addView(context.words(Type.NOTE, note))
        setPadding(dp(Space.CARD), dp(Space.GAP), dp(Space.CARD), dp(Space.GAP))
    }
    val line = if (picture == null) words else context.beside(picture, words)
    line.pressable(if (note == null) text else "$text, $note", press)
    return put(line, Space.SMALL)
}

private fun Context.beside(picture: Bitmap, words: View) = LinearLayout(this).apply {
    gravity = Gravity.CENTER_VERTICAL
    val small = ImageView(context).apply {
        setImageBitmap(picture)
        colorFilter = context.photoFilter()
        scaleType = ImageView.ScaleType.CENTER_CROP
    }
    val place = LinearLayout.LayoutParams(dp(Space.PICTURE), dp(Space.PICTURE))
    place.marginStart = dp(Space.SMALL)
    place.topMargin = dp(Space.SMALL)
    place.bottomMargin = dp(Space.SMALL)
    addView(small, place)
    addView(words, LinearLayout.LayoutParams(0, LinearLayout.LayoutParams.WRAP_CONTENT, 1f))
}
