package org.shimwright.photo

import android.annotation.SuppressLint
import android.content.Context
import android.graphics.Canvas
import android.graphics.Matrix
import android.graphics.Paint
import android.graphics.Path
import android.graphics.RectF
import android.view.HapticFeedbackConstants
import android.view.MotionEvent
import android.view.ScaleGestureDetector
import android.view.View
import android.view.ViewConfiguration
import org.shimwright.core.PointPx
import org.shimwright.kit.Palette
import org.shimwright.kit.dp
import org.shimwright.kit.keepGesturesOut
import org.shimwright.kit.photoFilter
import java.util.concurrent.Executors
import kotlin.math.hypot

/** What a finger on the photograph does; positions in upright photograph px. */
interface Hands {
    /** A tap, [exact] when it was aimed through the magnifier; [perMm] photograph px lie under one mm of screen. */
    fun tap(at: PointPx, perMm: Double, exact: Boolean)

    /** A point that can be dragged was tapped. */
    fun pick(index: Int)

    /** A point that can be dragged was let go. */
    fun drop(index: Int, at: PointPx, perMm: Double)

    /** The picture was moved or zoomed: scale and middle, to be kept. */
    fun looked(at: FloatArray)
}

/**
 * A photograph with what was found drawn over it. Two fingers zoom, one moves it, a tap marks; a finger on a point
 * drags it, seen through a magnifier that stands clear of the finger. Never mirrored.
 */
@SuppressLint("ViewConstructor") // Only made by its page, never by a layout file.
class PhotoView(context: Context, private val picture: Picture, private val layer: Layer, private val hands: Hands) : View(context) {
    private val palette = Palette.of(context)
    private val pen = LayerPen(context, layer)
    private val paint = Paint(Paint.FILTER_BITMAP_FLAG or Paint.ANTI_ALIAS_FLAG).apply { colorFilter = context.photoFilter() }
    private val ring = Paint(Paint.ANTI_ALIAS_FLAG).apply { style = Paint.Style.STROKE }
    private val matrix = Matrix()
    private val round = Path()
    private val slop = ViewConfiguration.get(context).scaledTouchSlop
    private val zoom = ScaleGestureDetector(context, Pinch())
    private var scale = 0f
    private var middle = PointPx(picture.width / 2.0, picture.height / 2.0)
    private var look: FloatArray? = null
    private var sharp: Sharp? = null
    private var held = -1
    private var heldAt = PointPx(0.0, 0.0)
    private var last = PointPx(0.0, 0.0)
    private var moved = false

    /** A finger that rests aims a new mark through the magnifier. */
    private var aiming = false
    private var dragged = false
    private val aim = Runnable(::startAiming)
    private var shareOfWindow = 0.44f

    /** Shows the part that [hands] was told last. */
    fun lookAt(kept: FloatArray?) {
        look = kept
    }

    override fun onMeasure(widthSpec: Int, heightSpec: Int) {
        val width = MeasureSpec.getSize(widthSpec)
        if (MeasureSpec.getMode(heightSpec) == MeasureSpec.EXACTLY) return setMeasuredDimension(width, MeasureSpec.getSize(heightSpec))
        val wanted = width.toLong() * picture.height / picture.width
        val most = (resources.displayMetrics.heightPixels * shareOfWindow).toInt()
        setMeasuredDimension(width, wanted.toInt().coerceIn(dp(LEAST_DP), most.coerceAtLeast(dp(LEAST_DP))))
    }

    override fun onSizeChanged(width: Int, height: Int, oldWidth: Int, oldHeight: Int) {
        keepGesturesOut()
        val kept = look
        scale = fitting()
        if (kept != null) {
            scale = kept[0].coerceIn(fitting(), fitting() * MOST_ZOOM)
            middle = PointPx(kept[1].toDouble(), kept[2].toDouble())
        } else if (layer.marks.isNotEmpty()) {
            closeUp()
        }
        sharpen()
    }

    /** Shows the marks large, with as much around them as they take up themselves. */
    private fun closeUp() {
        val places = layer.marks.map { it.impact?.px ?: it.mark.at }
        val (xs, ys) = places.map { it.xPx } to places.map { it.yPx }
        val wide = (xs.max() - xs.min()).coerceAtLeast(picture.width / LEAST_SHARE)
        val high = (ys.max() - ys.min()).coerceAtLeast(picture.height / LEAST_SHARE)
        scale = minOf(width / (2 * wide), height / (2 * high)).toFloat().coerceIn(fitting(), fitting() * MOST_ZOOM)
        middle = PointPx(filled((xs.max() + xs.min()) / 2, width, picture.width), filled((ys.max() + ys.min()) / 2, height, picture.height))
        looked()
    }

    /** The middle of what shows, moved so that it leaves no room empty which the picture could fill. */
    private fun filled(at: Double, room: Int, whole: Int): Double {
        val half = room / scale / 2.0
        return if (2 * half >= whole) whole / 2.0 else at.coerceIn(half, whole - half)
    }

    private fun fitting() = minOf(width.toFloat() / picture.width, height.toFloat() / picture.height)

    /** Photograph px under a mm of screen. */
    private fun perMm() = resources.displayMetrics.xdpi / MM_PER_INCH / scale.toDouble()

    /** Where a point of the photograph shows, view px. */
    fun shown(at: PointPx): Pair<Float, Float> =
        ((at.xPx - middle.xPx) * scale + width / 2.0).toFloat() to ((at.yPx - middle.yPx) * scale + height / 2.0).toFloat()

    private fun under(x: Float, y: Float) = PointPx(middle.xPx + (x - width / 2.0) / scale, middle.yPx + (y - height / 2.0) / scale)

    override fun onDraw(canvas: Canvas) {
        canvas.save()
        canvas.clipRect(0, 0, width, height)
        canvas.drawColor(palette.ground)
        photograph(canvas, scale, middle, width / 2f, height / 2f)
        pen.draw(canvas, held, heldAt, ::shown)
        if (held >= 0 || aiming) magnifier(canvas)
        canvas.restore()
    }

    private fun photograph(canvas: Canvas, scale: Float, middle: PointPx, x: Float, y: Float) {
        val step = picture.width.toFloat() / picture.whole.width
        matrix.setScale(step * scale, step * scale)
        matrix.postTranslate(x - (middle.xPx * scale).toFloat(), y - (middle.yPx * scale).toFloat())
        canvas.drawBitmap(picture.whole, matrix, paint)
        val patch = sharp ?: return
        val (left, top) = (x + (patch.at.left - middle.xPx) * scale).toFloat() to (y + (patch.at.top - middle.yPx) * scale).toFloat()
        canvas.drawBitmap(patch.bitmap, null, RectF(left, top, left + patch.at.width() * scale, top + patch.at.height() * scale), paint)
    }

    /** Stands in the upper corner away from the finger. */
    private fun magnifier(canvas: Canvas) {
        val radius = minOf(dp(MAGNIFIER_DP), height / 2 - dp(8)).toFloat()
        val left = shown(heldAt).first > width / 2
        val x = if (left) radius + dp(8) else width - radius - dp(8)
        val y = radius + dp(8)
        val big = maxOf(scale * 3, dp(1).toFloat())
        round.rewind()
        round.addCircle(x, y, radius, Path.Direction.CW)
        canvas.save()
        canvas.clipPath(round)
        canvas.drawColor(palette.ground)
        photograph(canvas, big, heldAt, x, y)
        ring.color = palette.brass
        ring.strokeWidth = dp(1).toFloat()
        canvas.drawLine(x - radius, y, x + radius, y, ring)
        canvas.drawLine(x, y - radius, x, y + radius, ring)
        canvas.restore()
        ring.color = palette.card
        ring.strokeWidth = dp(3).toFloat()
        canvas.drawCircle(x, y, radius, ring)
    }

    @SuppressLint("ClickableViewAccessibility") // The list below it does for screen readers what a finger does here.
    override fun onTouchEvent(event: MotionEvent): Boolean {
        zoom.onTouchEvent(event)
        when (event.actionMasked) {
            MotionEvent.ACTION_DOWN -> down(event)
            MotionEvent.ACTION_POINTER_DOWN -> letGo()
            MotionEvent.ACTION_MOVE -> if (event.pointerCount == 1 && !zoom.isInProgress) move(event)
            MotionEvent.ACTION_UP -> up(event)
            MotionEvent.ACTION_CANCEL -> letGo()
        }
        invalidate()
        return true
    }

    private fun down(event: MotionEvent) {
        parent.requestDisallowInterceptTouchEvent(true)
        last = PointPx(event.x.toDouble(), event.y.toDouble())
        moved = false
        held = nearest(event.x, event.y)
        removeCallbacks(aim)
        if (held < 0) {
            postDelayed(aim, ViewConfiguration.getLongPressTimeout().toLong())
            return
        }
        heldAt = layer.movable[held]
        sharpenAround(heldAt)
    }

    private fun startAiming() {
        if (moved || held >= 0) return
        aiming = true
        heldAt = inside(under(last.xPx.toFloat(), last.yPx.toFloat()))
        performHapticFeedback(HapticFeedbackConstants.LONG_PRESS)
        sharpenAround(heldAt)
        invalidate()
    }

    private fun sharpenAround(at: PointPx) {
        val around = HALF_PATCH
        val (x, y) = at.xPx.toFloat() to at.yPx.toFloat()
        sharpen(RectF(x - around, y - around, x + around, y + around))
    }

    private fun nearest(x: Float, y: Float): Int =
        layer.movable.indices.minByOrNull { far(it, x, y) }?.takeIf { far(it, x, y) < dp(REACH_DP) } ?: -1

    private fun far(index: Int, x: Float, y: Float) = shown(layer.movable[index]).let { (px, py) -> hypot(px - x, py - y) }

    private fun move(event: MotionEvent) {
        val (dx, dy) = event.x - last.xPx to event.y - last.yPx
        if (!moved && hypot(dx, dy) < slop) return
        moved = true
        last = PointPx(event.x.toDouble(), event.y.toDouble())
        removeCallbacks(aim)
        if (held >= 0 || aiming) {
            heldAt = inside(PointPx(heldAt.xPx + dx / scale, heldAt.yPx + dy / scale))
        } else {
            middle = inside(PointPx(middle.xPx - dx / scale, middle.yPx - dy / scale))
        }
    }

    private fun inside(at: PointPx) = PointPx(at.xPx.coerceIn(0.0, picture.width - 1.0), at.yPx.coerceIn(0.0, picture.height - 1.0))

    private fun up(event: MotionEvent) {
        val index = held
        val aimed = aiming
        letGo()
        when {
            aimed -> hands.tap(heldAt, perMm(), true)
            index >= 0 && dragged -> hands.drop(index, heldAt, perMm())
            index >= 0 && far(index, event.x, event.y) < dp(PICK_DP) -> hands.pick(index)
            dragged -> looked()
            else -> hands.tap(inside(under(event.x, event.y)), perMm(), false)
        }
    }

    private fun letGo() {
        removeCallbacks(aim)
        held = -1
        aiming = false
        dragged = moved
        moved = true
    }

    private fun looked() {
        hands.looked(floatArrayOf(scale, middle.xPx.toFloat(), middle.yPx.toFloat()))
        sharpen()
    }

    /** Fetches what shows now at full sharpness, where the whole picture is too coarse for it. */
    private fun sharpen() {
        val shownPerPixel = scale * picture.width / picture.whole.width
        if (shownPerPixel <= 1f || width == 0) return
        val (halfWide, halfHigh) = width / 2f / scale to height / 2f / scale
        val (x, y) = middle.xPx.toFloat() to middle.yPx.toFloat()
        sharpen(RectF(x - halfWide, y - halfHigh, x + halfWide, y + halfHigh))
    }

    private fun sharpen(region: RectF) {
        CUTTER.execute {
            val fresh = picture.sharp(region, MOST_PATCH)
            if (fresh != null) {
                post {
                    sharp = fresh
                    invalidate()
                }
            }
        }
    }

    private inner class Pinch : ScaleGestureDetector.SimpleOnScaleGestureListener() {
        override fun onScale(detector: ScaleGestureDetector): Boolean {
            val fixed = under(detector.focusX, detector.focusY)
            scale = (scale * detector.scaleFactor).coerceIn(fitting(), fitting() * MOST_ZOOM)
            val (dx, dy) = (detector.focusX - width / 2.0) / scale to (detector.focusY - height / 2.0) / scale
            middle = inside(PointPx(fixed.xPx - dx, fixed.yPx - dy))
            moved = true
            return true
        }
    }

    private companion object {
        const val LEAST_DP = 150
        const val MAGNIFIER_DP = 64
        const val REACH_DP = 28

        /** Farther from a mark a tap means another hole. */
        const val PICK_DP = 12
        const val MOST_ZOOM = 24f
        const val LEAST_SHARE = 6.0
        const val MOST_PATCH = 1600
        const val HALF_PATCH = 320f
        const val MM_PER_INCH = 25.4
        val CUTTER = Executors.newSingleThreadExecutor { Thread(it, "photograph").apply { isDaemon = true } }
    }
}
