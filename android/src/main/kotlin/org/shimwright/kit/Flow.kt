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

/** Children of equal width side by side; below each other when the words of one would not fit its share. */
class Abreast(context: Context, private val gap: Int = Space.SMALL) : ViewGroup(context) {
    private var stacked = false

    private fun shown() = (0 until childCount).map(::getChildAt).filter { it.visibility != View.GONE }

    override fun onMeasure(widthSpec: Int, heightSpec: Int) {
        val width = MeasureSpec.getSize(widthSpec)
        val views = shown()
        val share = if (views.isEmpty()) width else (width - dp(gap) * (views.size - 1)) / views.size
        val free = MeasureSpec.makeMeasureSpec(0, MeasureSpec.UNSPECIFIED)
        stacked = views.any {
            it.measure(free, free)
            it.measuredWidth > share
        }
        val each = MeasureSpec.makeMeasureSpec(if (stacked) width else share, MeasureSpec.EXACTLY)
        views.forEach { it.measure(each, free) }
        val tallest = views.maxOfOrNull { it.measuredHeight } ?: 0
        if (!stacked) views.forEach { it.measure(each, MeasureSpec.makeMeasureSpec(tallest, MeasureSpec.EXACTLY)) }
        val height = if (stacked) views.sumOf { it.measuredHeight } + dp(gap) * (views.size - 1) else tallest
        setMeasuredDimension(width, height)
    }

    override fun onLayout(changed: Boolean, left: Int, top: Int, right: Int, bottom: Int) {
        var start = 0
        for (view in shown()) {
            if (stacked) {
                view.layout(0, start, view.measuredWidth, start + view.measuredHeight)
                start += view.measuredHeight + dp(gap)
            } else {
                val x = if (layoutDirection == LAYOUT_DIRECTION_RTL) right - left - start - view.measuredWidth else start
                view.layout(x, 0, x + view.measuredWidth, view.measuredHeight)
                start += view.measuredWidth + dp(gap)
            }
        }
    }
}
