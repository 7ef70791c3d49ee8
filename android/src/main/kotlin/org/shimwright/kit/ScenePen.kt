package org.shimwright.kit

import android.content.Context
import android.graphics.Bitmap
import android.graphics.Canvas
import android.graphics.DashPathEffect
import android.graphics.Paint
import android.graphics.Path
import android.graphics.RectF
import org.shimwright.core.Anchor
import org.shimwright.core.Role
import org.shimwright.core.Scene
import org.shimwright.core.SceneItem
import org.shimwright.core.ScenePoint
import org.shimwright.core.Shape
import kotlin.math.max

/**
 * Draws the core's scenes on a canvas: one scale for both directions, a colour for each role, words for each label.
 * Never mirrored: left is the archer's left in every language.
 */
class ScenePen(context: Context, figures: Figures) {
    private val palette = Palette.of(context)
    private val words = SceneWords(context, figures)

    // Linear: labels are a few units high and scaled up, so letters must not be set in whole units.
    private val paint = Paint(Paint.ANTI_ALIAS_FLAG or Paint.LINEAR_TEXT_FLAG or Paint.SUBPIXEL_TEXT_FLAG)
    private val path = Path()
    private val box = RectF()
    private val onePixel = 1f

    /** Where the scene being drawn begins and ends. */
    private var leftmost = 0f
    private var rightmost = 0f

    /** What [Shape.Photograph] shows; nothing while null. */
    var photograph: Bitmap? = null

    /** Draws [scene] as large as it goes in a space of [width] by [height] px, in the middle of it. */
    fun draw(canvas: Canvas, scene: Scene, width: Float, height: Float) {
        val scale = minOf(width / scene.viewWidth, height / scene.viewHeight).toFloat()
        words.begin(scene)
        leftmost = scene.viewX.toFloat()
        rightmost = leftmost + scene.viewWidth.toFloat()
        canvas.save()
        canvas.translate((width - scene.viewWidth.toFloat() * scale) / 2, (height - scene.viewHeight.toFloat() * scale) / 2)
        canvas.scale(scale, scale)
        canvas.translate(-scene.viewX.toFloat(), -scene.viewY.toFloat())
        scene.items.forEach { inside(canvas, scene, it, onePixel / scale) }
        canvas.restore()
    }

    /** A face or sheet larger than what the scene shows of it ends where the scene does; letters may stand out. */
    private fun inside(canvas: Canvas, scene: Scene, item: SceneItem, thinnest: Float) {
        if (item.shape is Shape.Label) return item(canvas, item, thinnest)
        val (left, top) = scene.viewX.toFloat() to scene.viewY.toFloat()
        canvas.save()
        canvas.clipRect(left, top, left + scene.viewWidth.toFloat(), top + scene.viewHeight.toFloat())
        item(canvas, item, thinnest)
        canvas.restore()
    }

    private fun item(canvas: Canvas, item: SceneItem, thinnest: Float) {
        val label = item.shape as? Shape.Label
        if (label != null) return label(canvas, item, label)
        val place = item.shape as? Shape.Photograph
        if (place != null) return photograph(canvas, place)
        item.fill?.let {
            paint.style = Paint.Style.FILL
            paint.pathEffect = null
            colour(it.role, it.opacity)
            trace(canvas, item.shape)
        }
        item.stroke?.let {
            val width = max(it.width.toFloat(), thinnest)
            paint.style = Paint.Style.STROKE
            paint.strokeWidth = width
            paint.pathEffect = if (it.dashed) DashPathEffect(floatArrayOf(DASH * width, GAP * width), 0f) else null
            colour(it.role, 1.0)
            trace(canvas, item.shape)
        }
    }

    private fun colour(role: Role, opacity: Double) {
        paint.color = palette.of(role)
        paint.alpha = (opacity * OPAQUE).toInt().coerceIn(0, OPAQUE)
    }

    private fun trace(canvas: Canvas, shape: Shape) {
        when (shape) {
            is Shape.Circle -> canvas.drawCircle(shape.centre.x.toFloat(), shape.centre.y.toFloat(), shape.radius.toFloat(), paint)

            is Shape.Ellipse -> ellipse(canvas, shape)

            is Shape.Line -> canvas.drawPath(through(listOf(shape.from, shape.to), false), paint)

            is Shape.Polyline -> canvas.drawPath(through(shape.points, false), paint)

            is Shape.Polygon -> canvas.drawPath(through(shape.points, true), paint)

            is Shape.Rect -> {
                boxed(shape.corner, shape.width, shape.height)
                canvas.drawRoundRect(box, shape.round.toFloat(), shape.round.toFloat(), paint)
            }

            is Shape.Label, is Shape.Photograph -> Unit
        }
    }

    private fun ellipse(canvas: Canvas, shape: Shape.Ellipse) {
        canvas.save()
        canvas.translate(shape.centre.x.toFloat(), shape.centre.y.toFloat())
        canvas.rotate(Math.toDegrees(shape.turnRad).toFloat())
        box.set(-shape.radiusX.toFloat(), -shape.radiusY.toFloat(), shape.radiusX.toFloat(), shape.radiusY.toFloat())
        canvas.drawOval(box, paint)
        canvas.restore()
    }

    private fun boxed(corner: ScenePoint, width: Double, height: Double) {
        val (x, y) = corner.x.toFloat() to corner.y.toFloat()
        box.set(x, y, x + width.toFloat(), y + height.toFloat())
    }

    private fun through(points: List<ScenePoint>, closed: Boolean): Path {
        path.rewind()
        points.forEachIndexed { index, point ->
            if (index == 0) path.moveTo(point.x.toFloat(), point.y.toFloat()) else path.lineTo(point.x.toFloat(), point.y.toFloat())
        }
        if (closed) path.close()
        return path
    }

    private fun label(canvas: Canvas, item: SceneItem, label: Shape.Label) {
        val text = words.of(label.text)
        paint.textSize = label.height.toFloat()
        paint.typeface = if (label.bold) BOLD else android.graphics.Typeface.SANS_SERIF
        paint.textAlign = when (label.anchor) {
            Anchor.START -> Paint.Align.LEFT
            Anchor.MIDDLE -> Paint.Align.CENTER
            Anchor.END -> Paint.Align.RIGHT
        }
        fit(text, label)
        paint.pathEffect = null
        written(canvas, item, text, label.at)
        val year = words.yearOver(label.text) ?: return
        paint.textSize = label.height.toFloat() * YEAR_SIZE
        written(canvas, item, year, ScenePoint(label.at.x, label.at.y - label.height * YEAR_UP))
    }

    private fun written(canvas: Canvas, item: SceneItem, text: String, at: ScenePoint) {
        item.stroke?.let {
            paint.style = Paint.Style.STROKE
            paint.strokeWidth = it.width.toFloat()
            colour(it.role, 1.0)
            canvas.drawText(text, at.x.toFloat(), at.y.toFloat(), paint)
        }
        item.fill?.let {
            paint.style = Paint.Style.FILL
            colour(it.role, it.opacity)
            canvas.drawText(text, at.x.toFloat(), at.y.toFloat(), paint)
        }
    }

    /** A long name, or a long language, is set smaller rather than cut at the edge. */
    private fun fit(text: String, label: Shape.Label) {
        val (before, behind) = label.at.x.toFloat() - leftmost to rightmost - label.at.x.toFloat()
        val room = when (label.anchor) {
            Anchor.START -> behind
            Anchor.MIDDLE -> 2 * minOf(before, behind)
            Anchor.END -> before
        }
        val width = paint.measureText(text)
        if (width > room && room > 0) paint.textSize *= room / width
    }

    private fun photograph(canvas: Canvas, place: Shape.Photograph) {
        val picture = photograph ?: return
        boxed(place.corner, place.width, place.height)
        paint.alpha = OPAQUE
        canvas.drawBitmap(picture, null, box, paint)
    }

    private companion object {
        const val OPAQUE = 255
        const val DASH = 4f
        const val GAP = 3f

        /** A year over its day, in heights of the day's letters: between them and the chart. */
        const val YEAR_SIZE = 0.72f
        const val YEAR_UP = 0.86
    }
}

/** The colour that stands for a role of a scene. */
fun Palette.of(role: Role): Int = when (role) {
    Role.GROUND -> ground
    Role.CARD -> card
    Role.LINE -> line
    Role.INK -> ink
    Role.MUTED -> muted
    Role.SPACER -> brass
    Role.ON_SPACER -> onBrass
    Role.LIMB_TIP -> steel
    Role.CAM -> pale
    Role.FACE_OUTER -> faceOuter
    Role.FACE_MIDDLE -> faceMiddle
    Role.FACE_INNER -> faceInner
    Role.FACE_CENTRE -> faceCentre
    Role.PAPER -> paper
    Role.HOLE -> hole
    Role.FLETCHED -> fletched
    Role.BARE -> bare
    Role.BROADHEAD -> broadhead
    Role.SPLIT -> bare
    Role.EXPECTED, Role.TOLERANCE, Role.SETTLED, Role.FOUND -> settled
    Role.WANTS_YOU -> wants
}
