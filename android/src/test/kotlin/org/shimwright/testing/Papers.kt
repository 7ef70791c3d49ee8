package org.shimwright.testing

import android.content.ContentProvider
import android.content.ContentValues
import android.content.pm.ProviderInfo
import android.database.Cursor
import android.database.MatrixCursor
import android.net.Uri
import android.os.Bundle
import android.os.ParcelFileDescriptor
import android.provider.OpenableColumns
import org.robolectric.Robolectric
import java.io.File
import java.io.FileNotFoundException
import java.util.concurrent.CountDownLatch
import java.util.concurrent.TimeUnit

/** Another app that keeps documents: files of one folder, each under its name. */
class Papers : ContentProvider() {
    override fun onCreate() = true

    override fun openFile(uri: Uri, mode: String): ParcelFileDescriptor {
        slow?.await(LONGEST_S, TimeUnit.SECONDS)
        if (full) throw FileNotFoundException("no room")
        return ParcelFileDescriptor.open(file(uri), ParcelFileDescriptor.parseMode(mode))
    }

    override fun query(uri: Uri, columns: Array<String>?, where: String?, values: Array<String>?, order: String?): Cursor =
        MatrixCursor(arrayOf(OpenableColumns.SIZE)).apply { addRow(arrayOf(file(uri).length())) }

    /** How the system's own way to delete a document reaches its provider. */
    override fun call(method: String, arg: String?, extras: Bundle?): Bundle? {
        @Suppress("DEPRECATION") // as the platform puts it
        val uri = extras?.getParcelable<Uri>("uri")
        if (method == "android:deleteDocument" && uri != null) file(uri).delete()
        return Bundle()
    }

    override fun getType(uri: Uri) = "application/zip"

    override fun insert(uri: Uri, values: ContentValues?): Uri? = null

    override fun delete(uri: Uri, where: String?, values: Array<String>?) = 0

    override fun update(uri: Uri, fresh: ContentValues?, where: String?, values: Array<String>?) = 0

    companion object {
        private const val AUTHORITY = "org.elsewhere.papers"
        private const val LONGEST_S = 20L
        private lateinit var folder: File

        /** Whether it refuses to open anything. */
        var full = false

        /** What opening a document waits for. */
        @Volatile var slow: CountDownLatch? = null

        /** Installs it, its documents in [documents]. */
        fun install(documents: File) {
            folder = documents.apply { mkdirs() }
            full = false
            slow = null
            Robolectric.buildContentProvider(Papers::class.java).create(ProviderInfo().apply { authority = AUTHORITY })
        }

        /** The address of the document [name]. */
        fun address(name: String): Uri =
            Uri.Builder().scheme("content").authority(AUTHORITY).appendPath("document").appendPath(name).build()

        fun file(name: String) = folder.resolve(name)

        private fun file(uri: Uri) = file(checkNotNull(uri.lastPathSegment))
    }
}
