package org.shimwright.core

import com.github.unidbg.arm.backend.DynarmicFactory
import com.github.unidbg.linux.android.AndroidARM64Emulator
import com.github.unidbg.linux.android.AndroidResolver
import com.github.unidbg.memory.SvcMemory
import com.sun.jna.Memory
import com.sun.jna.Pointer
import unicorn.Arm64Const
import java.io.File
import java.nio.ByteBuffer
import java.nio.ByteOrder
import java.nio.file.Path
import kotlin.reflect.KClass

/**
 * The APK's arm64 library on the C library of a phone, both emulated. The generated Kotlin calls this in place of JNA: it puts
 * arguments where the AAPCS64 wants them and carries buffers between this JVM's memory and the phone's.
 */
internal object Phone {
    private val emulator =
        object : AndroidARM64Emulator("org.shimwright", File(System.getProperty("phone.root")), listOf(DynarmicFactory(true))) {
            // Tests put their files into this machine's folder for such.
            override fun createSyscallHandler(memory: SvcMemory) = Kernel(memory, Path.of(System.getProperty("java.io.tmpdir")))
        }
    private val library =
        emulator.memory.run {
            setLibraryResolver(AndroidResolver(API))
            emulator.loadLibrary(File(System.getProperty("phone.library")), true)
        }
    private val scratch = emulator.memory.malloc(SCRATCH, true).pointer.peer
    private var used = 0L

    /** Buffers of Rust's that the JVM holds a copy of: by the address of the copy, the copy and the address on the phone. */
    private val lent = HashMap<Long, Pair<Memory, Long>>()

    inline fun <reified T> call(name: String, vararg arguments: Any): T = call(T::class, name, arguments) as T

    @Synchronized
    fun call(type: KClass<*>, name: String, arguments: Array<out Any>): Any {
        used = 0
        val function = checkNotNull(library.findSymbolByName(name, false)) { "$name is not in the library" }.address
        val statuses = ArrayList<Pair<UniffiRustCallStatus, Long>>()
        val numbers =
            arguments.flatMap { argument ->
                when (argument) {
                    is RustBuffer -> listOf(place(argument))
                    is UniffiRustCallStatus -> listOf(room(STATUS_BYTES).also { statuses += argument to it })
                    is ForeignBytes -> listOf(argument.len, place(argument))
                    is Number -> listOf(argument)
                    else -> error("no way to pass ${argument.javaClass}")
                }
            }
        val result = room(BUFFER_BYTES)
        emulator.backend.reg_write(Arm64Const.UC_ARM64_REG_X8, result)
        val x0 = emulator.eFunc(function, *numbers.toTypedArray())
        statuses.forEach { (status, at) ->
            status.code = read(at, 1).get()
            if (status.code != UNIFFI_CALL_SUCCESS) status.error_buf = buffer(at + 8)
        }
        return answer(type, x0, result)
    }

    private fun answer(type: KClass<*>, x0: Number, result: Long): Any = when (type) {
        RustBuffer.ByValue::class -> buffer(result)
        Long::class -> x0.toLong()
        Int::class -> x0.toInt()
        Short::class -> x0.toShort()
        Byte::class -> x0.toByte()
        Double::class -> little(emulator.backend.reg_read_vector(Arm64Const.UC_ARM64_REG_Q0)).double
        Unit::class -> Unit
        else -> error("no way to give back $type")
    }

    /** A structure of three words, which is passed by its address; what the JVM wrote into it goes along. */
    private fun place(buffer: RustBuffer): Long {
        val at = room(BUFFER_BYTES)
        val data =
            buffer.data?.let { pointer ->
                val (copy, there) = checkNotNull(lent.remove(Pointer.nativeValue(pointer))) { "a buffer that is not Rust's" }
                if (buffer.len > 0) write(there, copy.getByteArray(0, buffer.len.toInt()))
                there
            }
        val words = ByteBuffer.allocate(BUFFER_BYTES).order(ByteOrder.LITTLE_ENDIAN)
        write(at, words.putLong(buffer.capacity).putLong(buffer.len).putLong(data ?: 0).array())
        return at
    }

    private fun place(bytes: ForeignBytes): Long {
        val data = bytes.data ?: return 0
        val there = emulator.memory.malloc(bytes.len, true).pointer.peer
        write(there, data.getByteArray(0, bytes.len))
        return there
    }

    private fun buffer(at: Long): RustBuffer.ByValue {
        val words = read(at, BUFFER_BYTES)
        val (capacity, length, there) = List(3) { words.long }
        if (there == 0L) return RustBuffer.create(capacity.toULong(), length.toULong(), null)
        // An empty one has an address too, and Kotlin looks there.
        val copy = Memory(maxOf(capacity, 1))
        if (length > 0) copy.write(0, read(there, length.toInt()).array(), 0, length.toInt())
        lent[Pointer.nativeValue(copy)] = copy to there
        return RustBuffer.create(capacity.toULong(), length.toULong(), copy)
    }

    private fun room(bytes: Int): Long {
        val at = scratch + used
        used += bytes
        check(used <= SCRATCH)
        write(at, ByteArray(bytes))
        return at
    }

    private fun write(at: Long, bytes: ByteArray) = emulator.backend.mem_write(at, bytes)

    private fun read(at: Long, bytes: Int) = little(emulator.backend.mem_read(at, bytes.toLong()))

    private fun little(bytes: ByteArray) = ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN)

    private const val API = 23
    private const val SCRATCH = 4096
    private const val BUFFER_BYTES = 24
    private const val STATUS_BYTES = 32
}
