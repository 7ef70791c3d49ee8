package org.shimwright.keep

import android.net.Uri
import org.shimwright.R
import org.shimwright.core.BackupUse
import org.shimwright.core.FileProblem
import org.shimwright.core.Held
import org.shimwright.core.Incoming
import org.shimwright.core.Progress
import org.shimwright.core.Workshop
import org.shimwright.core.WorkshopException
import org.shimwright.frame.Documents
import org.shimwright.frame.Said
import java.io.File
import java.io.IOException
import java.io.InputStream

/**
 * A backup on its way in: copied from the document first, since it is read from both ends, then looked into, then taken.
 * Only the worker calls it. Until [finish] nothing of the workshop changes.
 */
internal class Coming(private val documents: Documents, private val document: Uri, private val used: BackupUse) {
    private var source: InputStream? = null
    private var copy: File? = null
    private var copied = 0L
    private var incoming: Incoming? = null

    /** Copies for a moment. */
    fun copySome(): Progress = worded {
        val from = source ?: documents.read(document).also { source = it }
        val to = copy ?: documents.incoming().also {
            it.createNewFile()
            copy = it
        }
        val piece = ByteArray(PIECE)
        val total = documents.size(document)
        sliced {
            val read = from.read(piece)
            if (read > 0) {
                to.appendBytes(if (read == PIECE) piece else piece.copyOf(read))
                copied += read
            }
            Progress(copied, maxOf(total ?: 0, copied), read >= 0)
        }
    }

    /** Looks into the copy: when it was made and what it holds. */
    fun look(workshop: Workshop, photos: String): Held = worded {
        val file = checkNotNull(copy) { "nothing was copied" }
        val opened = workshop.beginTaking(file.path, used, photos).also { incoming = it }
        opened.step()
        checkNotNull(opened.held()) { "the rows were not read" }
    }

    /** Takes photographs for a moment. */
    fun takeSome(): Progress = worded { sliced { checkNotNull(incoming).step() } }

    /** Puts it in place: all of it, or nothing. */
    fun finish(workshop: Workshop) = worded { checkNotNull(workshop.finishTaking(checkNotNull(incoming))) }

    /** Lets go of it; what it had brought goes where it is not in place. */
    fun end() {
        runCatching { source?.close() }
        incoming?.close()
        copy?.delete()
    }

    private fun <T> worded(work: () -> T): T = try {
        work()
    } catch (refused: IOException) {
        throw Said(R.string.backup_unread, R.string.backup_unread_remedy, refused)
    } catch (refused: SecurityException) {
        throw Said(R.string.backup_unread, R.string.backup_unread_remedy, refused)
    } catch (refused: WorkshopException.File) {
        throw said(refused)
    }

    /** What is wrong with the backup, which is not this phone's own file. */
    private fun said(refused: WorkshopException.File): Exception = when (refused.problem) {
        FileProblem.FOREIGN -> Said(R.string.backup_foreign, R.string.backup_foreign_remedy, refused)
        FileProblem.NEWER -> Said(R.string.backup_newer, R.string.backup_newer_remedy, refused)
        FileProblem.DAMAGED -> Said(R.string.backup_damaged, R.string.backup_damaged_remedy, refused)
        FileProblem.REFUSED -> Said(R.string.backup_unread, R.string.backup_unread_remedy, refused)
        else -> refused
    }

    private companion object {
        const val PIECE = 1 shl 18
    }
}
