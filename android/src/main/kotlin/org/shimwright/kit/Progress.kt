package org.shimwright.kit

import android.content.Context
import android.graphics.Canvas
import android.graphics.Paint
import android.view.View

/** How far along: [done] of [of]. The words beside it say the same, so a screen reader passes over it. */
fun Context.progress(done: Int, of: Int): View = ProgressLine(this, if (of > 0) done.toFloat() / of else 1f)

private class ProgressLine(context: Context, private val share: Float) : View(context) {
    private val paint = Paint(Paint.ANTI_ALIAS_FLAG)
    private val palette = Palette.of(context)

    init {
        importantForAccessibility = IMPORTANT_FOR_ACCESSIBILITY_NO
        minimumHeight = dp(Space.SMALL)
    }

    override fun onMeasure(widthSpec: Int, heightSpec: Int) = setMeasuredDimension(MeasureSpec.getSize(widthSpec), dp(Space.SMALL))

    override fun onDraw(canvas: Canvas) {
        val round = height / 2f
        paint.color = palette.line
        canvas.drawRoundRect(0f, 0f, width.toFloat(), height.toFloat(), round, round, paint)
        paint.color = palette.brass
        // Reading order: it grows from where the words begin.
        val long = width * share
        val from = if (layoutDirection == LAYOUT_DIRECTION_RTL) width - long else 0f
        canvas.drawRoundRect(from, 0f, from + long, height.toFloat(), round, round, paint)
    }
}
