package org.shimwright.frame

import android.view.View
import android.view.ViewGroup
import android.view.accessibility.AccessibilityNodeInfo
import android.widget.EditText
import android.widget.TextView
import org.shimwright.kit.Page

/** Where a screen reader stands on a page: on the [nth] of the [of] things that say the same, with [order] others before it. */
internal class ReaderPlace(private val said: Any?, private val nth: Int, private val of: Int, private val order: Int) {
    /** The same place on a page drawn anew. Where one that said the same is gone, or more came, it is what stands there now. */
    fun on(page: View): View? {
        val all = page.readable()
        val same = all.filter { it.saying() == said }
        return same.getOrNull(nth).takeIf { same.size == of } ?: all.getOrNull(order) ?: all.lastOrNull()
    }
}

/** The place of a screen reader on [page]; null where none reads it. */
internal fun readerOn(page: View): ReaderPlace? {
    val all = page.readable()
    val order = all.indexOfFirst { it.isAccessibilityFocused }
    val said = all.getOrNull(order)?.saying() ?: return null
    val same = all.indices.filter { all[it].saying() == said }
    return ReaderPlace(said, same.indexOf(order), same.size, order)
}

/**
 * Leads a screen reader on over a screen that is drawn anew, each time from new views: to what went wrong, to the field
 * [wrong], to the first words of a page that [turned] to another part; else it stays where it was on the page [before].
 */
internal fun leadReader(before: ReaderPlace, wrong: View?, turned: Boolean, page: Page) {
    val to = page.wentWrong?.readable()?.firstOrNull()
        ?: wrong
        ?: page.body.readable().firstOrNull().takeIf { turned }
        ?: before.on(page)
    to?.performAccessibilityAction(AccessibilityNodeInfo.ACTION_ACCESSIBILITY_FOCUS, null)
}

/** What a screen reader stops at, in its order. */
internal fun View.readable(): List<View> {
    if (visibility != View.VISIBLE || importantForAccessibility == View.IMPORTANT_FOR_ACCESSIBILITY_NO_HIDE_DESCENDANTS) return emptyList()
    val own = importantForAccessibility != View.IMPORTANT_FOR_ACCESSIBILITY_NO && (isClickable || !words().isNullOrBlank())
    val below = (this as? ViewGroup)?.let { group -> (0 until group.childCount).flatMap { group.getChildAt(it).readable() } }.orEmpty()
    return if (own) listOf(this) + below else below
}

private fun View.words(): CharSequence? = contentDescription ?: (this as? TextView)?.text

/** What tells it from others. What is typed into a field is not what it says of itself. */
private fun View.saying(): Any? = if (this is EditText) tag else words()?.toString().orEmpty()
