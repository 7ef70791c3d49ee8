package org.shimwright

import android.app.Application
import org.shimwright.core.Workshop
import org.shimwright.frame.Worker

/** The process: one worker, one workshop. */
class App : Application() {
    /** Epoch milliseconds now; a test sets its own clock. */
    var clock: () -> Long = System::currentTimeMillis

    /** The one thread of the core; the workshop file is opened by its first job. */
    val worker by lazy { Worker { Workshop.open(filesDir.resolve(FILE).path) } }

    internal companion object {
        const val FILE = "bench.workshop"
    }
}
