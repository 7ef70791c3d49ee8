package org.shimwright.kit

import android.app.Activity
import android.app.LocaleManager
import android.content.Context
import android.graphics.Rect
import android.os.Build
import android.os.LocaleList
import android.view.View
import android.view.WindowInsets
import android.widget.TextView
import android.window.OnBackInvokedCallback
import android.window.OnBackInvokedDispatcher
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

/** The back gesture of phones that show where it leads before the finger lets go; older ones call the activity. */
class BackGesture(private val activity: Activity, private val back: () -> Unit) {
    private var listening: Any? = null

    /** Takes the gesture while there is a step to go back; else it leads out of the app. */
    fun listen(on: Boolean) {
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.TIRAMISU) listening = heard(activity, listening, on, back)
    }
}

@SinceApi(Build.VERSION_CODES.TIRAMISU)
private fun heard(activity: Activity, now: Any?, on: Boolean, back: () -> Unit): Any? {
    val dispatcher = activity.onBackInvokedDispatcher
    if (on == (now != null)) return now
    if (!on) {
        dispatcher.unregisterOnBackInvokedCallback(now as OnBackInvokedCallback)
        return null
    }
    val callback = OnBackInvokedCallback { back() }
    dispatcher.registerOnBackInvokedCallback(OnBackInvokedDispatcher.PRIORITY_DEFAULT, callback)
    return callback
}

/** Keeps the phone's back gesture off the whole of this view, on which a finger drags. */
fun View.keepGesturesOut() {
    if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.Q) exclude(this)
}

@SinceApi(Build.VERSION_CODES.Q)
private fun exclude(view: View) {
    view.systemGestureExclusionRects = listOf(Rect(0, 0, view.width, view.height))
}

/** The language chosen for this app in the phone's own settings; null where none was, and on older phones. */
fun Context.toldLanguage(): String? = if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.TIRAMISU) told(this) else null

@SinceApi(Build.VERSION_CODES.TIRAMISU)
private fun told(context: Context): String? =
    context.getSystemService(LocaleManager::class.java)?.applicationLocales?.takeUnless { it.isEmpty }?.get(0)?.language

/** Tells the phone's own settings what was chosen in the app, so that both say the same. */
fun Context.tellLanguage(tag: String?) {
    if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.TIRAMISU) tell(this, tag)
}

@SinceApi(Build.VERSION_CODES.TIRAMISU)
private fun tell(context: Context, tag: String?) {
    val locales = if (tag == null) LocaleList.getEmptyLocaleList() else LocaleList.forLanguageTags(tag)
    context.getSystemService(LocaleManager::class.java)?.applicationLocales = locales
}
