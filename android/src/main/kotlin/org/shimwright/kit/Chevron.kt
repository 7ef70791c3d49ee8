package org.shimwright.kit

import android.content.Context
import android.graphics.Canvas
import android.graphics.ColorFilter
import android.graphics.Paint
import android.graphics.Path
import android.graphics.PixelFormat
import android.graphics.drawable.Drawable
import android.view.View

/** Points onwards from the end of a card that can be pressed. */
internal class Chevron(context: Context) : Drawable() {
    private val reach = context.dp(REACH).toFloat()
    private val inset = context.dp(INSET).toFloat()
    private val path = Path()
    private val paint = Paint(Paint.ANTI_ALIAS_FLAG).apply {
        style = Paint.Style.STROKE
        strokeWidth = context.dp(STROKE).toFloat()
        strokeCap = Paint.Cap.ROUND
        color = Palette.of(context).muted
    }

    override fun draw(canvas: Canvas) {
        val mirrored = layoutDirection == View.LAYOUT_DIRECTION_RTL
        val onwards = if (mirrored) -reach else reach
        val tip = if (mirrored) bounds.left + inset - reach else bounds.right - inset + reach
        val y = bounds.exactCenterY()
        path.rewind()
        path.moveTo(tip - onwards, y - reach)
        path.lineTo(tip, y)
        path.lineTo(tip - onwards, y + reach)
        canvas.drawPath(path, paint)
    }

    override fun setAlpha(alpha: Int) {
        paint.alpha = alpha
    }

    override fun setColorFilter(filter: ColorFilter?) {
        paint.colorFilter = filter
    }

    @Deprecated("Asked for by the framework's older code.")
    override fun getOpacity() = PixelFormat.TRANSLUCENT

    private companion object {
        const val REACH = 5
        const val INSET = 20
        const val STROKE = 2
    }
}
