package org.shimwright.photo

import android.content.Context
import android.net.Uri
import org.shimwright.frame.foreign
import org.shimwright.frame.takeIn
import java.io.File
import java.io.IOException

/** The photographs of trials: files of this app alone, which another app sees only while it is lent one. */
class PhotoShelf(private val context: Context) {
    /** Which way was up when one was taken. */
    val plumb by lazy { Plumb(context) }

    /** A name for a photograph taken now. */
    fun fresh(nowMs: Long): String {
        val taken = generateSequence(0) { it + 1 }.map { "$nowMs-$it$END" }
        return taken.first { !file(it).exists() }
    }

    fun file(name: String): File = fileOf(context, name)

    /** The folder they are in, as the core asks for it. */
    val folder: String get() = folderOf(context).path

    /** Where a camera app is to write the photograph [name]. */
    fun address(name: String): Uri =
        Uri.Builder().scheme("content").authority("${context.packageName}$AUTHORITY_END").appendPath(name).build()

    /** Copies a picture that another app shows into a photograph of our own; answers its name. Fails with words. */
    fun take(picture: Uri, nowMs: Long): String {
        val name = fresh(nowMs)
        val from = context.contentResolver.openInputStream(context.foreign(picture)) ?: throw IOException()
        from.use { takeIn(it, file(name), MOST_BYTES) }
        return name
    }

    fun drop(name: String) {
        file(name).delete()
    }

    internal companion object {
        private const val AUTHORITY_END = ".photos"
        private const val END = ".jpg"

        /** Four times what a phone's camera writes; the core takes no larger one into a backup. */
        private const val MOST_BYTES = 64L shl 20

        /** Given by this shelf, or by the core, which names a photograph by the SHA-256 of its content. */
        private val NAME = Regex("([0-9]{1,16}-[0-9]{1,4}|[0-9a-f]{64})\\.(jpg|png)")

        /** The file of [name]; a name that this shelf did not give is refused, so that no path leads out of it. */
        fun fileOf(context: Context, name: String): File {
            require(NAME.matches(name)) { "not a photograph of this shelf: $name" }
            return folderOf(context).resolve(name)
        }

        private fun folderOf(context: Context): File = context.filesDir.resolve("photos").also { it.mkdirs() }
    }
}
