package org.shimwright

import android.app.Application
import org.shimwright.core.FileProblem
import org.shimwright.core.Workshop
import org.shimwright.core.WorkshopException
import org.shimwright.frame.Wishes
import org.shimwright.frame.Worker
import org.shimwright.kit.toldLanguage
import java.security.SecureRandom

/** The process: one worker, one workshop. */
class App : Application() {
    /** Epoch milliseconds now; a test sets its own clock. */
    var clock: () -> Long = System::currentTimeMillis

    /** The one thread of the core; the workshop file is opened by its first job. */
    val worker by lazy { Worker(::openWorkshop) }

    override fun onCreate() {
        super.onCreate()
        // What the phone's own settings say of this app's language outranks what was chosen in it before.
        toldLanguage()?.let { Wishes.of(this).language = it }
    }

    /**
     * Opens the workshop. A damaged file is set aside by the core, which starts an empty one the next time: where it went is
     * kept until the user has said what becomes of it, lest an empty rack pass for lost records.
     */
    private fun openWorkshop(): Workshop = try {
        Workshop.openWith(filesDir.resolve(FILE).path, entropy())
    } catch (damaged: WorkshopException.File) {
        val wishes = Wishes.of(this)
        // The first is the one that holds the records; a later one can only be what was started in its place.
        if (damaged.problem == FileProblem.DAMAGED && wishes.setAside == null) wishes.setAside = damaged.setAside
        throw damaged
    }

    /** What makes the ids of this phone's rows unlike any other phone's: the core is without chance. */
    private fun entropy() = ByteArray(ENTROPY_BYTES).also(SecureRandom()::nextBytes)

    internal companion object {
        private const val ENTROPY_BYTES = 16
        const val FILE = "bench.workshop"
        const val DRAFTS = "drafts"
    }
}
