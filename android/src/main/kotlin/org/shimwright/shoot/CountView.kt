package org.shimwright.shoot

import android.content.Context
import android.view.Gravity
import android.view.View
import android.widget.LinearLayout
import org.shimwright.R
import org.shimwright.core.ArrowKind
import org.shimwright.kit.Column
import org.shimwright.kit.Flow
import org.shimwright.kit.Space
import org.shimwright.kit.Type
import org.shimwright.kit.button
import org.shimwright.kit.dp
import org.shimwright.kit.kindWord
import org.shimwright.kit.words

/** How many arrows of a kind: one fewer, the number, one more; below the kind's name where its word leaves no room beside it. */
internal fun Column.count(kind: ArrowKind, count: Int, change: (Int) -> Unit): View {
    val line = Flow(context, spread = true)
    line.addView(context.words(Type.STRONG, context.kindShaped(kind)))
    line.addView(context.counter(context.getString(kindWord(kind)), count, change))
    return put(line)
}

private fun Context.counter(kind: String, count: Int, change: (Int) -> Unit) = LinearLayout(this).apply {
    gravity = Gravity.CENTER_VERTICAL
    clipChildren = false
    val fewer = button(getString(R.string.minus)) { change(count - 1) }
    fewer.contentDescription = getString(R.string.one_fewer, kind)
    fewer.isEnabled = count > 0
    val more = button(getString(R.string.plus)) { change(count + 1) }
    more.contentDescription = getString(R.string.one_more, kind)
    more.isEnabled = count < MOST
    addView(fewer, LinearLayout.LayoutParams(dp(Space.ACTION), LinearLayout.LayoutParams.WRAP_CONTENT))
    val figure = words(Type.TITLE, getString(R.string.bare_count, count)).apply {
        textAlignment = View.TEXT_ALIGNMENT_CENTER
        minWidth = dp(Space.ACTION)
    }
    addView(figure)
    addView(more, LinearLayout.LayoutParams(dp(Space.ACTION), LinearLayout.LayoutParams.WRAP_CONTENT))
}

private const val MOST = 24
