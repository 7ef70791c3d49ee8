package org.shimwright.photo

import android.content.ContentProvider
import android.content.ContentValues
import android.database.Cursor
import android.database.MatrixCursor
import android.net.Uri
import android.os.ParcelFileDescriptor
import android.provider.OpenableColumns
import java.io.FileNotFoundException

/** Lends one photograph of the [PhotoShelf] to the camera app that was asked for it. Not exported: each loan is a grant. */
class PhotoProvider : ContentProvider() {
    override fun onCreate() = true

    override fun openFile(uri: Uri, mode: String): ParcelFileDescriptor =
        ParcelFileDescriptor.open(file(uri), ParcelFileDescriptor.parseMode(mode))

    override fun getType(uri: Uri) = "image/jpeg"

    override fun query(uri: Uri, columns: Array<String>?, where: String?, values: Array<String>?, order: String?): Cursor {
        val wanted = columns ?: arrayOf(OpenableColumns.DISPLAY_NAME, OpenableColumns.SIZE)
        val file = file(uri)
        val row = wanted.map {
            when (it) {
                OpenableColumns.SIZE -> file.length()
                OpenableColumns.DISPLAY_NAME -> file.name
                else -> null
            }
        }
        return MatrixCursor(wanted, 1).apply { addRow(row) }
    }

    private fun file(uri: Uri) = try {
        PhotoShelf.fileOf(checkNotNull(context), uri.lastPathSegment.orEmpty())
    } catch (foreign: IllegalArgumentException) {
        throw FileNotFoundException(foreign.message).initCause(foreign)
    }

    override fun insert(uri: Uri, values: ContentValues?): Uri? = null

    override fun delete(uri: Uri, where: String?, values: Array<String>?) = 0

    override fun update(uri: Uri, fresh: ContentValues?, where: String?, values: Array<String>?) = 0
}
