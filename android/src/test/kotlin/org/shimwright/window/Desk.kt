package org.shimwright.window

import android.os.Looper
import org.junit.Test
import org.junit.runner.JUnitCore
import org.junit.runner.RunWith
import org.robolectric.Robolectric
import org.robolectric.RobolectricTestRunner
import org.robolectric.RuntimeEnvironment
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import org.shimwright.App
import org.shimwright.ShellActivity
import org.shimwright.frame.Wishes
import java.awt.GraphicsEnvironment
import java.io.File
import java.time.Duration
import java.util.concurrent.LinkedBlockingQueue
import java.util.concurrent.TimeUnit
import kotlin.system.exitProcess

/** Shows the app in a desktop window until it is left: `demo/window`. */
fun main() {
    // AWT asks once and remembers the answer, so it has to ask before Robolectric switches it to headless.
    System.setProperty("java.awt.headless", "false")
    check(!GraphicsEnvironment.isHeadless()) { "there is no desktop to open a window on" }
    val outcome = JUnitCore.runClasses(Desk::class.java)
    outcome.failures.forEach { it.exception.printStackTrace() }
    exitProcess(if (outcome.wasSuccessful()) 0 else 1)
}

/**
 * The app on a desk instead of in a hand. Not a test, though it borrows the runner of the tests: its one method lasts
 * until the window is closed. What Swing receives is queued and done here, on the app's main thread.
 */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34])
class Desk {
    private val queue = LinkedBlockingQueue<() -> Unit>()
    private val panes = Panes()
    private val app = RuntimeEnvironment.getApplication() as App

    @Test
    fun show() {
        // Whoever tries the demonstration's workshop is no newcomer to it.
        Wishes.of(app).cautionsRead = true
        System.getProperty("desk.workshop")?.let { File(it).copyTo(app.filesDir.resolve(App.FILE)) }
        val glass = Glass(panes, queue::put)
        RuntimeEnvironment.setQualifiers("en-rGB-${glass.qualifiers()}-${System.getProperty("desk.night", "notnight")}-${glass.dpi}dpi")
        val controller = Robolectric.buildActivity(ShellActivity::class.java).setup()
        glass.resized = {
            RuntimeEnvironment.setQualifiers("+${glass.qualifiers()}")
            controller.configurationChange().visible()
        }
        val elsewhere = Elsewhere(File(System.getProperty("desk.photos", ".")), glass)
        var last = System.nanoTime()
        var stirred = last
        while (!controller.get().isFinishing && glass.open) {
            val input = queue.poll(FRAME_MS, TimeUnit.MILLISECONDS)
            input?.invoke()
            val now = System.nanoTime()
            shadowOf(Looper.getMainLooper()).idleFor(Duration.ofNanos(now - last))
            last = now
            if (input != null || !app.worker.idle) stirred = now
            elsewhere.answer(controller.get())
            // Flings and fades end within this time; after it nothing moves, and nothing is drawn.
            if (now - stirred < STILL_NS) glass.show(panes.picture(controller.get().resources.displayMetrics), panes.title())
        }
        glass.close()
    }

    private companion object {
        const val FRAME_MS = 15L
        const val STILL_NS = 3_000_000_000L
    }
}
