package org.shimwright.keep

import android.net.Uri
import org.shimwright.R
import org.shimwright.core.Backup
import org.shimwright.core.Progress
import org.shimwright.core.Workshop
import org.shimwright.frame.Documents
import org.shimwright.frame.Said
import org.shimwright.frame.Written
import java.io.IOException

/** A backup on its way into [document], a slice at a time. Only the worker calls it. */
internal class Giving(private val documents: Documents, private val document: Uri) {
    private var backup: Backup? = null
    private var written: Written? = null

    /** What was written so far, bytes. */
    val bytes get() = written?.bytes ?: 0

    /** Works for a moment; answers how far it came, with nothing left to do once the document is whole. Fails with words. */
    fun some(workshop: Workshop, photos: String, nowMs: Long): Progress = worded {
        val from = backup ?: workshop.beginBackup(photos, nowMs).also { backup = it }
        val to = written ?: documents.write(document).also { written = it }
        sliced {
            val piece = from.nextPiece()
            if (piece == null) to.finish() else to.add(piece.bytes)
            Progress(piece?.doneBytes ?: bytes, piece?.totalBytes ?: bytes, piece != null)
        }
    }

    private fun <T> worded(work: () -> T): T = try {
        work()
    } catch (refused: IOException) {
        throw Said(R.string.backup_unwritten, R.string.backup_unwritten_remedy, refused)
    } catch (refused: SecurityException) {
        throw Said(R.string.backup_unwritten, R.string.backup_unwritten_remedy, refused)
    }

    /** Lets go of both ends; a document that is not whole goes. */
    fun giveUp() {
        end()
        documents.discard(document)
    }

    fun end() {
        backup?.close()
        runCatching { written?.close() }
    }
}

/** Repeats [step] until it has nothing left to do or a slice of time is over, so that other jobs get their turn between. */
internal fun sliced(step: () -> Progress): Progress {
    val until = System.nanoTime() + SLICE_NS
    while (true) {
        val at = step()
        if (!at.goesOn || System.nanoTime() >= until) return at
    }
}

/** Shorter than what makes the page say that it works. */
private const val SLICE_NS = 120_000_000L
