package org.shimwright.frame

import android.content.Intent
import android.os.Bundle
import org.shimwright.core.Workshop
import org.shimwright.photo.PhotoShelf

/**
 * The way the user came: the screens opened so far, the last one showing. It lives on while the activity is made anew
 * (rotation, theme, language), so answers of the core that arrive meanwhile are not lost; after process death it is
 * rebuilt from what [save] wrote.
 */
class Trail(private val worker: Worker<Workshop>, override val photos: PhotoShelf, private val clock: () -> Long) : Host {
    private class Stop(val route: Route, val args: Bundle, val kept: Bundle)

    private val stops = mutableListOf<Stop>()
    private var shell: Shell? = null
    private var screen: Screen<*>? = null
    private var building: Ticket? = null
    private val running = mutableSetOf<Ticket>()

    /** The activity that shows this trail; null while there is none. */
    fun attach(to: Shell?) {
        shell = to
        if (to == null) return
        val state = screen?.state
        if (state == null) show() else screen?.let(to::draw)
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
    }

    /** Starts anew: [route] on top of the first screen. */
    fun begin(route: Route, args: Bundle = Bundle()) {
        leave()
        stops.clear()
        stops += Stop(Route.RACK, Bundle(), Bundle())
        if (route != Route.RACK || !args.isEmpty) stops += Stop(route, args, Bundle())
        show()
    }

    override fun nowMs() = clock()

    override fun go(route: Route, args: Bundle) {
        leave()
        stops += Stop(route, args, Bundle())
        show()
    }

    override fun swapFor(route: Route, args: Bundle) {
        leave()
        stops.removeLast(1)
        stops += Stop(route, args, Bundle())
        show()
    }

    override fun back() {
        leave()
        if (stops.size <= 1) {
            shell?.finish()
            return
        }
        stops.removeLast(1)
        show()
    }

    override fun backTo(route: Route) {
        leave()
        val index = stops.indexOfLast { it.route == route }.coerceAtLeast(0)
        stops.removeLast(stops.size - 1 - index)
        show()
    }

    override fun <T> ask(job: (Workshop) -> T, answer: (T) -> Unit): Ticket =
        run(job) { outcome -> outcome.onSuccess(answer).onFailure { shell?.trouble(it, null) } }

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
        shell?.call(intent, code)
    }

    override fun confirm(question: Question, yes: () -> Unit) {
        shell?.confirm(question, yes)
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
    }

    private fun leave() {
        drop(building)
        building = null
        screen = null
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
                shell?.draw(showing)
            }.onFailure { shell?.trouble(it, ::rebuild) }
        }
    }

    private companion object {
        const val ROUTES = "routes"
        const val ARGS = "args"
        const val KEPT = "kept"
    }
}

private fun <T> MutableList<T>.removeLast(count: Int) = repeat(count) { removeAt(lastIndex) }
