package org.shimwright.frame

import android.content.Intent
import android.os.Bundle
import org.shimwright.core.Workshop
import org.shimwright.kit.Page
import org.shimwright.photo.PhotoShelf

/** What a screen may ask of the shell around it. It outlives the activity, so a screen never holds a view or an activity. */
interface Host {
    /** The photographs of trials. */
    val photos: PhotoShelf

    /** What was left half done. */
    val drafts: Drafts

    /** Documents of other apps, and what they are lent. */
    val documents: Documents

    /** What belongs to this phone. */
    val wishes: Wishes

    /** Epoch milliseconds now. */
    fun nowMs(): Long

    /** Opens a screen on top of this one; with what is [kept] already filled in, else with its draft. */
    fun go(route: Route, args: Bundle = Bundle(), kept: Bundle = Bundle())

    /** Opens a screen in place of this one. */
    fun swapFor(route: Route, args: Bundle = Bundle())

    /** Leaves this screen, whose work is done; from the last one, the app. */
    fun back()

    /** Goes back to the nearest [route] on the way here, or to the first screen. */
    fun backTo(route: Route)

    /** Runs [job] on the worker and then [answer] on the main thread; a failure is shown in words on the page. */
    fun <T> ask(job: (Workshop) -> T, answer: (T) -> Unit): Ticket

    /** The same for what must not be left half answered: the user cannot stop it, nor does leaving the screen. */
    fun <T> settle(job: (Workshop) -> T, answer: (Result<T>) -> Unit)

    /** As [settle], with the workshop's file closed: for what puts another file in its place. */
    fun <T> mend(job: () -> T, answer: (Result<T>) -> Unit)

    /** Shows a failure in words on the page. */
    fun trouble(error: Throwable)

    /**
     * Another workshop is in place, in which nothing has the number it had: forgets the way here and what was left half
     * done, and opens [route] over the rack.
     */
    fun startOver(route: Route, args: Bundle = Bundle())

    /** Starts another app; its answer goes to [Screen.onAnswer] with [code]. */
    fun call(intent: Intent, code: Int)

    /** Asks in words before something that cannot be undone. */
    fun confirm(question: Question, yes: () -> Unit)

    /** Builds the screen that shows now anew: what it shows was just changed from elsewhere. */
    fun refreshShown()

    /** Offers for a while to take back what was just done, which [words] say. */
    fun offerUndo(words: Int, undo: () -> Unit)

    /** Applies a change of theme or language at once. */
    fun restyle()
}

/** A question before something that cannot be undone: string resources, [words] with its [values] filled in. */
class Question(val title: Int, val words: Int, val yes: Int, vararg val values: Any)

/**
 * One screen: [build] makes an immutable state from the core's records on the worker, [draw] shows it and does nothing
 * else. [args] say what it is about and never change; [kept] holds what the user typed or chose and not yet saved, and
 * comes back after rotation and process death.
 */
abstract class Screen<S : Any>(protected val host: Host, protected val args: Bundle, val kept: Bundle) {
    internal var state: S? = null
    internal var refreshed: () -> Unit = {}

    /** Whether the phone stays awake while this screen shows. */
    open val keepsAwake = false

    /** Worker thread: the state to show. [kept] is a copy. Throws what the core throws. */
    abstract fun build(workshop: Workshop, kept: Bundle): S

    /** Main thread: fills [page] with [state]. */
    abstract fun draw(page: Page, state: S)

    /** The user went back; true where that was a step within this screen, which has taken it. */
    open fun onBack(): Boolean = false

    /** This screen is left, or the user stops waiting for what it asked: it gives up what it still does. */
    open fun onStop() = Unit

    /** A volume key was pressed as "next"; true where this screen takes it. */
    open fun onNext(): Boolean = false

    /** Another app answered the [Host.call] with [code]; [answer] is null when the user went back. */
    open fun onAnswer(code: Int, answer: Intent?) = Unit

    /** Builds the state anew and draws it. */
    fun refresh() = refreshed()

    /** What shows now; null before the first build. */
    protected val shown: S? get() = state

    /** Keeps [fresh] as the state without drawing it: the page already shows it. */
    protected fun hold(fresh: S) {
        state = fresh
    }

    internal fun drawOn(page: Page) {
        state?.let { draw(page, it) }
    }
}
