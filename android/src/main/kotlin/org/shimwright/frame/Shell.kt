package org.shimwright.frame

import android.content.Intent

/** What a [Trail] needs of the activity that shows it. */
interface Shell {
    fun draw(screen: Screen<*>)

    /** Shows that the core works, once that takes longer than a blink, until called with false. */
    fun busy(working: Boolean)

    /** Says what went wrong and what to do; nothing else on the page is lost. [again] tries once more. */
    fun trouble(error: Throwable, again: (() -> Unit)?)

    fun call(intent: Intent, code: Int)

    fun confirm(question: Question, yes: () -> Unit)

    fun finish()

    fun recreate()
}
