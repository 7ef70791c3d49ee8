package org.shimwright.testing

import android.app.Activity
import android.net.Uri
import android.os.SystemClock
import android.provider.MediaStore
import android.view.MotionEvent
import android.view.View
import org.junit.Assert.assertEquals
import org.robolectric.Shadows.shadowOf
import org.shimwright.core.PointPx
import org.shimwright.photo.PhotoView
import java.io.File

/** A test that photographs: it answers the camera with the demonstration's photographs and puts a finger on them. */
abstract class Photographing : LookTest() {
    protected fun demo(name: String) = File("../demo/photos/$name").readBytes()

    /** Answers the camera as a camera app does: writes the file it was lent, then says it went well. */
    protected fun photographed(with: ByteArray) {
        tap("Take a photograph")
        val asked = shadowOf(shell).nextStartedActivityForResult
        assertEquals(MediaStore.ACTION_IMAGE_CAPTURE, asked.intent.action)
        @Suppress("DEPRECATION") // The typed getter is newer than API 26.
        val lent = checkNotNull(asked.intent.getParcelableExtra<Uri>(MediaStore.EXTRA_OUTPUT))
        checkNotNull(app.contentResolver.openOutputStream(lent, "w")).use { it.write(with) }
        shadowOf(shell).receiveResult(asked.intent, Activity.RESULT_OK, null)
        settle()
    }

    protected fun photoView() = root.everything().filterIsInstance<PhotoView>().single()

    protected fun tapPhoto(x: Int, y: Int) {
        val view = photoView()
        val (px, py) = view.shown(PointPx(x.toDouble(), y.toDouble()))
        val now = SystemClock.uptimeMillis()
        for (action in listOf(MotionEvent.ACTION_DOWN, MotionEvent.ACTION_UP)) {
            val event = MotionEvent.obtain(now, now + 20, action, px, py, 0)
            view.dispatchTouchEvent(event)
            event.recycle()
        }
        settle()
    }

    protected fun drag(view: View, from: Pair<Float, Float>, to: Pair<Float, Float>) {
        val now = SystemClock.uptimeMillis()
        val between = (from.first + to.first) / 2 to (from.second + to.second) / 2
        val steps = listOf(
            MotionEvent.ACTION_DOWN to from,
            MotionEvent.ACTION_MOVE to between,
            MotionEvent.ACTION_MOVE to to,
            MotionEvent.ACTION_UP to to,
        )
        for ((action, at) in steps) {
            val event = MotionEvent.obtain(now, now + 20, action, at.first, at.second, 0)
            view.dispatchTouchEvent(event)
            event.recycle()
        }
        settle()
    }
}
