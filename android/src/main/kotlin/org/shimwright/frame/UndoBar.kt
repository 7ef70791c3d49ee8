package org.shimwright.frame

import android.content.Context
import android.view.Gravity
import android.view.View
import android.widget.LinearLayout
import org.shimwright.R
import org.shimwright.kit.Column
import org.shimwright.kit.Palette
import org.shimwright.kit.Space
import org.shimwright.kit.Type
import org.shimwright.kit.action
import org.shimwright.kit.body
import org.shimwright.kit.button
import org.shimwright.kit.card
import org.shimwright.kit.dp
import org.shimwright.kit.plate
import org.shimwright.kit.sinceWords
import org.shimwright.kit.words

/** What was just done, and the button that takes it back: stands over the actions at the bottom of a page. */
fun Context.undoBar(undo: Undo): View = LinearLayout(this).apply {
    gravity = Gravity.CENTER_VERTICAL
    clipChildren = false
    val palette = Palette.of(context)
    background = context.plate(palette.card, palette.brass, edgeWidth = 2)
    setPaddingRelative(dp(Space.CARD), dp(Space.SMALL), dp(Space.SMALL), dp(Space.SMALL))
    addView(
        context.words(Type.BODY, context.getString(undo.words)),
        LinearLayout.LayoutParams(0, LinearLayout.LayoutParams.WRAP_CONTENT, 1f),
    )
    addView(context.button(context.getString(R.string.undo), press = undo.act))
    accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE
}

/** Says that the form below is filled with what was left unsaved, and offers an empty one. */
fun Column.draftNote(leftAtMs: Long, nowMs: Long, startAnew: () -> Unit) {
    card(edge = Palette.of(context).brass) {
        body(context.getString(R.string.draft_restored, context.sinceWords(leftAtMs, nowMs)))
        action(context.getString(R.string.draft_start_anew), press = startAnew)
    }
}
