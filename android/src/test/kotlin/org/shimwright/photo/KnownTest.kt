package org.shimwright.photo

import android.graphics.Bitmap
import android.graphics.Color
import android.os.Bundle
import org.junit.Assert.assertEquals
import org.junit.Test
import org.shimwright.core.PointPx
import org.shimwright.testing.Photographing
import org.shimwright.testing.Samples
import java.io.ByteArrayOutputStream

/** What a person says of the known size counts, and what was placed by hand stays. */
class KnownTest : Photographing() {
    private fun atKnown(picture: ByteArray) {
        core { Samples.fill(it, NOW_MS) }
        open()
        tap("Heron")
        tap("Record shots")
        type("Distance", "18")
        photographed(picture)
        if ("What in the picture has a known size?" !in read()) tap("Known size")
    }

    /** Whether corners stand that a person has placed: only then they can be looked for again. */
    private fun seePlaced() {
        tap("top left")
        see("Look for the corners again")
    }

    @Test
    fun `a corner that was found by itself can be moved`() {
        atKnown(demo("before.jpg"))
        see("A4 found")
        val view = photoView()
        // The sheet's upper left corner, of before.truth.json, to beyond its lower right one.
        drag(view, view.shown(PointPx(489.0, 353.0)), view.shown(PointPx(3900.0, 2900.0)))
        notSee("A4 found")
        tap("top left")
        tap("Look for the corners again")
        see("A4 found")
    }

    @Test
    fun `placed corners stay when the size or the way it lies is said otherwise`() {
        atKnown(demo("before.jpg"))
        tap("top left")
        tap("a step right")
        tap("Letter")
        seePlaced()
        tap("upright")
        seePlaced()
        notSee("found")
        tap("card")
        seePlaced()
        dieAndReturn()
        see("Look for the corners again")
    }

    @Test
    fun `a face that was found by itself can be said to be another`() {
        atKnown(demo("face.jpg"))
        see("Face of 40 cm found")
        tap("60 cm")
        notSee("Face of 40 cm found")
        tap("40 cm")
        see("Face of 40 cm found")
        tap("The picture is tilted: say with two points which way is up")
        see("lower")
    }

    @Test
    fun `before anything is said no points stand to be moved`() {
        atKnown(bare())
        see("Nothing of known size was found")
        notSee("Move a point by steps")
        photographed("photo-nothing")
        tap("card")
        see("Put the points where it is")
        see("Move a point by steps")
    }

    /** A photograph of a wall that grows lighter to one side. */
    private fun bare(): ByteArray {
        val bitmap = Bitmap.createBitmap(WIDE, HIGH, Bitmap.Config.ARGB_8888)
        val pixels = IntArray(WIDE * HIGH) { (SHADE + it % WIDE / LIGHTER_EVERY).let { grey -> Color.rgb(grey, grey, grey) } }
        bitmap.setPixels(pixels, 0, WIDE, 0, 0, WIDE, HIGH)
        return ByteArrayOutputStream().also { bitmap.compress(Bitmap.CompressFormat.JPEG, 90, it) }.toByteArray()
    }

    @Test
    fun `corners tell how a sheet lies until a person does`() {
        fun lies(wide: Double, high: Double): Boolean {
            val kept = Bundle()
            Known.keep(kept, listOf(PointPx(0.0, 0.0), PointPx(wide, 0.0), PointPx(wide, high), PointPx(0.0, high)))
            return Known.of(kept).across
        }
        // An identity card, 85.6 mm by 54 mm: ISO/IEC 7810, from memory.
        assertEquals(listOf(true, false), listOf(lies(85.6, 54.0), lies(54.0, 85.6)))
    }

    private companion object {
        const val WIDE = 800
        const val HIGH = 600
        const val SHADE = 90
        const val LIGHTER_EVERY = 16
    }
}
