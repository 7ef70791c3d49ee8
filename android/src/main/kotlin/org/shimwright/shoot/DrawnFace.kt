package org.shimwright.shoot

import android.annotation.SuppressLint
import android.content.Context
import android.graphics.Canvas
import android.graphics.Paint
import android.graphics.Path
import android.view.MotionEvent
import android.view.View
import android.view.ViewConfiguration
import org.shimwright.R
import org.shimwright.core.ArrowKind
import org.shimwright.core.PointMm
import org.shimwright.kit.Palette
import org.shimwright.kit.dp
import kotlin.math.hypot

/** A face drawn to scale, [halfMm] from its middle to its edge; a tap on it puts an arrow there. Never mirrored. */
@SuppressLint("ViewConstructor")
class DrawnFace(
    context: Context,
    private val halfMm: Double,
    private val arrows: List<Pair<ArrowKind, PointMm>>,
    private val tap: (PointMm) -> Unit,
) : View(context) {
    private val palette = Palette.of(context)
    private val paint = Paint(Paint.ANTI_ALIAS_FLAG)
    private val path = Path()
    private val slop = ViewConfiguration.get(context).scaledTouchSlop
    private var downX = 0f
    private var downY = 0f

    init {
        contentDescription = context.getString(R.string.drawn_face)
    }

    override fun onMeasure(widthSpec: Int, heightSpec: Int) {
        if (MeasureSpec.getMode(heightSpec) == MeasureSpec.EXACTLY) {
            setMeasuredDimension(MeasureSpec.getSize(widthSpec), MeasureSpec.getSize(heightSpec))
            return
        }
        val side = minOf(MeasureSpec.getSize(widthSpec), (resources.displayMetrics.heightPixels * SHARE).toInt())
        setMeasuredDimension(MeasureSpec.getSize(widthSpec), side)
    }

    private fun perMm() = height / (2 * halfMm)

    /** Where a place on the face shows, view px. */
    fun shown(at: PointMm): Pair<Float, Float> = (width / 2 + at.xMm * perMm()).toFloat() to (height / 2 - at.yMm * perMm()).toFloat()

    override fun onDraw(canvas: Canvas) {
        // An arrow may have hit beyond the drawing; what holds it does not cut: see showAllInk.
        canvas.clipRect(0, 0, width, height)
        val (x, y) = width / 2f to height / 2f
        paint.style = Paint.Style.FILL
        paint.color = palette.paper
        canvas.drawCircle(x, y, y, paint)
        paint.style = Paint.Style.STROKE
        paint.color = palette.edge
        paint.strokeWidth = dp(1).toFloat()
        for (ring in 1..RINGS) canvas.drawCircle(x, y, y * ring / RINGS - 1, paint)
        canvas.drawLine(x - y, y, x + y, y, paint)
        canvas.drawLine(x, 0f, x, 2 * y, paint)
        for ((kind, at) in arrows) arrow(canvas, kind, shown(at))
    }

    private fun arrow(canvas: Canvas, kind: ArrowKind, at: Pair<Float, Float>) {
        val (x, y) = at
        paint.strokeWidth = dp(3).toFloat()
        paint.style = if (kind == ArrowKind.BARE) Paint.Style.STROKE else Paint.Style.FILL
        when (kind) {
            ArrowKind.FLETCHED -> {
                paint.color = palette.fletched
                canvas.drawCircle(x, y, dp(6).toFloat(), paint)
            }

            ArrowKind.BARE -> {
                paint.color = palette.bare
                canvas.drawCircle(x, y, dp(6).toFloat(), paint)
            }

            ArrowKind.BROADHEAD -> {
                paint.color = palette.broadhead
                path.rewind()
                path.moveTo(x, y - dp(8))
                path.lineTo(x + dp(7), y + dp(5))
                path.lineTo(x - dp(7), y + dp(5))
                path.close()
                canvas.drawPath(path, paint)
            }
        }
    }

    @SuppressLint("ClickableViewAccessibility") // The fields below it do for screen readers what a finger does here.
    override fun onTouchEvent(event: MotionEvent): Boolean {
        if (event.actionMasked == MotionEvent.ACTION_DOWN) {
            downX = event.x
            downY = event.y
        }
        if (event.actionMasked == MotionEvent.ACTION_UP && hypot(event.x - downX, event.y - downY) < slop) {
            tap(PointMm((event.x - width / 2) / perMm(), (height / 2 - event.y) / perMm()))
        }
        return true
    }

    private companion object {
        const val RINGS = 5
        const val SHARE = 0.4
    }
}
