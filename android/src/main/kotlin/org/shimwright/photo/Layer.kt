package org.shimwright.photo

import android.content.Context
import android.graphics.Canvas
import android.graphics.DashPathEffect
import android.graphics.Paint
import android.graphics.Path
import org.shimwright.core.ArrowKind
import org.shimwright.core.PointPx
import org.shimwright.core.Trace
import org.shimwright.core.TraceKind
import org.shimwright.kit.BOLD
import org.shimwright.kit.Palette
import org.shimwright.kit.dp
import kotlin.math.cos
import kotlin.math.hypot
import kotlin.math.sin

/** What lies over a photograph: lines found, points that can be dragged, marks, and faint proposals. */
class Layer(
    val lines: List<Trace>,
    val movable: List<PointPx>,
    val marks: List<Seen> = emptyList(),
    val faint: List<PointPx> = emptyList(),
    val chosen: Int? = null,
    /** What stands beside each mark. */
    val names: List<String> = emptyList(),
)

/** Draws a [Layer]: kinds by shape first, colour second, on a halo so that they stand out on any ground. */
internal class LayerPen(private val context: Context, private val layer: Layer) {
    private val palette = Palette.of(context)
    private val paint = Paint(Paint.ANTI_ALIAS_FLAG)
    private val path = Path()
    private val dashes = DashPathEffect(floatArrayOf(dp(4), dp(3)), 0f)

    private fun dp(value: Int) = context.dp(value).toFloat()

    fun draw(canvas: Canvas, held: Int, heldAt: PointPx, shown: (PointPx) -> Pair<Float, Float>) {
        layer.lines.forEach { line(canvas, it, shown) }
        layer.marks.flatMap { it.traces }.forEach { line(canvas, it, shown) }
        for (at in layer.faint) faint(canvas, shown(at))
        val places = layer.marks.mapIndexed { index, seen -> shown(if (index == held) heldAt else seen.impact?.px ?: seen.mark.at) }
        layer.marks.forEachIndexed { index, seen -> mark(canvas, seen, places[index].first, places[index].second, index == layer.chosen) }
        val taken = places.toMutableList()
        places.zip(layer.names) { at, name -> taken += name(canvas, name, at, taken) }
        if (layer.marks.isNotEmpty()) return
        layer.movable.forEachIndexed { index, at -> handle(canvas, shown(if (index == held) heldAt else at), index == layer.chosen) }
    }

    private fun line(canvas: Canvas, trace: Trace, shown: (PointPx) -> Pair<Float, Float>) {
        path.rewind()
        trace.px.forEachIndexed { index, at ->
            val (x, y) = shown(at)
            if (index == 0) path.moveTo(x, y) else path.lineTo(x, y)
        }
        val slit = trace.kind == TraceKind.SLIT
        stroke(palette.ground, dp(if (slit) 3 else 4))
        canvas.drawPath(path, paint)
        stroke(colour(trace.kind), dp(2))
        if (trace.kind == TraceKind.WOUND || trace.kind == TraceKind.STANDING) paint.pathEffect = dashes
        canvas.drawPath(path, paint)
    }

    private fun colour(kind: TraceKind): Int = when (kind) {
        TraceKind.SLIT, TraceKind.TEAR -> palette.bare
        TraceKind.STANDING -> palette.wants
        else -> palette.settled
    }

    private fun stroke(colour: Int, width: Float) {
        paint.style = Paint.Style.STROKE
        paint.color = colour
        paint.strokeWidth = width
        paint.pathEffect = null
    }

    private fun handle(canvas: Canvas, at: Pair<Float, Float>, chosen: Boolean) {
        stroke(palette.ground, dp(5))
        canvas.drawCircle(at.first, at.second, dp(10), paint)
        stroke(if (chosen) palette.brass else palette.settled, dp(3))
        canvas.drawCircle(at.first, at.second, dp(10), paint)
    }

    private fun faint(canvas: Canvas, at: Pair<Float, Float>) {
        stroke(palette.ground, dp(3))
        canvas.drawCircle(at.first, at.second, dp(11), paint)
        stroke(palette.muted, dp(2))
        paint.pathEffect = dashes
        canvas.drawCircle(at.first, at.second, dp(11), paint)
    }

    private fun mark(canvas: Canvas, seen: Seen, x: Float, y: Float, chosen: Boolean) {
        val colour = when (seen.mark.kind) {
            ArrowKind.FLETCHED -> palette.fletched
            ArrowKind.BARE -> palette.bare
            ArrowKind.BROADHEAD -> palette.broadhead
        }
        // Around the hole and open, so that what proves it stays in sight; the sign beside it says the kind.
        stroke(palette.ground, dp(5))
        shape(canvas, seen.mark.kind, x, y)
        stroke(if (seen.mark.open) palette.brass else colour, dp(2))
        shape(canvas, seen.mark.kind, x, y)
        if (!seen.sure) {
            stroke(palette.wants, dp(2))
            paint.pathEffect = dashes
            canvas.drawCircle(x, y, dp(14), paint)
        }
        if (chosen) {
            stroke(palette.brass, dp(2))
            canvas.drawCircle(x, y, dp(18), paint)
        }
    }

    private fun shape(canvas: Canvas, kind: ArrowKind, x: Float, y: Float) = when (kind) {
        ArrowKind.FLETCHED, ArrowKind.BARE -> canvas.drawCircle(x, y, dp(9), paint)

        ArrowKind.BROADHEAD -> {
            path.rewind()
            path.moveTo(x, y - dp(13))
            path.lineTo(x + dp(11), y + dp(7))
            path.lineTo(x - dp(11), y + dp(7))
            path.close()
            canvas.drawPath(path, paint)
        }
    }

    /** Writes [name] beside its mark, where most room is between what is [taken]; answers its own middle. */
    private fun name(canvas: Canvas, name: String, at: Pair<Float, Float>, taken: List<Pair<Float, Float>>): Pair<Float, Float> {
        paint.textSize = dp(13) * context.resources.configuration.fontScale
        paint.typeface = BOLD
        paint.textAlign = Paint.Align.CENTER
        val reach = dp(12) + paint.measureText(name) / 2
        fun room(place: Pair<Float, Float>) =
            taken.filter { it != at }.minOfOrNull { hypot(it.first - place.first, it.second - place.second) }
        val around = (0 until SIDES).map { side ->
            val turn = 2 * Math.PI * side / SIDES
            at.first + (reach * cos(turn)).toFloat() to at.second + (maxOf(reach, dp(17)) * sin(turn)).toFloat()
        }
        // Room beyond what two lines of type need is no better: the right-hand side, which comes first, then wins.
        val middle = around.maxBy { (room(it) ?: Float.MAX_VALUE).coerceAtMost(dp(ROOM)) }
        val baseline = middle.second + dp(5)
        stroke(palette.ground, dp(4))
        canvas.drawText(name, middle.first, baseline, paint)
        paint.style = Paint.Style.FILL
        paint.color = palette.ink
        canvas.drawText(name, middle.first, baseline, paint)
        return middle
    }

    private companion object {
        const val SIDES = 8
        const val ROOM = 20
    }
}
