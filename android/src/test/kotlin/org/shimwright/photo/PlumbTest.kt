package org.shimwright.photo

import android.app.Activity
import android.hardware.Sensor
import android.hardware.SensorManager
import android.media.ExifInterface
import android.net.Uri
import android.os.SystemClock
import android.provider.MediaStore
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertNull
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.Shadows.shadowOf
import org.robolectric.shadows.SensorEventBuilder
import org.robolectric.shadows.ShadowSensor
import org.shimwright.core.Reference
import org.shimwright.core.Up
import org.shimwright.testing.Photographing
import org.shimwright.testing.Samples
import java.text.SimpleDateFormat
import java.util.Locale
import kotlin.math.PI
import kotlin.math.cos
import kotlin.math.sin

/** Up by the phone's own sense of gravity, felt while the camera app holds the screen. */
class PlumbTest : Photographing() {
    private val gravity: Sensor = ShadowSensor.newInstance(Sensor.TYPE_GRAVITY)

    /** Gravity of a phone that is turned clockwise by [degrees] and looks [up] degrees upwards (the axes of SensorEvent's documentation). */
    private fun turned(degrees: Double, up: Double = 0.0): FloatArray {
        val (turn, lift) = degrees * PI / 180 to up * PI / 180
        return floatArrayOf((-G * sin(turn) * cos(lift)).toFloat(), (G * cos(turn) * cos(lift)).toFloat(), (-G * sin(lift)).toFloat())
    }

    private fun felt(atMs: Long, values: FloatArray) = Felt(atMs, values[0], values[1], values[2])

    private fun roll(vararg felt: Felt) = Plumb.rollAt(felt.toList(), SHUTTER..SHUTTER)

    @Test
    fun `up is turned against the way the phone is, in any of its four ways`() {
        for (held in listOf(0.0, 90.0, 180.0, -90.0)) {
            for (slip in listOf(0.0, 7.0, -12.0)) {
                val roll = roll(felt(SHUTTER, turned(held + slip, 20.0)))
                assertEquals("held at $held, off by $slip", -slip * PI / 180, roll!!, 1e-6)
            }
        }
    }

    @Test
    fun `what was felt too early, by a phone that moved, or that looked at the ground, tells nothing`() {
        assertNull(roll())
        assertNull("too early", roll(felt(SHUTTER - 900, turned(3.0))))
        assertNull("moved", roll(felt(SHUTTER - 200, turned(0.0)), felt(SHUTTER + 200, turned(14.0))))
        assertNull("at the ground", roll(felt(SHUTTER, turned(3.0, -75.0))))
        assertNull("half-way between two ways", roll(felt(SHUTTER, turned(43.0))))
        assertNull("nothing felt", roll(Felt(SHUTTER, 0f, 0f, 0f)))
    }

    /** The demonstration's face, as a camera that knows the time writes it. */
    private fun takenNow(): ByteArray {
        val file = java.io.File.createTempFile("face", ".jpg")
        file.writeBytes(demo("face.jpg"))
        ExifInterface(file.path).apply {
            setAttribute(
                ExifInterface.TAG_DATETIME_ORIGINAL,
                SimpleDateFormat("yyyy:MM:dd HH:mm:ss", Locale.ROOT).format(System.currentTimeMillis()),
            )
            saveAttributes()
        }
        return file.readBytes().also { file.delete() }
    }

    private fun photographFace(sensor: Boolean) {
        val sensors = shadowOf(app.getSystemService(SensorManager::class.java))
        if (sensor) sensors.addSensor(gravity)
        val bow = core { Samples.fill(it, NOW_MS) }.second.first()
        open()
        tap("Alder 33")
        tap("Record shots")
        tap("a face")
        type("Distance", "18 m")
        tap("Take a photograph")
        val asked = shadowOf(shell).nextStartedActivityForResult

        @Suppress("DEPRECATION") // The typed getter is newer than API 26.
        val lent = checkNotNull(asked.intent.getParcelableExtra<Uri>(MediaStore.EXTRA_OUTPUT))
        if (sensor) {
            assertTrue(sensors.hasListener(listener()))
            val event = SensorEventBuilder.newBuilder().setSensor(gravity).setValues(turned(4.0))
                .setTimestamp(SystemClock.elapsedRealtimeNanos()).build()
            sensors.sendSensorEventToListeners(event)
        }
        val bytes = takenNow()
        checkNotNull(app.contentResolver.openOutputStream(lent, "w")).use { it.write(bytes) }
        shadowOf(shell).receiveResult(asked.intent, Activity.RESULT_OK, null)
        settle()
        if (sensor) assertFalse("the sensor rests", sensors.hasListener(listener()))
        this.bow = bow
    }

    private var bow = 0L
    private val listeners get() = shadowOf(app.getSystemService(SensorManager::class.java)).listeners

    private fun listener() = listened ?: listeners.single().also { listened = it }

    private var listened: android.hardware.SensorEventListener? = null

    private fun saved(): Up {
        if (!read().contains("Mark the holes")) goBack()
        tap("Mark the holes")
        tap("I mark them myself")
        tapPhoto(HOLE.first, HOLE.second)
        tap("Save")
        val plane = core { it.trials(bow) }.single().shot.plane
        return (plane!!.marked as Reference.Rings).up
    }

    @Test
    fun `the photograph's own moment counts, and the record says what up rests on`() {
        photographFace(sensor = true)
        see("40 cm")
        dieAndReturn()
        see("The phone felt which way is up")
        val up = saved() as Up.Gravity
        assertEquals(-4.0 * PI / 180, up.rollRad, 1e-6)
    }

    @Test
    fun `a phone that feels nothing says that up is assumed`() {
        photographFace(sensor = false)
        see("The picture is taken to be upright")
        assertEquals(Up.Picture, saved())
    }

    private companion object {
        const val G = 9.81
        const val SHUTTER = 1_700_000_000_000L

        /** One of the holes of the demonstration's face, px. */
        val HOLE = 1929 to 1512
    }
}
