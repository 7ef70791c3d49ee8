package org.shimwright

import android.app.Application
import org.shimwright.core.Workshop
import org.shimwright.frame.Worker

/** The process: one worker, one workshop. */
class App : Application() {
    /** Epoch milliseconds now; a test sets its own clock. */
    var clock: () -> Long = System::currentTimeMillis

    val worker by lazy { Worker(::open) }

    private fun open() = Workshop()
}
