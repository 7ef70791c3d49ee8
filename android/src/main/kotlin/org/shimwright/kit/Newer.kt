package org.shimwright.kit

import android.app.Activity
import android.os.Build
import android.view.View
import android.view.WindowInsets
import android.widget.TextView
import org.shimwright.frame.SinceApi

// Calls newer than API 26, each behind its own question; the signature gate lets only these through.

/** Marks a heading for screen readers, where the phone knows headings. */
fun TextView.markAsHeading() {
    if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.P) heading(this)
}

@SinceApi(Build.VERSION_CODES.P)
private fun heading(view: View) {
    view.isAccessibilityHeading = true
}

/** Names the screen, so that a screen reader says where the user has arrived. */
fun View.namePane(title: CharSequence) {
    if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.P) pane(this, title)
}

@SinceApi(Build.VERSION_CODES.P)
private fun pane(view: View, title: CharSequence) {
    view.accessibilityPaneTitle = title
}

/** Keeps the content of [root] clear of bars, cut-outs and the keyboard. */
fun Activity.padForBars(root: View) {
    if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.R) ownBars(this)
    root.setOnApplyWindowInsetsListener { view, insets ->
        val edges = if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.R) edges(insets) else olderEdges(insets)
        view.setPadding(edges[0], edges[1], edges[2], edges[3])
        insets
    }
}

@SinceApi(Build.VERSION_CODES.R)
private fun ownBars(activity: Activity) = activity.window.setDecorFitsSystemWindows(false)

@SinceApi(Build.VERSION_CODES.R)
private fun edges(insets: WindowInsets): IntArray {
    val kinds = WindowInsets.Type.systemBars() or WindowInsets.Type.displayCutout() or WindowInsets.Type.ime()
    val all = insets.getInsets(kinds)
    return intArrayOf(all.left, all.top, all.right, all.bottom)
}

@Suppress("DEPRECATION") // The only way below API 30.
private fun olderEdges(insets: WindowInsets) = intArrayOf(
    insets.systemWindowInsetLeft,
    insets.systemWindowInsetTop,
    insets.systemWindowInsetRight,
    insets.systemWindowInsetBottom,
)
