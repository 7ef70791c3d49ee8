package org.shimwright.kit

import android.content.Context
import android.graphics.drawable.LayerDrawable
import android.view.View
import android.view.ViewGroup
import android.widget.LinearLayout

/** Things below one another with [gap] dp between them: the body of a page, the inside of a card. */
open class Column(context: Context, private val gap: Int = Space.GAP) : LinearLayout(context) {
    init {
        orientation = VERTICAL
        clipChildren = false
    }

    /** Adds [view] below the others, across the whole width. */
    fun <V : View> put(view: V, gapAbove: Int = gap): V {
        val layout = LayoutParams(LayoutParams.MATCH_PARENT, LayoutParams.WRAP_CONTENT)
        if (childCount > 0) layout.topMargin = dp(gapAbove)
        addView(view, layout)
        return view
    }
}

/** A card: a group of things that belong together. [edge] marks one that wants the user. */
fun Column.card(edge: Int? = null, fill: Column.() -> Unit): Column {
    val palette = Palette.of(context)
    val card = Column(context, Space.SMALL).apply {
        background = context.plate(palette.card, edge ?: palette.line)
        setPadding(dp(Space.CARD), dp(Space.CARD), dp(Space.CARD), dp(Space.CARD))
        fill()
    }
    return put(card)
}

/** A card that can be pressed as a whole; [spoken] is what a screen reader says of it. */
fun Column.pressCard(spoken: CharSequence, press: () -> Unit, fill: Column.() -> Unit): Column = card(fill = fill).pressable(spoken, press)

/** Makes a card act as one button; a chevron at its end tells it from one that only says something. */
fun <V : ViewGroup> V.pressable(spoken: CharSequence, press: () -> Unit): V {
    val palette = Palette.of(context)
    background = LayerDrawable(arrayOf(context.plate(palette.card, palette.edge, wash = palette.ink), Chevron(context)))
    setPaddingRelative(paddingStart, paddingTop, maxOf(paddingEnd, dp(CHEVRON_ROOM)), paddingBottom)
    minimumHeight = dp(Space.ACTION)
    isFocusable = true
    contentDescription = spoken
    setOnClickListener { press() }
    for (index in 0 until childCount) getChildAt(index).importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO_HIDE_DESCENDANTS
    return this
}

/** A heading over what follows. */
fun Column.section(text: CharSequence) = put(context.words(Type.TITLE, text).apply { markAsHeading() }, Space.GAP + Space.SMALL)

/** The answer in one sentence. */
fun Column.answer(text: CharSequence) = put(context.words(Type.ANSWER, text).apply { markAsHeading() })

fun Column.title(text: CharSequence) = put(context.words(Type.TITLE, text).apply { markAsHeading() })

fun Column.strong(text: CharSequence, colour: Int? = null) = put(context.words(Type.STRONG, text, colour))

fun Column.body(text: CharSequence) = put(context.words(Type.BODY, text))

fun Column.note(text: CharSequence) = put(context.words(Type.NOTE, text))

/** A caution: what can hurt, in its own frame. */
fun Column.caution(heading: CharSequence, text: CharSequence) {
    val wants = Palette.of(context).wants
    card(edge = wants) {
        strong(heading, wants).markAsHeading()
        body(text)
    }
}

/** How much a chip asks for. */
enum class Tone { DANGER, NEUTRAL, SETTLED }

/** A word on a plate, a state or a short fact: danger is a filled area, the rest a quiet one. */
fun Context.chip(text: CharSequence, tone: Tone = Tone.NEUTRAL): View {
    val palette = Palette.of(this)
    val ink = when (tone) {
        Tone.DANGER -> palette.card
        Tone.NEUTRAL -> palette.ink
        Tone.SETTLED -> palette.settled
    }
    val fill = if (tone == Tone.DANGER) palette.wants else palette.chip
    return words(Type.LABEL, text, ink).apply {
        background = plate(fill, fill, round = CHIP_ROUND)
        setPadding(dp(CHIP_SIDE), dp(Space.SMALL), dp(CHIP_SIDE), dp(Space.SMALL))
    }
}

private const val CHEVRON_ROOM = 34
private const val CHIP_ROUND = 9
private const val CHIP_SIDE = 10

/** A line of two texts: what it is at the start, what it says at the end; below each other when they do not fit. */
fun Column.fact(name: CharSequence, value: CharSequence): View {
    val line = Flow(context, spread = true)
    line.addView(context.words(Type.BODY, name, Palette.of(context).muted))
    // A figure without a letter is read from the left in every language.
    line.addView(context.words(Type.STRONG, value).apply { textDirection = View.TEXT_DIRECTION_FIRST_STRONG_LTR })
    return put(line)
}
