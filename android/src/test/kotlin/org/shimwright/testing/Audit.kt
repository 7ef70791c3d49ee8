package org.shimwright.testing

import android.view.View
import android.view.ViewGroup
import android.widget.AdapterView
import android.widget.TextView
import org.junit.Assert.assertEquals

/** What every screen owes everyone: targets of 48 dp, a name for whatever can be pressed, no clipped word or letter, nothing off the edge. A list is its rows. */
object Audit {
    private const val TARGET_DP = 48

    fun check(root: ViewGroup, where: String) {
        val shown = root.everything().filter { it.isShown && it.width > 0 }
        val found =
            shown.filter { it.isClickable && it !is AdapterView<*> }.mapNotNull { target(it) } +
                shown.filterIsInstance<TextView>().mapNotNull { clipped(it) ?: Cut.check(it) } +
                shown.mapNotNull { off(it, root) }
        assertEquals(where, emptyList<String>(), found)
    }

    private fun target(view: View): String? {
        val least = (TARGET_DP * view.resources.displayMetrics.density).toInt()
        val words = view.said()?.ifBlank { null } ?: (view as? TextView)?.hint
        return when {
            words == null && view.labelled() == null -> "no name: $view"
            view.height < least || view.width < least -> "\"$words\" is a target of only ${view.width} x ${view.height} px, not $least"
            else -> null
        }
    }

    private fun View.labelled(): View? = rootView.everything().find { it.labelFor == id && id != View.NO_ID }

    private fun clipped(view: TextView): String? {
        val layout = view.layout ?: return null
        val room = view.height - view.compoundPaddingTop - view.compoundPaddingBottom
        val cut = (0 until layout.lineCount).any { layout.getEllipsisCount(it) > 0 }
        val wide = (0 until layout.lineCount).any { layout.getLineMax(it) > view.width + 1 }
        return if (cut || wide || layout.height > room + 1) "clipped: \"${view.text}\"" else null
    }

    private fun off(view: View, root: View): String? {
        val at = IntArray(2).also { view.getLocationInWindow(it) }
        return if (at[0] < 0 || at[0] + view.width > root.width) "off the edge: ${view.said() ?: view}" else null
    }
}
