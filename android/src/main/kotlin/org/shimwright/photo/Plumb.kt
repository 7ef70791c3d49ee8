package org.shimwright.photo

import android.content.Context
import android.hardware.Sensor
import android.hardware.SensorEvent
import android.hardware.SensorEventListener
import android.hardware.SensorManager
import android.media.ExifInterface
import android.os.SystemClock
import java.io.File
import java.io.IOException
import java.text.ParseException
import java.text.SimpleDateFormat
import java.util.Locale
import kotlin.math.PI
import kotlin.math.abs
import kotlin.math.atan2
import kotlin.math.hypot
import kotlin.math.round
import kotlin.math.sqrt

/** Gravity as the phone felt it at [atMs], epoch; x to the right and y up along the screen, m/s2, away from the ground. */
class Felt(val atMs: Long, val x: Float, val y: Float, val z: Float)

/**
 * Feels which way is up while the camera app takes a photograph. That app holds the phone meanwhile; a phone that tells
 * this app nothing then leaves the photograph without it, and up is assumed.
 */
class Plumb(context: Context, private val wallMs: () -> Long = System::currentTimeMillis) : SensorEventListener {
    private val sensors = context.getSystemService(SensorManager::class.java)
    private val felt = ArrayDeque<Felt>()

    /** Begins to feel. */
    fun listen() {
        felt.clear()
        val gravity = sensors?.getDefaultSensor(Sensor.TYPE_GRAVITY) ?: sensors?.getDefaultSensor(Sensor.TYPE_ACCELEROMETER)
        if (gravity != null) sensors?.registerListener(this, gravity, PERIOD_US)
    }

    /** Stops, and answers what was felt. */
    fun rest(): List<Felt> {
        sensors?.unregisterListener(this)
        return felt.toList().also { felt.clear() }
    }

    override fun onSensorChanged(event: SensorEvent) {
        val agoMs = (SystemClock.elapsedRealtimeNanos() - event.timestamp) / NANOS_PER_MS
        felt.addLast(Felt(wallMs() - agoMs, event.values[0], event.values[1], event.values[2]))
        if (felt.size > MOST) felt.removeFirst()
    }

    override fun onAccuracyChanged(sensor: Sensor, accuracy: Int) = Unit

    companion object {
        private const val PERIOD_US = 100_000
        private const val NANOS_PER_MS = 1_000_000

        /** Some minutes of it. */
        private const val MOST = 4096

        /** How far true up was turned clockwise from the photograph's own up when it was taken, rad; null where nobody knows. */
        fun rollOf(felt: List<Felt>, file: File): Double? = shutter(file)?.let { rollAt(felt, it) }

        /** The same from what was felt at most a moment beside [shutter]. A phone that moved or looked at the ground tells nothing. */
        internal fun rollAt(felt: List<Felt>, shutter: LongRange): Double? {
            val near = felt.filter { it.atMs in shutter.first - BESIDE_MS..shutter.last + BESIDE_MS }
            if (near.isEmpty()) return null
            val (x, y, z) = Triple(near.map { it.x }.average(), near.map { it.y }.average(), near.map { it.z }.average())
            val length = sqrt(x * x + y * y + z * z)
            val moved = near.maxOf { sqrt(square(it.x - x) + square(it.y - y) + square(it.z - z)) }
            if (length < 1 || moved > STILL * length || hypot(x, y) < UPRIGHT * length) return null
            val turn = atan2(x, y)
            val roll = turn - round(turn / QUARTER) * QUARTER
            // Half-way between two ways of holding it the camera may have taken either for up.
            return roll.takeIf { abs(it) < SURE * QUARTER }
        }

        private fun square(v: Double) = v * v

        /** When the camera says that it took the photograph, epoch ms; a range, for many tell whole seconds only. */
        private fun shutter(file: File): LongRange? = try {
            taken(file.inputStream().buffered().use { ExifInterface(it) })
        } catch (expected: IOException) {
            null
        } catch (expected: ParseException) {
            null
        }

        private fun taken(exif: ExifInterface): LongRange? {
            val said = exif.getAttribute(ExifInterface.TAG_DATETIME_ORIGINAL) ?: return null
            val second = SimpleDateFormat(EXIF, Locale.ROOT).parse(said.replace(BLANK, JOINED))?.time ?: return null
            val share = exif.getAttribute(ExifInterface.TAG_SUBSEC_TIME_ORIGINAL)?.trim()?.let { "0.$it".toDoubleOrNull() }
            if (share == null) return second..second + SECOND_MS
            val at = second + (share * SECOND_MS).toLong()
            return at..at
        }

        private const val EXIF = "yyyy:MM:dd_HH:mm:ss"
        private const val BLANK = ' '
        private const val JOINED = '_'
        private const val SECOND_MS = 1000L
        private const val BESIDE_MS = 300L
        private const val QUARTER = PI / 2

        /** Differences of this share of gravity are a hand that moved, 4 degrees. */
        private const val STILL = 0.07

        /** At least this share of gravity lies along the screen: the phone looks ahead, not at the ground. */
        private const val UPRIGHT = 0.5
        private const val SURE = 0.35
    }
}
