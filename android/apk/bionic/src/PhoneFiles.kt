package org.shimwright.core

import java.io.File
import java.io.IOException
import java.nio.ByteBuffer
import java.nio.ByteOrder
import java.nio.channels.FileChannel
import java.nio.file.AccessDeniedException
import java.nio.file.DirectoryNotEmptyException
import java.nio.file.FileAlreadyExistsException
import java.nio.file.Files
import java.nio.file.NoSuchFileException
import java.nio.file.NotDirectoryException
import java.nio.file.OpenOption
import java.nio.file.Path
import java.nio.file.StandardCopyOption.REPLACE_EXISTING
import java.nio.file.StandardOpenOption
import java.nio.file.attribute.FileTime

/** A failure as Linux numbers it (include/uapi/asm-generic/errno-base.h and errno.h). */
internal class Errno(val number: Int) : IOException("errno $number") {
    companion object {
        const val NOT_THERE = 2
        const val IO = 5
        const val BAD_FILE = 9
        const val NO_ACCESS = 13
        const val THERE = 17
        const val NO_FOLDER = 20
        const val FOLDER = 21
        const val INVALID = 22
        const val NOT_MADE = 38
        const val NOT_EMPTY = 39

        fun of(error: IOException) = when (error) {
            is Errno -> error.number
            is NoSuchFileException -> NOT_THERE
            is FileAlreadyExistsException -> THERE
            is NotDirectoryException -> NO_FOLDER
            is DirectoryNotEmptyException -> NOT_EMPTY
            is AccessDeniedException -> NO_ACCESS
            else -> IO
        }
    }
}

/** Files below one folder of this machine, with open files by number as Linux has them. */
internal class PhoneFiles(private val folder: Path) {
    private class Open(val path: Path, val channel: FileChannel?, var unread: List<String>)

    private val open = HashMap<Int, Open>()
    private var next = FIRST

    fun holds(number: Int) = number in open

    fun below(path: String) = Path.of(path).normalize().startsWith(folder)

    /** The folder's own parents are only looked at. */
    fun above(path: String) = folder.startsWith(Path.of(path).normalize())

    fun open(path: String, flags: Int): Int {
        val at = Path.of(path)
        val isFolder = Files.isDirectory(at)
        if (isFolder && flags and ACCESS != 0) throw Errno(Errno.FOLDER)
        if (!isFolder && flags and ONLY_FOLDER != 0) throw Errno(if (Files.exists(at)) Errno.NO_FOLDER else Errno.NOT_THERE)
        val channel = if (isFolder) null else FileChannel.open(at, options(flags))
        val names = if (isFolder) listOf(".", "..") + File(path).list().orEmpty().sorted() else emptyList()
        open[next] = Open(at, channel, names)
        return next++
    }

    private fun options(flags: Int): Set<OpenOption> = buildSet {
        val access = flags and ACCESS
        if (access != WRITE_ONLY) add(StandardOpenOption.READ)
        // Java knows no file that is added to and read.
        if (access != 0) add(if (flags and APPEND != 0) StandardOpenOption.APPEND else StandardOpenOption.WRITE)
        if (flags and CREATE != 0) add(if (flags and NEW != 0) StandardOpenOption.CREATE_NEW else StandardOpenOption.CREATE)
        if (flags and CUT != 0) add(StandardOpenOption.TRUNCATE_EXISTING)
    }

    private fun file(number: Int) = open[number] ?: throw Errno(Errno.BAD_FILE)

    private fun channel(number: Int) = file(number).channel ?: throw Errno(Errno.FOLDER)

    fun close(number: Int) {
        file(number).channel?.close()
        open.remove(number)
    }

    /** From `at` on, or from where the file stands; empty at its end. */
    fun read(number: Int, size: Int, at: Long? = null): ByteArray {
        val into = ByteBuffer.allocate(size)
        val channel = channel(number)
        while (into.hasRemaining()) {
            val more = if (at == null) channel.read(into) else channel.read(into, at + into.position())
            if (more <= 0) break
        }
        return into.array().copyOf(into.position())
    }

    fun write(number: Int, bytes: ByteArray, at: Long? = null): Int {
        val from = ByteBuffer.wrap(bytes)
        val channel = channel(number)
        while (from.hasRemaining()) if (at == null) channel.write(from) else channel.write(from, at + from.position())
        return bytes.size
    }

    fun seek(number: Int, by: Long, from: Int): Long {
        val channel = channel(number)
        val start = listOf(0L, channel.position(), channel.size()).getOrNull(from) ?: throw Errno(Errno.INVALID)
        if (start + by < 0) throw Errno(Errno.INVALID)
        return channel.position(start + by).position()
    }

    /** Linux makes a file longer with noughts. */
    fun resize(number: Int, size: Long) {
        val channel = channel(number)
        if (size < channel.size()) {
            channel.truncate(size)
        } else if (size > channel.size()) {
            channel.write(ByteBuffer.allocate(1), size - 1)
        }
    }

    fun sync(number: Int) = file(number).channel?.force(true)

    fun make(path: String) {
        Files.createDirectory(Path.of(path))
    }

    fun remove(path: String, isFolder: Boolean) {
        val at = Path.of(path)
        if (Files.isDirectory(at) != isFolder) throw Errno(if (isFolder) Errno.NO_FOLDER else Errno.FOLDER)
        Files.delete(at)
    }

    fun rename(from: String, to: String) {
        Files.move(Path.of(from), Path.of(to), REPLACE_EXISTING)
    }

    fun facts(number: Int) = facts(file(number).path.toString(), file(number).channel?.size())

    /** `struct stat` of 64-bit Linux (include/uapi/asm-generic/stat.h). */
    fun facts(path: String, size: Long? = null): ByteArray {
        val seen = Files.readAttributes(Path.of(path), "unix:*")
        val number = { name: String -> (seen.getValue(name) as Number).toLong() }
        val length = size ?: number("size")
        return little(STAT_BYTES).run {
            putLong(number("dev")).putLong(number("ino")).putInt(number("mode").toInt()).putInt(number("nlink").toInt())
            // The app's own, whoever runs this.
            putInt(0).putInt(0).putLong(0).putLong(0)
            putLong(length).putInt(BLOCK).putInt(0).putLong((length + 511) / 512)
            for (name in listOf("lastAccessTime", "lastModifiedTime", "ctime")) {
                val time = (seen.getValue(name) as FileTime).toInstant()
                putLong(time.epochSecond).putLong(time.nano.toLong())
            }
            array()
        }
    }

    /** The next names of a folder as `struct linux_dirent64`, as many as fit. */
    fun names(number: Int, room: Int): ByteArray {
        val file = file(number)
        val into = little(room)
        while (file.unread.isNotEmpty()) {
            val name = file.unread.first().toByteArray()
            val size = (DIRENT_HEAD + name.size + 1 + 7) / 8 * 8
            if (size > into.remaining()) break
            val start = into.position()
            into.putLong(1L + start).putLong(1L).putShort(size.toShort()).put(0).put(name)
            into.position(start + size)
            file.unread = file.unread.drop(1)
        }
        return into.array().copyOf(into.position())
    }

    companion object {
        fun little(size: Int): ByteBuffer = ByteBuffer.allocate(size).order(ByteOrder.LITTLE_ENDIAN)

        /** Numbers that the emulator's own open files do not reach. */
        private const val FIRST = 1000
        private const val STAT_BYTES = 128
        private const val BLOCK = 4096
        private const val DIRENT_HEAD = 19

        // arch/arm64/include/uapi/asm/fcntl.h and asm-generic/fcntl.h
        private const val ACCESS = 3
        private const val WRITE_ONLY = 1
        private const val CREATE = 0x40
        private const val NEW = 0x80
        private const val CUT = 0x200
        private const val APPEND = 0x400
        private const val ONLY_FOLDER = 0x4000
    }
}
