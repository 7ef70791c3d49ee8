package org.shimwright.frame

import android.content.Context
import org.shimwright.R
import org.shimwright.kit.Column
import org.shimwright.kit.Palette
import org.shimwright.kit.Weight
import org.shimwright.kit.action
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.strong

/** A failure in words: what happened, and the one thing to do about it. */
class Trouble(val what: String, val remedy: String)

/** The words for an error of the core, or for one that nobody foresaw. */
fun Context.troubleOf(error: Throwable): Trouble = Trouble(
    getString(R.string.trouble_unforeseen),
    getString(R.string.trouble_unforeseen_remedy, error.javaClass.simpleName),
)

/** A card that says it; read out at once by a screen reader. */
fun Column.trouble(trouble: Trouble, again: (() -> Unit)?) {
    val wants = Palette.of(context).wants
    val card = card(edge = wants) {
        strong(trouble.what, wants)
        body(trouble.remedy)
        if (again != null) action(context.getString(R.string.try_again), Weight.PLAIN, again)
    }
    card.accessibilityLiveRegion = android.view.View.ACCESSIBILITY_LIVE_REGION_POLITE
}
