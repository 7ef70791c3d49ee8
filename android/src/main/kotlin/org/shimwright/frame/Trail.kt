package org.shimwright.frame

import android.content.ActivityNotFoundException
import android.content.Intent
import android.os.Bundle
import org.shimwright.core.Workshop
import org.shimwright.kit.units
import org.shimwright.photo.PhotoShelf

/**
 * The way the user came: the screens opened so far, the last one showing. It lives on while the activity is made anew
 * (rotation, theme, language), so answers of the core that arrive meanwhile are not lost; after process death it is
 * rebuilt from what [save] wrote. What went wrong and what can be taken back are part of it, and shown again with it.
 */
class Trail(
    private val worker: Worker<Workshop>,
    override val photos: PhotoShelf,
    override val documents: Documents,
    override val drafts: Drafts,
    override val wishes: Wishes,
    private val clock: () -> Long,
) : Host {
    private class Stop(val route: Route, val args: Bundle, val kept: Bundle)

    private val stops = mutableListOf<Stop>()
    private var shell: Shell? = null
    private var screen: Screen<*>? = null
    private var building: Ticket? = null
    private var failure: Failure? = null
    private var undo: Undo? = null
    private val running = mutableSetOf<Ticket>()

    /** Whether there is a screen to go back to. */
    val deep get() = stops.size > 1

    /** The activity that shows this trail; null while there is none. */
    fun attach(to: Shell?) {
        shell = to
        if (to == null) return
        val showing = screen
        if (showing == null || (showing.state == null && failure == null)) show() else to.draw(showing, failure)
        to.offer(undo)
        tellBusy()
    }

    fun save(out: Bundle) {
        out.putStringArray(ROUTES, stops.map { it.route.name }.toTypedArray())
        out.putParcelableArray(ARGS, stops.map { it.args }.toTypedArray())
        out.putParcelableArray(KEPT, stops.map { it.kept }.toTypedArray())
    }

    @Suppress("DEPRECATION") // The typed getter is newer than API 26.
    fun restore(saved: Bundle) {
        val routes = saved.getStringArray(ROUTES).orEmpty()
        val args = saved.getParcelableArray(ARGS).orEmpty()
        val kept = saved.getParcelableArray(KEPT).orEmpty()
        stops.clear()
        for ((index, name) in routes.withIndex()) {
            val route = Route.entries.find { it.name == name } ?: continue
            stops += Stop(route, args[index] as Bundle, kept[index] as Bundle)
        }
        if (wishes.setAside != null && !rescuing) rescue()
    }

    /** Starts anew: [route] on top of the first screen. What was half done elsewhere is kept. */
    fun begin(route: Route, args: Bundle = Bundle()) {
        keepDrafts()
        leave()
        stops.clear()
        stops += Stop(Route.RACK, Bundle(), Bundle())
        if (route != Route.RACK || !args.isEmpty) stops += Stop(route, args, Bundle())
        show()
    }

    override fun startOver(route: Route, args: Bundle) {
        drafts.dropAll()
        leave()
        offer(null)
        stops.clear()
        stops += Stop(Route.RACK, Bundle(), Bundle())
        if (route != Route.RACK) stops += Stop(route, args, Bundle())
        show()
    }

    /** The workshop's file was damaged and set aside: nothing else shows before someone has said what becomes of it. */
    fun rescue() {
        leave()
        stops.clear()
        stops += Stop(Route.RESCUE, Bundle(), Bundle())
        show()
    }

    /** Whether what shows is about a damaged file. */
    val rescuing get() = stops.firstOrNull()?.route == Route.RESCUE

    override fun nowMs() = clock()

    override fun go(route: Route, args: Bundle, kept: Bundle) {
        leave()
        stops += Stop(route, args, if (kept.isEmpty) left(route, args) else kept)
        show()
    }

    /** What was left on that screen before, with the time it was left. */
    private fun left(route: Route, args: Bundle): Bundle {
        if (route.drafted == Drafted.NOT) return Bundle()
        val draft = drafts.of(route, args) ?: return Bundle()
        return draft.kept.apply { if (route.drafted == Drafted.FORM) putLong(Kept.LEFT_AT, draft.atMs) }
    }

    override fun swapFor(route: Route, args: Bundle) {
        leave()
        pop()
        stops += Stop(route, args, Bundle())
        show()
    }

    /** The user goes back: a step within the screen, or out of it; then what was typed is kept. */
    fun stepBack() {
        val showing = screen
        if (showing?.state != null && showing.onBack()) return
        keepDrafts()
        leave()
        if (stops.size <= 1) {
            shell?.finish()
            return
        }
        stops.removeAt(stops.lastIndex)
        show()
    }

    /** A volume key: true where the screen that shows takes it. */
    fun next(): Boolean = screen?.takeIf { it.state != null }?.onNext() == true

    override fun back() {
        leave()
        if (stops.size <= 1) {
            shell?.finish()
            return
        }
        pop()
        show()
    }

    override fun backTo(route: Route) {
        leave()
        val index = stops.indexOfLast { it.route == route }.coerceAtLeast(0)
        while (stops.size > index + 1) pop()
        show()
    }

    /** Leaves the last screen, whose work is done. */
    private fun pop() {
        val stop = stops.removeAt(stops.lastIndex)
        if (stop.route.drafted != Drafted.NOT) drafts.drop(stop.route, stop.args)
    }

    /** Writes down what is typed or marked and not yet saved. */
    fun keepDrafts() {
        for (stop in stops) {
            val typed = Bundle(stop.kept).apply { remove(Kept.LEFT_AT) }
            val worth = stop.route.drafted == Drafted.WORK || (stop.route.drafted == Drafted.FORM && !typed.isEmpty)
            if (worth) drafts.keep(Draft(stop.route, stop.args, typed, clock()))
        }
    }

    /** Forgets what was typed on the screen that shows, and shows it empty. */
    fun startAnew() {
        val stop = stops.lastOrNull() ?: return
        drafts.drop(stop.route, stop.args)
        stop.kept.clear()
        rebuild()
    }

    override fun <T> ask(job: (Workshop) -> T, answer: (T) -> Unit): Ticket =
        run(timed(job)) { outcome -> outcome.onSuccess(answer).onFailure { fail(it, null) } }

    /** The core has no clock: of two changes made apart the later stands after a merge, so every job tells it the time first. */
    private fun <T> timed(job: (Workshop) -> T): (Workshop) -> T = { shop ->
        shop.tellTime(clock())
        job(shop)
    }

    override fun <T> settle(job: (Workshop) -> T, answer: (Result<T>) -> Unit) {
        worker.run(timed(job), answer)
    }

    override fun <T> mend(job: () -> T, answer: (Result<T>) -> Unit) = worker.apart({ it.destroy() }, job, answer)

    override fun trouble(error: Throwable) = fail(error, null)

    /** Says what went wrong on the screen that shows, in the units of the workshop where it can still tell them. */
    private fun fail(error: Throwable, again: (() -> Unit)?) {
        if (wishes.setAside != null && !rescuing) return rescue()
        val failed = screen
        worker.run({ it.units() }) { units ->
            if (failed == null || failed !== screen) return@run
            failure = Failure(error, again, units.getOrNull())
            shell?.draw(failed, failure)
        }
    }

    private fun <T> run(job: (Workshop) -> T, answer: (Result<T>) -> Unit): Ticket {
        var own: Ticket? = null
        val ticket = worker.run(job) { outcome ->
            own?.let { running -= it }
            tellBusy()
            answer(outcome)
        }
        own = ticket
        running += ticket
        tellBusy()
        return ticket
    }

    private fun tellBusy() {
        shell?.busy(running.isNotEmpty())
    }

    override fun call(intent: Intent, code: Int) {
        try {
            shell?.call(intent, code)
        } catch (missing: ActivityNotFoundException) {
            fail(missing, null)
        }
    }

    override fun confirm(question: Question, yes: () -> Unit) {
        shell?.confirm(question, yes)
    }

    override fun offerUndo(words: Int, undo: () -> Unit) {
        offer(
            Undo(words) {
                offer(null)
                undo()
            },
        )
    }

    override fun refreshShown() = rebuild()

    private fun offer(fresh: Undo?) {
        undo = fresh
        shell?.offer(fresh)
    }

    /** The time to take something back has passed. */
    fun forget(passed: Undo) {
        if (undo === passed) offer(null)
    }

    override fun restyle() {
        shell?.recreate()
    }

    fun answer(code: Int, answer: Intent?) = current()?.onAnswer(code, answer)

    /** Gives up whatever the worker still does for this screen. */
    fun cancel() {
        running.forEach { it.cancel() }
        running.clear()
        tellBusy()
        screen?.onStop()
    }

    private fun leave() {
        screen?.onStop()
        drop(building)
        building = null
        screen = null
        failure = null
    }

    private fun drop(ticket: Ticket?) {
        ticket?.cancel()
        ticket?.let { running -= it }
    }

    private fun current(): Screen<*>? {
        val stop = stops.lastOrNull() ?: return null
        return screen ?: stop.route.make(this, stop.args, stop.kept).also {
            screen = it
            it.refreshed = ::rebuild
        }
    }

    /** Without an activity there is nothing to show; the next one asks when it attaches. */
    private fun show() {
        if (shell == null) return
        current()?.let { rebuild(it) }
    }

    private fun rebuild() {
        screen?.let { rebuild(it) }
    }

    private fun <S : Any> rebuild(showing: Screen<S>) {
        drop(building)
        val kept = Bundle(showing.kept)
        building = run({ showing.build(it, kept) }) { outcome ->
            outcome.onSuccess {
                showing.state = it
                failure = null
                shell?.draw(showing, null)
            }.onFailure { fail(it, ::rebuild) }
        }
    }

    private companion object {
        const val ROUTES = "routes"
        const val ARGS = "args"
        const val KEPT = "kept"
    }
}

/** Keys of a screen's kept bundle that the frame itself writes. */
object Kept {
    /** When the draft that fills the form was left, epoch milliseconds. */
    const val LEFT_AT = "left_at"
}
