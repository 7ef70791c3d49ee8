package org.shimwright.kit

import android.content.Context
import android.view.View
import android.view.ViewGroup

/**
 * Lays its children side by side and goes on below when a line is full, so that large type never clips.
 * With [spread], the last child of a line that holds more than one stands at the line's end.
 */
class Flow(context: Context, private val gap: Int = Space.SMALL, private val spread: Boolean = false) : ViewGroup(context) {
    private class Line(val views: List<View>, val height: Int, val width: Int)

    private var lines = emptyList<Line>()

    init {
        clipChildren = false
    }

    override fun onMeasure(widthSpec: Int, heightSpec: Int) {
        val room = if (MeasureSpec.getMode(widthSpec) == MeasureSpec.UNSPECIFIED) Int.MAX_VALUE else MeasureSpec.getSize(widthSpec)
        val most = room - paddingLeft - paddingRight
        shown().forEach {
            it.measure(wanted(it.layoutParams.width, most, MeasureSpec.AT_MOST), wanted(it.layoutParams.height, 0, MeasureSpec.UNSPECIFIED))
        }
        lines = broken(most)
        val height = lines.sumOf { it.height } + dp(gap) * (lines.size - 1).coerceAtLeast(0)
        val width = if (spread) most else lines.maxOfOrNull { it.width } ?: 0
        setMeasuredDimension(resolveSize(width + paddingLeft + paddingRight, widthSpec), height + paddingTop + paddingBottom)
    }

    /** A child that states its size gets it. */
    private fun wanted(stated: Int, room: Int, mode: Int) =
        if (stated > 0) MeasureSpec.makeMeasureSpec(stated, MeasureSpec.EXACTLY) else MeasureSpec.makeMeasureSpec(room, mode)

    private fun shown() = (0 until childCount).map(::getChildAt).filter { it.visibility != View.GONE }

    private fun broken(most: Int): List<Line> {
        val done = mutableListOf<Line>()
        var views = mutableListOf<View>()
        var width = 0
        fun close() {
            if (views.isNotEmpty()) done += Line(views, views.maxOf { it.measuredHeight }, width)
        }
        for (view in shown()) {
            val next = if (views.isEmpty()) view.measuredWidth else width + dp(gap) + view.measuredWidth
            if (views.isNotEmpty() && next > most) {
                close()
                views = mutableListOf(view)
                width = view.measuredWidth
            } else {
                views += view
                width = next
            }
        }
        close()
        return done
    }

    override fun onLayout(changed: Boolean, left: Int, top: Int, right: Int, bottom: Int) {
        var y = paddingTop
        for (line in lines) {
            placeLine(line, y, right - left)
            y += line.height + dp(gap)
        }
    }

    private fun placeLine(line: Line, y: Int, width: Int) {
        val slack = width - paddingLeft - paddingRight - line.width
        var start = paddingStart
        line.views.forEachIndexed { index, view ->
            if (spread && index > 0 && index == line.views.lastIndex) start += slack
            val x = if (layoutDirection == LAYOUT_DIRECTION_RTL) width - start - view.measuredWidth else start
            val drop = (line.height - view.measuredHeight) / 2
            view.layout(x, y + drop, x + view.measuredWidth, y + drop + view.measuredHeight)
            start += view.measuredWidth + dp(gap)
        }
    }
}

/**
 * Buttons side by side: of equal width where the words of all fit their share, else each as wide as its words ask,
 * going on below when a line is full. Every line is filled to its end.
 */
class Abreast(context: Context, private val gap: Int = Space.SMALL) : ViewGroup(context) {
    private var lines = emptyList<List<View>>()

    private fun shown() = (0 until childCount).map(::getChildAt).filter { it.visibility != View.GONE }

    override fun onMeasure(widthSpec: Int, heightSpec: Int) {
        val width = MeasureSpec.getSize(widthSpec)
        val free = MeasureSpec.makeMeasureSpec(0, MeasureSpec.UNSPECIFIED)
        val views = shown().onEach { it.measure(free, free) }
        val share = share(width, views.size)
        lines = if (views.all { it.measuredWidth <= share }) listOf(views) else broken(views, width)
        lines.forEach { fill(it, width) }
        val height = lines.sumOf { line -> line.maxOfOrNull { it.measuredHeight } ?: 0 } + dp(gap) * (lines.size - 1).coerceAtLeast(0)
        setMeasuredDimension(width, height)
    }

    private fun share(width: Int, of: Int) = if (of == 0) width else (width - dp(gap) * (of - 1)) / of

    private fun broken(views: List<View>, width: Int): List<List<View>> {
        val done = mutableListOf<MutableList<View>>()
        var left = 0
        for (view in views) {
            if (done.isEmpty() || left < view.measuredWidth) {
                done += mutableListOf(view)
                left = width
            } else {
                done.last() += view
            }
            left -= view.measuredWidth + dp(gap)
        }
        return done
    }

    private fun fill(line: List<View>, width: Int) {
        val share = share(width, line.size)
        val even = line.all { it.measuredWidth <= share }
        val slack = (width - dp(gap) * (line.size - 1) - line.sumOf { it.measuredWidth }).coerceAtLeast(0) / line.size.coerceAtLeast(1)
        val free = MeasureSpec.makeMeasureSpec(0, MeasureSpec.UNSPECIFIED)
        for (view in line) {
            val wide = if (even) share else (view.measuredWidth + slack).coerceAtMost(width)
            view.measure(MeasureSpec.makeMeasureSpec(wide, MeasureSpec.EXACTLY), free)
        }
        val tallest = MeasureSpec.makeMeasureSpec(line.maxOfOrNull { it.measuredHeight } ?: 0, MeasureSpec.EXACTLY)
        line.forEach { it.measure(MeasureSpec.makeMeasureSpec(it.measuredWidth, MeasureSpec.EXACTLY), tallest) }
    }

    override fun onLayout(changed: Boolean, left: Int, top: Int, right: Int, bottom: Int) {
        var y = 0
        for (line in lines) {
            var start = 0
            for (view in line) {
                val x = if (layoutDirection == LAYOUT_DIRECTION_RTL) right - left - start - view.measuredWidth else start
                view.layout(x, y, x + view.measuredWidth, y + view.measuredHeight)
                start += view.measuredWidth + dp(gap)
            }
            y += (line.maxOfOrNull { it.measuredHeight } ?: 0) + dp(gap)
        }
    }
}
