package org.shimwright.window

import android.graphics.Bitmap
import android.graphics.Canvas
import android.graphics.Rect
import android.os.SystemClock
import android.util.DisplayMetrics
import android.view.Gravity
import android.view.InputDevice
import android.view.KeyCharacterMap
import android.view.KeyEvent
import android.view.MotionEvent
import android.view.View
import android.view.WindowManager
import android.view.WindowManagerGlobal
import org.shimwright.testing.everything
import java.awt.image.BufferedImage
import java.awt.image.DataBufferInt
import java.nio.IntBuffer

/** The app's own windows, a page and at times a dialog over it: draws them as the system would, and hands on what was done. */
internal class Panes : Hand {
    private var screen = Rect()
    private var held: View? = null
    private var downMs = 0L

    private val all get() = WindowManagerGlobal.getInstance().windowViews.filter { it.isShown && it.width > 0 }
    private val top get() = all.lastOrNull()

    /** The name of the page that shows, as a screen reader would say it. */
    fun title(): String = all.flatMap { it.everything() }.firstNotNullOfOrNull { it.accessibilityPaneTitle }?.toString().orEmpty()

    fun picture(metrics: DisplayMetrics): BufferedImage {
        screen = Rect(0, 0, metrics.widthPixels, metrics.heightPixels)
        val bitmap = Bitmap.createBitmap(screen.width(), screen.height(), Bitmap.Config.ARGB_8888)
        val canvas = Canvas(bitmap)
        for (pane in all) draw(canvas, pane)
        // Robolectric hands the pixels over as blue, green, red, alpha: as little-endian numbers just what this type holds.
        val picture = BufferedImage(bitmap.width, bitmap.height, BufferedImage.TYPE_INT_RGB)
        bitmap.copyPixelsToBuffer(IntBuffer.wrap((picture.raster.dataBuffer as DataBufferInt).data))
        bitmap.recycle()
        return picture
    }

    private fun draw(canvas: Canvas, pane: View) {
        val params = pane.layoutParams as WindowManager.LayoutParams
        if (params.flags and WindowManager.LayoutParams.FLAG_DIM_BEHIND != 0) canvas.drawColor((params.dimAmount * 255).toInt() shl 24)
        val place = place(pane)
        canvas.save()
        canvas.translate(place.left.toFloat(), place.top.toFloat())
        pane.draw(canvas)
        canvas.restore()
    }

    private fun place(pane: View): Rect {
        val params = pane.layoutParams as WindowManager.LayoutParams
        val place = Rect()
        Gravity.apply(params.gravity, pane.width, pane.height, screen, params.x, params.y, place)
        return place
    }

    override fun touch(action: Int, x: Float, y: Float) {
        if (action == MotionEvent.ACTION_DOWN) {
            held = top
            downMs = SystemClock.uptimeMillis()
        }
        val pane = held ?: return
        val place = place(pane)
        val event = MotionEvent.obtain(downMs, SystemClock.uptimeMillis(), action, x - place.left, y - place.top, 0)
        event.source = InputDevice.SOURCE_TOUCHSCREEN
        pane.dispatchTouchEvent(event)
        event.recycle()
    }

    override fun turn(notches: Float, x: Float, y: Float) {
        val pane = top ?: return
        val place = place(pane)
        val pointer = MotionEvent.PointerProperties().apply { toolType = MotionEvent.TOOL_TYPE_MOUSE }
        val turned = MotionEvent.PointerCoords().apply {
            this.x = x - place.left
            this.y = y - place.top
            setAxisValue(MotionEvent.AXIS_VSCROLL, notches)
        }
        val (now, source) = SystemClock.uptimeMillis() to InputDevice.SOURCE_MOUSE
        val (pointers, places) = arrayOf(pointer) to arrayOf(turned)
        val event = MotionEvent.obtain(now, now, MotionEvent.ACTION_SCROLL, 1, pointers, places, 0, 0, 1f, 1f, 0, 0, source, 0)
        // Under Robolectric such an event does not find its way down from the window: it is offered from the innermost view out.
        pane.everything().filter { it.isUnder(turned.x, turned.y) }.asReversed().any { it.dispatchGenericMotionEvent(event) }
        event.recycle()
    }

    private fun View.isUnder(x: Float, y: Float): Boolean {
        val seen = Rect()
        return isShown && getGlobalVisibleRect(seen) && seen.contains(x.toInt(), y.toInt())
    }

    override fun key(code: Int, shift: Boolean) {
        val now = SystemClock.uptimeMillis()
        val meta = if (shift) KeyEvent.META_SHIFT_ON else 0
        for (action in listOf(KeyEvent.ACTION_DOWN, KeyEvent.ACTION_UP)) top?.dispatchKeyEvent(KeyEvent(now, now, action, code, 0, meta))
    }

    override fun type(text: String) {
        @Suppress("DEPRECATION") // Whole characters, whatever keyboard they come from.
        top?.dispatchKeyEvent(KeyEvent(SystemClock.uptimeMillis(), text, KeyCharacterMap.VIRTUAL_KEYBOARD, 0))
    }
}
