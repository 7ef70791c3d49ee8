package org.shimwright.photo

import android.content.Context
import android.net.Uri
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

    /** Where a camera app is to write the photograph [name]. */
    fun address(name: String): Uri =
        Uri.Builder().scheme("content").authority("${context.packageName}$AUTHORITY_END").appendPath(name).build()

    /** Copies a picture that another app shows into a photograph of our own; answers its name. */
    fun take(picture: Uri, nowMs: Long): String {
        val name = fresh(nowMs)
        val from = context.contentResolver.openInputStream(picture) ?: throw IOException()
        from.use { source -> file(name).outputStream().use { source.copyTo(it) } }
        return name
    }

    fun drop(name: String) {
        file(name).delete()
    }

    internal companion object {
        private const val AUTHORITY_END = ".photos"
        private const val END = ".jpg"

        /** Given by this shelf, or by the core, which names a photograph by the SHA-256 of its content. */
        private val NAME = Regex("([0-9]{1,16}-[0-9]{1,4}|[0-9a-f]{64})\\.(jpg|png)")

        /** The file of [name]; a name that this shelf did not give is refused, so that no path leads out of it. */
        fun fileOf(context: Context, name: String): File {
            require(NAME.matches(name)) { "not a photograph of this shelf: $name" }
            return context.filesDir.resolve("photos").also { it.mkdirs() }.resolve(name)
        }
    }
}
