package org.shimwright.frame

import android.content.ContentResolver
import android.content.Context
import android.net.Uri
import org.shimwright.R
import java.io.File
import java.io.IOException
import java.io.InputStream

/**
 * An address that another app handed in, once it is one that may be read. A `file:` address, or one of our own
 * providers, would have us read what only we can: the other app would hand us our own workshop.
 */
fun Context.foreign(address: Uri): Uri {
    // "user@authority" is the same provider to the system.
    val authority = address.authority.orEmpty().substringAfterLast('@').lowercase()
    val own = authority == packageName || authority.startsWith("$packageName.")
    if (address.scheme != ContentResolver.SCHEME_CONTENT || own) throw Said(R.string.foreign_refused, R.string.foreign_refused_remedy)
    return address
}

/**
 * Copies what [from] holds to [to], under another name until all of it is there. More than [most] bytes are refused, and
 * then nothing stays.
 */
fun takeIn(from: InputStream, to: File, most: Long) {
    val half = File(to.path + HALF)
    try {
        if (!copied(from, half, most)) throw Said(R.string.foreign_large, R.string.foreign_large_remedy)
        if (!half.renameTo(to)) throw IOException()
    } finally {
        half.delete()
    }
}

/** Whether all of it was copied before [most] bytes were full. */
private fun copied(from: InputStream, to: File, most: Long): Boolean {
    var room = most
    to.outputStream().use { into ->
        val piece = ByteArray(PIECE)
        while (true) {
            val read = from.read(piece)
            if (read < 0) return true
            room -= read
            if (room < 0) return false
            into.write(piece, 0, read)
        }
    }
}

private const val HALF = ".half"
private const val PIECE = 1 shl 16
