package org.shimwright.frame

import android.os.Handler
import android.os.Looper
import java.util.concurrent.Executors
import java.util.concurrent.atomic.AtomicInteger

/** One job given to the [Worker]; a cancelled one never answers. */
class Ticket {
    @Volatile
    var cancelled = false
        private set

    fun cancel() {
        cancelled = true
    }
}

/**
 * The one background thread on which the core is called, in order, and from which answers come back to the main
 * thread. The core is opened by the first job; when it cannot be opened, that job fails and the next one tries again.
 */
class Worker<Core : Any>(private val open: () -> Core) {
    private val thread = Executors.newSingleThreadExecutor { Thread(it, "core").apply { isDaemon = true } }
    private val main = Handler(Looper.getMainLooper())
    private val done = AtomicInteger()
    private val handed = AtomicInteger()
    private var core: Core? = null

    /** How many jobs were given so far. */
    val given get() = handed.get()

    /** Whether every job given so far has run; its answer may still be on the way to the main thread. */
    val idle get() = done.get() == given

    /** Runs [job] on the worker and hands its outcome to [answer] on the main thread, unless cancelled. */
    fun <T> run(job: (Core) -> T, answer: (Result<T>) -> Unit): Ticket {
        val ticket = Ticket()
        handed.incrementAndGet()
        thread.execute {
            if (!ticket.cancelled) {
                val outcome = runCatching { job(opened()) }
                main.post { if (!ticket.cancelled) answer(outcome) }
            }
            done.incrementAndGet()
        }
        return ticket
    }

    /**
     * Closes the core with [shut] and runs [job] without it: for what puts another file in its place. The next job opens
     * it again.
     */
    fun <T> apart(shut: (Core) -> Unit, job: () -> T, answer: (Result<T>) -> Unit) {
        close(shut)
        handed.incrementAndGet()
        thread.execute {
            val outcome = runCatching(job)
            main.post { answer(outcome) }
            done.incrementAndGet()
        }
    }

    private fun opened(): Core = core ?: open().also { core = it }

    /** Closes the core after the jobs already waiting; the next job opens it again. */
    fun close(shut: (Core) -> Unit) {
        handed.incrementAndGet()
        thread.execute {
            core?.let(shut)
            core = null
            done.incrementAndGet()
        }
    }
}
