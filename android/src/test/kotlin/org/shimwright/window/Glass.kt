package org.shimwright.window

import android.view.KeyEvent.KEYCODE_BACK
import android.view.KeyEvent.KEYCODE_DEL
import android.view.KeyEvent.KEYCODE_DPAD_DOWN
import android.view.KeyEvent.KEYCODE_DPAD_LEFT
import android.view.KeyEvent.KEYCODE_DPAD_RIGHT
import android.view.KeyEvent.KEYCODE_DPAD_UP
import android.view.KeyEvent.KEYCODE_ENTER
import android.view.KeyEvent.KEYCODE_FORWARD_DEL
import android.view.KeyEvent.KEYCODE_MOVE_END
import android.view.KeyEvent.KEYCODE_MOVE_HOME
import android.view.KeyEvent.KEYCODE_TAB
import android.view.MotionEvent
import java.awt.Dimension
import java.awt.Graphics
import java.awt.Toolkit
import java.awt.event.ComponentAdapter
import java.awt.event.ComponentEvent
import java.awt.event.KeyAdapter
import java.awt.event.KeyEvent
import java.awt.event.MouseAdapter
import java.awt.event.MouseEvent
import java.awt.event.MouseWheelEvent
import java.awt.event.WindowAdapter
import java.awt.event.WindowEvent
import java.awt.image.BufferedImage
import javax.swing.JComponent
import javax.swing.JFrame
import javax.swing.SwingUtilities.invokeAndWait
import javax.swing.SwingUtilities.invokeLater

/** What hands do to the app; positions in px of its screen. */
internal interface Hand {
    fun touch(action: Int, x: Float, y: Float)

    /** The wheel was turned by so many [notches], up for positive ones. */
    fun turn(notches: Float, x: Float, y: Float)

    fun key(code: Int, shift: Boolean)

    fun type(text: String)
}

/** The window on the desktop: shows pictures, and gives what mouse and keys do to [hand], by way of [later]. */
internal class Glass(private val hand: Hand, private val later: (() -> Unit) -> Unit) : JComponent() {
    val frame = JFrame(NAME)

    /** False once the window was closed. */
    @Volatile
    var open = true
        private set

    /** Called [later] when the window has another size. */
    var resized = {}

    private var picture: BufferedImage? = null

    /** Pixels of the app to one of Swing's, which are larger on a fine screen. */
    private val fine get() = graphicsConfiguration.defaultTransform.scaleX

    val dpi get() = (fine * BASE_DPI).toInt()

    /** The size of this window as in resource folders. */
    fun qualifiers() = "w${width}dp-h${height}dp-${if (width > height) "land" else "port"}"

    fun show(fresh: BufferedImage, page: String) = invokeLater {
        picture = fresh
        frame.title = "$NAME: $page"
        repaint()
    }

    fun close() = invokeLater { frame.dispose() }

    override fun paintComponent(graphics: Graphics) {
        picture?.let { graphics.drawImage(it, 0, 0, (it.width / fine).toInt(), (it.height / fine).toInt(), null) }
    }

    private val closing = object : WindowAdapter() {
        override fun windowClosing(event: WindowEvent) {
            open = false
        }
    }

    private val sizing = object : ComponentAdapter() {
        override fun componentResized(event: ComponentEvent) = later { resized() }
    }

    private val mouse = object : MouseAdapter() {
        override fun mousePressed(event: MouseEvent) = pass(MotionEvent.ACTION_DOWN, event)

        override fun mouseDragged(event: MouseEvent) = pass(MotionEvent.ACTION_MOVE, event)

        override fun mouseReleased(event: MouseEvent) = pass(MotionEvent.ACTION_UP, event)

        override fun mouseWheelMoved(event: MouseWheelEvent) {
            val (x, y) = at(event)
            later { hand.turn(-event.preciseWheelRotation.toFloat(), x, y) }
        }

        private fun pass(action: Int, event: MouseEvent) {
            val (x, y) = at(event)
            later { hand.touch(action, x, y) }
        }

        private fun at(event: MouseEvent) = (event.x * fine).toFloat() to (event.y * fine).toFloat()
    }

    private val keys = object : KeyAdapter() {
        override fun keyPressed(event: KeyEvent) {
            val code = KEYS[event.keyCode] ?: return
            later { hand.key(code, event.isShiftDown) }
        }

        override fun keyTyped(event: KeyEvent) {
            if (!event.keyChar.isISOControl()) later { hand.type(event.keyChar.toString()) }
        }
    }

    // Below the listeners: they have to be there before they are added.
    init {
        invokeAndWait {
            val room = Toolkit.getDefaultToolkit().screenSize.height - DECORATION
            preferredSize = Dimension(PHONE_WIDE, PHONE_HIGH.coerceAtMost(room))
            isFocusable = true
            focusTraversalKeysEnabled = false
            addMouseListener(mouse)
            addMouseMotionListener(mouse)
            addMouseWheelListener(mouse)
            addKeyListener(keys)
            frame.addWindowListener(closing)
            frame.contentPane.add(this)
            frame.pack()
            frame.isVisible = true
            addComponentListener(sizing)
        }
    }

    private companion object {
        const val NAME = "Shimwright"
        const val PHONE_WIDE = 411
        const val PHONE_HIGH = 891
        const val BASE_DPI = 160

        /** What a desktop keeps of the height for its own bars. */
        const val DECORATION = 90

        val KEYS = mapOf(
            KeyEvent.VK_ESCAPE to KEYCODE_BACK,
            KeyEvent.VK_BACK_SPACE to KEYCODE_DEL,
            KeyEvent.VK_DELETE to KEYCODE_FORWARD_DEL,
            KeyEvent.VK_ENTER to KEYCODE_ENTER,
            KeyEvent.VK_TAB to KEYCODE_TAB,
            KeyEvent.VK_LEFT to KEYCODE_DPAD_LEFT,
            KeyEvent.VK_RIGHT to KEYCODE_DPAD_RIGHT,
            KeyEvent.VK_UP to KEYCODE_DPAD_UP,
            KeyEvent.VK_DOWN to KEYCODE_DPAD_DOWN,
            KeyEvent.VK_HOME to KEYCODE_MOVE_HOME,
            KeyEvent.VK_END to KEYCODE_MOVE_END,
        )
    }
}
