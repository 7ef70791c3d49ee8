package org.shimwright.kit

import android.content.Context
import android.graphics.Canvas
import android.graphics.Paint
import android.graphics.Path
import android.view.View
import org.shimwright.R

/** The arrow before a title that leads back: points against the reading. */
fun Context.upArrow(press: () -> Unit): View = UpArrow(this).apply {
    contentDescription = context.getString(R.string.up)
    isFocusable = true
    background = context.plate(Palette.of(context).ground, Palette.of(context).ground, edgeWidth = 0, wash = Palette.of(context).ink)
    setOnClickListener { press() }
}

private class UpArrow(context: Context) : View(context) {
    private val paint = Paint(Paint.ANTI_ALIAS_FLAG).apply {
        style = Paint.Style.STROKE
        strokeCap = Paint.Cap.ROUND
        strokeJoin = Paint.Join.ROUND
        strokeWidth = dp(STROKE) + 0.5f
        color = Palette.of(context).ink
    }
    private val path = Path()

    override fun onDraw(canvas: Canvas) {
        val (x, y) = width / 2f to height / 2f
        val reach = dp(REACH).toFloat()
        val tip = if (layoutDirection == LAYOUT_DIRECTION_RTL) x + reach else x - reach
        val tail = 2 * x - tip
        path.rewind()
        path.moveTo(tail, y)
        path.lineTo(tip, y)
        path.moveTo(x, y - reach)
        path.lineTo(tip, y)
        path.lineTo(x, y + reach)
        canvas.drawPath(path, paint)
    }

    private companion object {
        const val STROKE = 2
        const val REACH = 8
    }
}
