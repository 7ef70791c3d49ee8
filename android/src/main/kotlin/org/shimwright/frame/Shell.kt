package org.shimwright.frame

import android.content.Intent
import org.shimwright.kit.Units

/** What went wrong, and how to try once more; [units] are the workshop's, where it can be read. */
class Failure(val error: Throwable, val again: (() -> Unit)?, val units: Units? = null)

/** What was just done, and how to take it back. */
class Undo(val words: Int, val act: () -> Unit)

/** What a [Trail] needs of the activity that shows it. */
interface Shell {
    /** Shows [screen] as it was built, and [failure] above it; without a state, the failure alone. */
    fun draw(screen: Screen<*>, failure: Failure?)

    /** Shows that the core works, once that takes longer than a blink, until called with false. */
    fun busy(working: Boolean)

    /** Shows what can be taken back; nothing when null. */
    fun offer(undo: Undo?)

    fun call(intent: Intent, code: Int)

    fun confirm(question: Question, yes: () -> Unit)

    fun finish()

    fun recreate()
}
