package org.shimwright.frame

import android.content.Context
import android.content.Intent
import android.net.Uri
import android.os.ParcelFileDescriptor
import android.provider.DocumentsContract
import android.provider.OpenableColumns
import org.shimwright.App
import org.shimwright.R
import org.shimwright.share.ShareProvider
import java.io.Closeable
import java.io.File
import java.io.FileOutputStream
import java.io.IOException
import java.io.InputStream

/** Documents that the user picks in another app, and files that another app is lent for a moment. */
class Documents(private val context: Context) {
    /** The workshop's own file. */
    val workshop: File get() = context.filesDir.resolve(App.FILE)

    /** Asks where to put a new document called [name]. */
    fun create(name: String): Intent =
        Intent(Intent.ACTION_CREATE_DOCUMENT).addCategory(Intent.CATEGORY_OPENABLE).setType(ZIP).putExtra(Intent.EXTRA_TITLE, name)

    /** Asks for a backup; some apps that keep documents do not know a zip by its type. */
    fun pick(): Intent = Intent(Intent.ACTION_OPEN_DOCUMENT).addCategory(Intent.CATEGORY_OPENABLE).setType("*/*")
        .putExtra(Intent.EXTRA_MIME_TYPES, arrayOf(ZIP, "application/octet-stream", "application/x-zip-compressed"))

    /** Opens a document to be written from its beginning. */
    fun write(document: Uri): Written {
        val opened = context.contentResolver.openFileDescriptor(context.foreign(document), "wt") ?: throw IOException()
        return Written(opened)
    }

    fun read(document: Uri): InputStream = context.contentResolver.openInputStream(context.foreign(document)) ?: throw IOException()

    /** How many bytes a document has; null where its app does not say. */
    fun size(document: Uri): Long? = tried {
        context.contentResolver.query(document, arrayOf(OpenableColumns.SIZE), null, null, null)?.use { row ->
            if (row.moveToFirst() && !row.isNull(0)) row.getLong(0).takeIf { it >= 0 } else null
        }
    }

    /** Removes a document that was not finished. Its app may refuse: then it stays, and is no backup. */
    fun discard(document: Uri) {
        tried { DocumentsContract.deleteDocument(context.contentResolver, document) }
    }

    /** Where a document is copied to before it is looked into; what was there goes. */
    fun incoming(): File = context.cacheDir.resolve(INCOMING).also { it.delete() }

    /** Puts [bytes] where another app can be lent them under [name]. */
    fun lend(name: String, bytes: ByteArray): Uri = ShareProvider.lend(context, name, bytes)

    private fun <T> tried(ask: () -> T): T? = try {
        ask()
    } catch (expectedOfForeignApps: Exception) {
        null
    }

    private companion object {
        const val ZIP = "application/zip"
        const val INCOMING = "incoming.zip"
    }
}

/** A document being written; [finish] makes it last. */
class Written(private val opened: ParcelFileDescriptor) : Closeable {
    private val stream = FileOutputStream(opened.fileDescriptor)
    var bytes = 0L
        private set

    fun add(piece: ByteArray) {
        stream.write(piece)
        bytes += piece.size
    }

    /** Flushes it to where it is kept; fails where the document is not as long as what was written. */
    fun finish() {
        stream.flush()
        // A document that is no file (a pipe to some cloud) cannot be flushed and does not tell its size.
        runCatching { opened.fileDescriptor.sync() }
        val long = opened.statSize
        close()
        if (long >= 0 && long != bytes) throw Said(R.string.backup_short, R.string.backup_short_remedy)
    }

    override fun close() {
        stream.close()
        opened.close()
    }
}
