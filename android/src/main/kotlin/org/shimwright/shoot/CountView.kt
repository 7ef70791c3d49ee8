package org.shimwright.shoot

import android.content.Context
import android.view.Gravity
import android.widget.LinearLayout
import org.shimwright.R
import org.shimwright.core.ArrowKind
import org.shimwright.kit.Space
import org.shimwright.kit.Type
import org.shimwright.kit.button
import org.shimwright.kit.dp
import org.shimwright.kit.kindWord
import org.shimwright.kit.words

/** How many arrows of a kind: one fewer, the number, one more. */
class CountView(context: Context, kind: ArrowKind, count: Int, change: (Int) -> Unit) : LinearLayout(context) {
    init {
        gravity = Gravity.CENTER_VERTICAL
        clipChildren = false
        val name = context.getString(kindWord(kind))
        addView(context.words(Type.STRONG, context.kindShaped(kind)), LayoutParams(0, LayoutParams.WRAP_CONTENT, 1f))
        val fewer = context.button(context.getString(R.string.minus)) { change(count - 1) }
        fewer.contentDescription = context.getString(R.string.one_fewer, name)
        fewer.isEnabled = count > 0
        val more = context.button(context.getString(R.string.plus)) { change(count + 1) }
        more.contentDescription = context.getString(R.string.one_more, name)
        more.isEnabled = count < MOST
        addView(fewer, LayoutParams(dp(Space.ACTION), LayoutParams.WRAP_CONTENT))
        val figure = context.words(Type.TITLE, context.getString(R.string.bare_count, count)).apply {
            textAlignment = TEXT_ALIGNMENT_CENTER
            minWidth = dp(Space.ACTION)
        }
        addView(figure)
        addView(more, LayoutParams(dp(Space.ACTION), LayoutParams.WRAP_CONTENT))
    }

    private companion object {
        const val MOST = 24
    }
}
