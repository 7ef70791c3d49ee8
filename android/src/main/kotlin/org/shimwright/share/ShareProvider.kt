package org.shimwright.share

import android.content.ContentProvider
import android.content.ContentValues
import android.content.Context
import android.database.Cursor
import android.database.MatrixCursor
import android.net.Uri
import android.os.ParcelFileDescriptor
import android.provider.OpenableColumns
import android.webkit.MimeTypeMap
import java.io.File
import java.io.FileNotFoundException
import java.util.UUID

/**
 * Lends what the user shares: a sheet, a table, a photograph. Not exported; each loan is a grant to read one address, which holds a
 * number nobody can guess, and there is nothing else in the folder.
 */
class ShareProvider : ContentProvider() {
    override fun onCreate() = true

    override fun openFile(uri: Uri, mode: String): ParcelFileDescriptor {
        if (mode != "r") throw FileNotFoundException(uri.toString())
        return ParcelFileDescriptor.open(file(uri), ParcelFileDescriptor.MODE_READ_ONLY)
    }

    override fun getType(uri: Uri): String = typeOf(uri.lastPathSegment.orEmpty())

    override fun query(uri: Uri, columns: Array<String>?, where: String?, values: Array<String>?, order: String?): Cursor {
        val file = file(uri)
        val facts = mapOf<String, Any>(OpenableColumns.DISPLAY_NAME to file.name, OpenableColumns.SIZE to file.length())
        val wanted = columns ?: facts.keys.toTypedArray()
        return MatrixCursor(wanted, 1).apply { addRow(wanted.map(facts::get)) }
    }

    private fun file(uri: Uri): File {
        val context = checkNotNull(context)
        val (loan, name) = uri.pathSegments.takeIf { it.size == 2 } ?: throw FileNotFoundException(uri.toString())
        val file = folder(context).resolve(loan).resolve(name)
        // No path leads out of the folder, whatever its parts are called.
        val inside = file.canonicalFile.parentFile?.parentFile == folder(context).canonicalFile
        if (!inside || !file.isFile) throw FileNotFoundException(uri.toString())
        return file
    }

    override fun insert(uri: Uri, values: ContentValues?): Uri? = null

    override fun delete(uri: Uri, where: String?, values: Array<String>?) = 0

    override fun update(uri: Uri, fresh: ContentValues?, where: String?, values: Array<String>?) = 0

    companion object {
        private const val AUTHORITY_END = ".shared"
        private const val LONGEST = 60

        /** A letter that waits for a network still reads its attachment the next day. */
        private const val KEPT_MS = 2 * 24 * 3_600_000L

        /** Where loans lie: the phone may empty it when it is short of room. */
        private fun folder(context: Context): File = context.cacheDir.resolve("shared")

        /** Writes [bytes] under [name] and answers the address; what was lent days ago goes. */
        internal fun lend(context: Context, name: String, bytes: ByteArray): Uri {
            val old = System.currentTimeMillis() - KEPT_MS
            folder(context).listFiles().orEmpty().filter { it.lastModified() < old }.forEach { it.deleteRecursively() }
            val loan = UUID.randomUUID().toString()
            val file = folder(context).resolve(loan).also { it.mkdirs() }.resolve(plain(name))
            file.writeBytes(bytes)
            return Uri.Builder().scheme("content").authority(context.packageName + AUTHORITY_END)
                .appendPath(loan).appendPath(file.name).build()
        }

        /** A name of letters, digits, spaces and a few signs, as every file system takes it. */
        internal fun plain(name: String): String {
            val end = name.substringAfterLast('.')
            val kept = name.substringBeforeLast('.').map { if (it.isLetterOrDigit() || it in " -_") it else '_' }
            return kept.joinToString("").trim().take(LONGEST).ifEmpty { "_" } + "." + end
        }

        /** The type by the ending; the phone's own list is asked first. */
        internal fun typeOf(name: String): String = when (val end = name.substringAfterLast('.')) {
            "csv" -> "text/csv"
            "jpg" -> "image/jpeg"
            "pdf" -> "application/pdf"
            "png" -> "image/png"
            else -> MimeTypeMap.getSingleton().getMimeTypeFromExtension(end) ?: "application/octet-stream"
        }
    }
}
