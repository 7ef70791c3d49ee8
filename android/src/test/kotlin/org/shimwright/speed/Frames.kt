package org.shimwright.speed

import android.graphics.Bitmap
import android.graphics.BitmapFactory
import android.graphics.Canvas
import android.graphics.Matrix
import android.os.Bundle
import android.os.Looper
import android.os.SystemClock
import android.view.MotionEvent
import android.view.View
import android.widget.ImageView
import org.junit.Rule
import org.junit.Test
import org.robolectric.RuntimeEnvironment
import org.robolectric.Shadows.shadowOf
import org.shimwright.App
import org.shimwright.core.ArrowKind
import org.shimwright.core.PhotoSession
import org.shimwright.core.PointPx
import org.shimwright.core.Side
import org.shimwright.core.Surface
import org.shimwright.frame.Route
import org.shimwright.photo.PhotoView
import org.shimwright.photo.Picture
import org.shimwright.shoot.Shot
import org.shimwright.testing.Samples
import org.shimwright.testing.ShellTest
import org.shimwright.testing.everything
import java.io.File
import java.time.Duration

/** How long a frame takes on the host, where everything is drawn by one thread and no graphics chip helps. */
class Frames : ShellTest() {
    @get:Rule
    val stopwatch = Stopwatch()

    @Test
    fun `a rack of a thousand bows`() {
        core { workshop ->
            val (kit, bows) = Samples.fill(workshop, NOW_MS)
            repeat(1000 - bows.size) { workshop.addBow(Samples.bow("Bow $it", kit), Samples.both("B", Side.LEFT), NOW_MS) }
        }
        RuntimeEnvironment.setQualifiers(FINE_PHONE)
        open()
        see("1000 bows")
        val canvas = screenful()
        repeat(WARM_UP) { opened(canvas) }
        stopwatch.told("Rack of 1,000 bows, opened to first frame", List(15) { opened(canvas) }, 300.0)
        keepForColdStart()
    }

    private fun opened(canvas: Canvas): Double {
        settle()
        close()
        core { }
        return millis {
            open()
            root.draw(canvas)
        }
    }

    private fun keepForColdStart() {
        settle()
        close()
        app.worker.close { it.close() }
        while (!app.worker.idle) Thread.sleep(1)
        app.filesDir.resolve(App.FILE).copyTo(File(ColdStart.THOUSAND_BOWS), overwrite = true)
    }

    @Test
    fun `pan and zoom on a photograph of 12 MP`() {
        RuntimeEnvironment.setQualifiers(FINE_PHONE)
        openOnPhotograph()
        val view = root.everything().filterIsInstance<PhotoView>().single()
        val canvas = screenful()
        stopwatch.told("12 MP photograph, zoomed, whole page", zoomed(view) { root.draw(canvas) }, FRAME_BAR_MS)
        sharpened()
        stopwatch.told("12 MP photograph, panned, whole page", panned(view) { root.draw(canvas) }, FRAME_BAR_MS)
        stopwatch.told("12 MP photograph, panned, the view alone", panned(view) { view.draw(canvas) })
        stopwatch.told("its peer, an ImageView that holds all 12 MP, panned", plainly(view, canvas))
    }

    private fun openOnPhotograph() = openAt(Route.PHOTO, photographed())

    /** A fresh trial of the demonstration's photograph. */
    private fun photographed(): Bundle {
        val bow = core { Samples.fill(it, NOW_MS) }.second.first()
        val name = "$NOW_MS-0.jpg"
        PHOTOGRAPH.copyTo(app.filesDir.resolve("photos").resolve(name))
        return Shot(bow, Surface.FACE, 18.0, "", ArrowKind.entries.associateWith { 3 }, null).asArgs(name)
    }

    @Test
    fun `from a photograph of 12 MP chosen to its marks shown`() {
        RuntimeEnvironment.setQualifiers(FINE_PHONE)
        val args = photographed()
        openAt(Route.PHOTO, args)
        see("6 holes found")
        val canvas = screenful()
        val whole = List(PHOTOGRAPHS) {
            millis {
                openAt(Route.PHOTO, args)
                root.draw(canvas)
            }
        }
        stopwatch.told("12 MP photograph chosen to marks shown", whole, 1200.0)
        val bytes = PHOTOGRAPH.readBytes()
        val sessions = mutableListOf<PhotoSession>()
        stopwatch.told("of it: decoded by the core", List(PHOTOGRAPHS) { millis { core { shop -> sessions += shop.beginPhoto(bytes) } } })
        stopwatch.told("of it: the sheet found", sessions.map { one -> millis { core { checkNotNull(one.look(null)) } } })
        stopwatch.told("of it: the holes found", sessions.map { one -> millis { core { one.propose() } } })
        stopwatch.told("of it: decoded small, to be seen", List(PHOTOGRAPHS) { millis { Picture.of(PHOTOGRAPH) } })
    }

    private fun screenful(): Canvas {
        val metrics = RuntimeEnvironment.getApplication().resources.displayMetrics
        return Canvas(Bitmap.createBitmap(metrics.widthPixels, metrics.heightPixels, Bitmap.Config.ARGB_8888))
    }

    /** Two fingers that part, then close, a step a frame. */
    private fun zoomed(view: View, draw: () -> Unit): List<Double> {
        val (x, y) = view.width / 2f to view.height / 2f
        fun fingers(apart: Float) = arrayOf(x - apart to y, x + apart to y)
        val apart = (1..STEPS).map { FINGER_PX + it * STEP_PX }
        val start = fingers(FINGER_PX)
        touch(view, MotionEvent.ACTION_DOWN, start.first())
        touch(view, SECOND_DOWN, *start)
        val took = (apart.reversed() + apart).map {
            millis {
                touch(view, MotionEvent.ACTION_MOVE, *fingers(it))
                draw()
            }
        }
        touch(view, SECOND_UP, *fingers(apart.last()))
        touch(view, MotionEvent.ACTION_UP, start.first())
        return took
    }

    /** One finger, away from every corner that could be dragged, to and fro. */
    private fun panned(view: View, draw: () -> Unit): List<Double> {
        val y = view.height / 2f
        val places = (1..STEPS).map { view.width / 2f + it * STEP_PX }
        touch(view, MotionEvent.ACTION_DOWN, view.width / 2f to y)
        val took = (places + places.reversed()).map {
            millis {
                touch(view, MotionEvent.ACTION_MOVE, it to y)
                draw()
            }
        }
        touch(view, MotionEvent.ACTION_UP, places.first() to y)
        return took
    }

    /** The framework's own picture view, as large and as far zoomed in. */
    private fun plainly(like: PhotoView, canvas: Canvas): List<Double> {
        val bitmap = BitmapFactory.decodeFile(PHOTOGRAPH.path)
        val view = ImageView(like.context).apply {
            scaleType = ImageView.ScaleType.MATRIX
            setImageBitmap(bitmap)
            layout(0, 0, like.width, like.height)
        }
        val (left, top) = like.shown(PointPx(0.0, 0.0))
        val scale = like.shown(PointPx(1.0, 0.0)).first - left
        val places = (1..STEPS).map { left + it * STEP_PX }
        return (places + places.reversed()).map { x ->
            millis {
                view.imageMatrix = Matrix().apply {
                    setScale(scale, scale)
                    postTranslate(x, top)
                }
                view.draw(canvas)
            }
        }
    }

    /** Lets the sharp part of the picture arrive that is fetched once the fingers rest. */
    private fun sharpened() {
        Thread.sleep(PATIENCE_MS)
        shadowOf(Looper.getMainLooper()).idleFor(Duration.ofMillis(PATIENCE_MS))
    }

    private fun touch(view: View, action: Int, vararg fingers: Pair<Float, Float>) {
        shadowOf(Looper.getMainLooper()).idleFor(Duration.ofMillis(16))
        val now = SystemClock.uptimeMillis()
        val properties = Array(fingers.size) { finger -> MotionEvent.PointerProperties().apply { id = finger } }
        val places = Array(fingers.size) { finger ->
            MotionEvent.PointerCoords().apply {
                x = fingers[finger].first
                y = fingers[finger].second
                pressure = 1f
                size = 1f
            }
        }
        val event = MotionEvent.obtain(now, now, action, fingers.size, properties, places, 0, 0, 1f, 1f, 0, 0, 0, 0)
        view.dispatchTouchEvent(event)
        event.recycle()
    }

    private companion object {
        val PHOTOGRAPH = File("../demo/photos/before.jpg")
        const val FRAME_BAR_MS = 16.0
        const val STEPS = 60
        const val PHOTOGRAPHS = 7
        const val WARM_UP = 5
        const val STEP_PX = 5f
        const val FINGER_PX = 60f
        const val PATIENCE_MS = 2000L
        const val SECOND_DOWN = MotionEvent.ACTION_POINTER_DOWN or (1 shl MotionEvent.ACTION_POINTER_INDEX_SHIFT)
        const val SECOND_UP = MotionEvent.ACTION_POINTER_UP or (1 shl MotionEvent.ACTION_POINTER_INDEX_SHIFT)
    }
}
