package org.shimwright.frame

import android.content.Context
import android.view.Gravity
import android.view.View
import android.widget.FrameLayout
import android.widget.LinearLayout
import android.widget.ProgressBar
import org.shimwright.R
import org.shimwright.kit.Palette
import org.shimwright.kit.Space
import org.shimwright.kit.Type
import org.shimwright.kit.button
import org.shimwright.kit.dp
import org.shimwright.kit.plate
import org.shimwright.kit.words

/** Says that the core works, but only when that takes longer than a blink, and offers to stop waiting. */
class Busy(private val room: FrameLayout, private val stop: () -> Unit) {
    private var sign: View? = null
    private var waiting = false
    private val appear = Runnable { raise() }

    fun show(working: Boolean) {
        if (working) {
            if (!waiting) room.postDelayed(appear, BLINK_MS)
            waiting = true
        } else {
            waiting = false
            room.removeCallbacks(appear)
            sign?.let(room::removeView)
            sign = null
        }
    }

    private fun raise() {
        sign = sign(room.context).also { room.addView(it, FrameLayout.LayoutParams(-1, -2, Gravity.TOP)) }
    }

    private fun sign(context: Context): View = LinearLayout(context).apply {
        gravity = Gravity.CENTER_VERTICAL
        clipChildren = false
        val palette = Palette.of(context)
        background = context.plate(palette.card, palette.brass)
        setPadding(dp(Space.CARD), dp(Space.SMALL), dp(Space.SMALL), dp(Space.SMALL))
        addView(ProgressBar(context), LinearLayout.LayoutParams(dp(SPINNER), dp(SPINNER)))
        val words = context.words(Type.BODY, context.getString(R.string.working)).apply { setPaddingRelative(dp(Space.GAP), 0, 0, 0) }
        addView(words, LinearLayout.LayoutParams(0, -2, 1f))
        addView(context.button(context.getString(R.string.stop_waiting), press = stop))
        accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE
    }

    private companion object {
        const val BLINK_MS = 300L
        const val SPINNER = 28
    }
}
