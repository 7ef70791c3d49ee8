package org.shimwright.kit

import android.os.SystemClock
import android.view.HapticFeedbackConstants
import android.view.View

/**
 * The main action of a step that a passing touch must not confirm: pressed and held it does it, tapped it only says so.
 * The press is the system's long press, so that its length follows the user's own setting and a screen reader offers it.
 */
fun Page.hold(text: CharSequence, spoken: CharSequence, press: () -> Unit): View = main(text) {}.apply {
    setOnClickListener { announceForAccessibility(spoken) }
    setOnLongClickListener {
        performHapticFeedback(HapticFeedbackConstants.LONG_PRESS)
        press()
        true
    }
}

/** Lets nothing through for [lockMs] after [close]: the second half of a double tap then confirms no step. */
class Lock(private val lockMs: Long, private val clock: () -> Long = SystemClock::uptimeMillis) {
    private var closedAt: Long? = null

    fun close() {
        closedAt = clock()
    }

    fun pass(press: () -> Unit) {
        if (closedAt?.let { clock() - it < lockMs } != true) press()
    }
}
