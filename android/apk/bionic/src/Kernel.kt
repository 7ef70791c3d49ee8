package org.shimwright.core

import com.github.unidbg.Emulator
import com.github.unidbg.arm.backend.Backend
import com.github.unidbg.linux.ARM64SyscallHandler
import com.github.unidbg.memory.SvcMemory
import com.github.unidbg.pointer.UnidbgPointer
import unicorn.Arm64Const
import java.io.IOException
import java.nio.file.Files
import java.nio.file.Path

/**
 * What the phone's kernel answers. The emulator's own answers serve, but for files below `folder`: it knows neither `pwrite` nor
 * locks nor memory shared with a file, and it tells a failure in a way that the phone's C library takes for another.
 */
internal class Kernel(memory: SvcMemory, folder: Path) : ARM64SyscallHandler(memory) {
    private val files = PhoneFiles(folder)

    override fun hook(backend: Backend, intno: Int, swi: Int, user: Any?) {
        if (intno != SUPERVISOR_CALL || swi != 0) return super.hook(backend, intno, swi, user)
        val number = backend.reg_read(Arm64Const.UC_ARM64_REG_X8).toInt()
        val call = Call(user as Emulator<*>, backend, number)
        val answer =
            try {
                answer(call)
            } catch (error: IOException) {
                -Errno.of(error).toLong()
            }
        if (answer != null) {
            backend.reg_write(Arm64Const.UC_ARM64_REG_X0, answer)
        } else {
            asEver(intno, call)
        }
    }

    /** The emulator sets the C library's `errno` and answers -1; the kernel answers the number, and the C library sets it. */
    private fun asEver(intno: Int, call: Call) {
        val (emulator, backend) = call.emulator to call.backend
        val shared = call.number == MMAP && files.holds(call.int(4))
        val file = call.int(4)
        val (size, from) = call.long(1) to call.long(5)
        if (shared) {
            // One process has this memory, so it need not reach the file: what SQLite shares through it is made anew when a
            // file is first opened.
            backend.reg_write(Arm64Const.UC_ARM64_REG_X3, PRIVATE_WITHOUT_FILE)
            backend.reg_write(Arm64Const.UC_ARM64_REG_X4, -1)
            backend.reg_write(Arm64Const.UC_ARM64_REG_X5, 0)
        }
        emulator.memory.setErrno(0)
        super.hook(backend, intno, 0, emulator)
        val answer = backend.reg_read(Arm64Const.UC_ARM64_REG_X0).toLong()
        val error = emulator.memory.lastErrno
        if (answer == -1L && error > 0) backend.reg_write(Arm64Const.UC_ARM64_REG_X0, -error.toLong())
        if (shared) backend.mem_write(answer, files.read(file, size.toInt(), from))
    }

    private class Call(val emulator: Emulator<*>, val backend: Backend, val number: Int) {
        fun long(index: Int) = backend.reg_read(Arm64Const.UC_ARM64_REG_X0 + index).toLong()

        fun int(index: Int) = long(index).toInt()

        fun bytes(index: Int, size: Int): ByteArray = if (size == 0) ByteArray(0) else backend.mem_read(long(index), size.toLong())

        fun give(index: Int, bytes: ByteArray): Long {
            if (bytes.isNotEmpty()) backend.mem_write(long(index), bytes)
            return bytes.size.toLong()
        }

        fun path(index: Int): String = UnidbgPointer.pointer(emulator, long(index)).getString(0)
    }

    /** Null where the emulator's own answer serves. */
    private fun answer(call: Call): Long? = when (call.number) {
        OPENAT, UNLINKAT, MKDIRAT, FACCESSAT, NEWFSTATAT, READLINKAT, RENAMEAT, UTIMENSAT -> byPath(call, call.path(1))
        in NOT_MADE -> throw Errno(Errno.NOT_MADE)
        else -> if (call.number != MMAP && files.holds(call.int(0))) byNumber(call) else null
    }

    private fun byPath(call: Call, path: String): Long? {
        if (!files.below(path)) {
            return if (files.above(path) && call.number == NEWFSTATAT) done { call.give(2, files.facts(path)) } else null
        }
        return when (call.number) {
            OPENAT -> files.open(path, call.int(2)).toLong()

            UNLINKAT -> done { files.remove(path, call.int(2) and REMOVE_FOLDER != 0) }

            MKDIRAT -> done { files.make(path) }

            RENAMEAT -> done { files.rename(path, call.path(3)) }

            FACCESSAT -> done { files.facts(path) }

            NEWFSTATAT -> done { call.give(2, files.facts(path)) }

            // There are no links.
            READLINKAT -> throw Errno(if (Files.exists(Path.of(path))) Errno.INVALID else Errno.NOT_THERE)

            else -> 0
        }
    }

    private fun byNumber(call: Call): Long? {
        val file = call.int(0)
        return when (call.number) {
            CLOSE -> done { files.close(file) }
            READ -> call.give(1, files.read(file, call.int(2)))
            PREAD -> call.give(1, files.read(file, call.int(2), call.long(3)))
            WRITE -> files.write(file, call.bytes(1, call.int(2))).toLong()
            PWRITE -> files.write(file, call.bytes(1, call.int(2)), call.long(3)).toLong()
            LSEEK -> files.seek(file, call.long(1), call.int(2))
            FTRUNCATE -> done { files.resize(file, call.long(1)) }
            FSTAT -> done { call.give(1, files.facts(file)) }
            FSYNC, FDATASYNC -> done { files.sync(file) }
            GETDENTS -> call.give(1, files.names(file, call.int(2)))
            FCHMOD, FCHOWN -> 0
            FCNTL -> control(call)
            else -> throw Errno(Errno.NOT_MADE)
        }
    }

    /** Locks of one process never stand in its own way, and there is no other. */
    private fun control(call: Call): Long = when (call.int(1)) {
        GET_LOCK -> done { call.give(2, UNLOCKED) }
        SET_LOCK, WAIT_FOR_LOCK, SET_FLAGS -> 0
        GET_FLAGS -> CLOSE_ON_EXEC
        else -> throw Errno(Errno.INVALID)
    }

    private inline fun done(act: () -> Unit): Long {
        act()
        return 0
    }

    private companion object {
        const val SUPERVISOR_CALL = 2
        const val PRIVATE_WITHOUT_FILE = 0x22
        const val REMOVE_FOLDER = 0x200

        // include/uapi/asm-generic/unistd.h
        const val FCNTL = 25
        const val MKDIRAT = 34
        const val UNLINKAT = 35
        const val RENAMEAT = 38
        const val FTRUNCATE = 46
        const val FACCESSAT = 48
        const val FCHMOD = 52
        const val FCHOWN = 55
        const val OPENAT = 56
        const val CLOSE = 57
        const val GETDENTS = 61
        const val LSEEK = 62
        const val READ = 63
        const val WRITE = 64
        const val PREAD = 67
        const val PWRITE = 68
        const val READLINKAT = 78
        const val NEWFSTATAT = 79
        const val FSTAT = 80
        const val FSYNC = 82
        const val FDATASYNC = 83
        const val UTIMENSAT = 88
        const val MMAP = 222

        /** sendfile, splice, renameat2, copy_file_range, statx: a kernel that lacks them, and Rust's library goes the old way. */
        val NOT_MADE = setOf(71, 76, 276, 285, 291)

        // include/uapi/asm-generic/fcntl.h
        const val GET_FLAGS = 1
        const val SET_FLAGS = 2
        const val GET_LOCK = 5
        const val SET_LOCK = 6
        const val WAIT_FOR_LOCK = 7
        const val CLOSE_ON_EXEC = 1L
        val UNLOCKED = byteArrayOf(2, 0)
    }
}
