package org.shimwright.share

import android.app.AlertDialog
import android.content.DialogInterface
import android.content.Intent
import android.net.Uri
import android.os.Looper
import org.junit.Assert.assertArrayEquals
import org.junit.Assert.assertEquals
import org.junit.Assert.assertThrows
import org.junit.Before
import org.junit.Test
import org.robolectric.Shadows.shadowOf
import org.robolectric.shadows.ShadowAlertDialog
import org.shimwright.R
import org.shimwright.core.PhotoRef
import org.shimwright.frame.Said
import org.shimwright.frame.foreign
import org.shimwright.frame.takeIn
import org.shimwright.photo.PhotoShelf
import org.shimwright.testing.Papers
import org.shimwright.testing.Photographing
import org.shimwright.testing.Samples
import org.shimwright.testing.Shots
import java.io.File
import java.io.IOException
import java.io.InputStream

/** A picture that another app hands in: from its own documents alone, of a size that a camera writes, whole or not at all. */
class SharedInTest : Photographing() {
    private val photos get() = File(app.filesDir, "photos")

    @Before
    fun papers() = Papers.install(File(app.cacheDir, "papers"))

    /** Shares [picture] with the app and chooses its bow. */
    private fun shared(picture: Uri) {
        core { Samples.fill(it, NOW_MS) }
        open(Intent(Intent.ACTION_SEND).setType("image/jpeg").putExtra(Intent.EXTRA_STREAM, picture))
        tap("Heron")
        type("Distance", "18")
        tap("Measure the shared picture")
    }

    private fun refusedAs(words: String) {
        see(words)
        assertEquals(emptyList<String>(), photos.list().orEmpty().toList())
    }

    @Test
    fun `a picture of another app is measured`() {
        Papers.file("target.jpg").writeBytes(demo("before.jpg"))
        shared(Papers.address("target.jpg"))
        see("6 of 6 found")
    }

    @Test
    fun `a picture that is on record is measured again only where that is meant`() {
        Papers.file("target.jpg").writeBytes(demo("before.jpg"))
        core { shop ->
            val bow = Samples.fill(shop, NOW_MS).second[1]
            photos.mkdirs()
            photos.resolve("$NOW_MS-9.jpg").writeBytes(demo("before.jpg"))
            Shots.shoot(shop, bow, Shots.face(61.0).copy(photo = PhotoRef("$NOW_MS-9.jpg", 4000u, 3000u)), NOW_MS)
        }
        open(Intent(Intent.ACTION_SEND).setType("image/jpeg").putExtra(Intent.EXTRA_STREAM, Papers.address("target.jpg")))
        tap("Heron")
        tap("Measure the shared picture")
        val dialog = ShadowAlertDialog.getLatestDialog() as AlertDialog
        see("Measure the shared picture")
        dialog.getButton(DialogInterface.BUTTON_POSITIVE).performClick()
        shadowOf(Looper.getMainLooper()).idle()
        settle()
        see("6 of 6 found")
    }

    @Test
    fun `a file address is refused`() {
        val own = core { app.filesDir.resolve("bench.workshop") }
        shared(Uri.fromFile(own))
        refusedAs("This file cannot be taken")
        photographed("shared-refused")
    }

    @Test
    fun `our own providers are refused, however they are written`() {
        for (authority in listOf("org.shimwright.photos", "org.shimwright.shared", "0@org.shimwright.photos", "ORG.shimwright.shared")) {
            val address = Uri.parse("content://$authority/$NOW_MS-0.jpg")
            val refused = assertThrows(authority, Said::class.java) { app.foreign(address) }
            assertEquals(R.string.foreign_refused, refused.what)
        }
        shared(Uri.parse("content://org.shimwright.photos/$NOW_MS-0.jpg"))
        refusedAs("This file cannot be taken")
    }

    @Test
    fun `other schemes are refused, and other apps of like name are not`() {
        val odd = listOf("http://a/x.jpg", "android.resource://org.shimwright/1", "data:image/jpeg;base64,A", "x.jpg", "CONTENT://a")
        for (address in odd) assertThrows(address, Said::class.java) { app.foreign(Uri.parse(address)) }
        for (address in listOf("content://org.shimwrights.photos/1", "content://com.org.shimwright/1")) app.foreign(Uri.parse(address))
    }

    @Test
    fun `more than 64 MiB is refused, and nothing of it stays`() {
        Papers.file("huge.jpg").outputStream().use { out -> repeat(65) { out.write(ByteArray(1 shl 20)) } }
        shared(Papers.address("huge.jpg"))
        refusedAs("This picture is larger than 64 MB")
    }

    @Test
    fun `a picture that ends early leaves nothing under its name`() {
        val to = PhotoShelf(app).file("$NOW_MS-0.jpg")
        val torn = object : InputStream() {
            private var left = 100_000

            override fun read() = if (left-- > 0) 7 else throw IOException("gone")
        }
        assertThrows(IOException::class.java) { takeIn(torn, to, 1L shl 20) }
        assertEquals(emptyList<String>(), photos.list().orEmpty().toList())
        takeIn(ByteArray(5) { 1 }.inputStream(), to, 5)
        assertArrayEquals(ByteArray(5) { 1 }, to.readBytes())
        assertThrows(Said::class.java) { takeIn(ByteArray(6).inputStream(), PhotoShelf(app).file("$NOW_MS-1.jpg"), 5) }
    }

    @Test
    fun `a picture that is gone is said`() {
        shared(Papers.address("never.jpg"))
        refusedAs("The picture cannot be read")
    }
}
