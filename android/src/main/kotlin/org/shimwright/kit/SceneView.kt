package org.shimwright.kit

import android.content.Context
import android.graphics.Canvas
import android.view.View
import org.shimwright.core.Scene

/** Shows one of the core's scenes; [spoken] tells a screen reader what it shows. */
class SceneView(context: Context, private val scene: Scene, figures: Figures, spoken: CharSequence?, private val tallest: Int = TALLEST) :
    View(context) {
    private val pen = ScenePen(context, figures)

    init {
        contentDescription = spoken
        importantForAccessibility = if (spoken == null) IMPORTANT_FOR_ACCESSIBILITY_NO else IMPORTANT_FOR_ACCESSIBILITY_YES
    }

    /** As wide as it may be and as high as that makes it, up to [tallest] dp; higher for who reads large letters, which grow with it. */
    override fun onMeasure(widthSpec: Int, heightSpec: Int) {
        val width = MeasureSpec.getSize(widthSpec)
        val most = dp(tallest) * resources.configuration.fontScale.coerceAtLeast(1f)
        val wanted = (width * scene.viewHeight / scene.viewWidth).toInt().coerceAtMost(most.toInt())
        setMeasuredDimension(width, resolveSize(wanted, heightSpec))
    }

    override fun onDraw(canvas: Canvas) {
        // A scene may reach beyond its view, and what holds it does not cut: see showAllInk.
        canvas.clipRect(0, 0, width, height)
        pen.draw(canvas, scene, width.toFloat(), height.toFloat())
    }

    private companion object {
        const val TALLEST = 340
    }
}

/** A drawing across the width of what holds it. */
fun Column.scene(scene: Scene, figures: Figures, spoken: CharSequence?, tallest: Int? = null): SceneView =
    put(if (tallest == null) SceneView(context, scene, figures, spoken) else SceneView(context, scene, figures, spoken, tallest))
