package org.shimwright.share

import android.content.Intent
import android.net.Uri
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertNotEquals
import org.junit.Assert.assertThrows
import org.junit.Assert.assertTrue
import org.junit.Test
import org.shimwright.core.Paper
import org.shimwright.testing.Handed
import org.shimwright.testing.LookTest
import org.shimwright.testing.Samples
import org.shimwright.testing.Shots
import java.io.File
import java.io.FileNotFoundException
import javax.imageio.ImageIO

class ShareTest : LookTest() {
    private fun openHeron(name: String = "Heron") {
        val heron = core { Samples.fill(it, NOW_MS) }.second[1]
        core { shop ->
            shop.saveBow(heron, shop.bowPage(heron).bow.details.copy(name = name), null, NOW_MS)
            Shots.shoot(shop, heron, Shots.face(61.0), NOW_MS)
        }
        open()
        tap(name)
        tap("Share")
    }

    private fun read(uri: Uri) = checkNotNull(app.contentResolver.openInputStream(uri)).use { it.readBytes().decodeToString() }

    @Test
    fun `every arrow as a table, lent to one app and to be read alone`() {
        openHeron()
        dieAndReturn()
        dressed("share")
        tap("Every arrow as a table")
        val send = Handed.by(shell)
        val uri = send.address
        assertEquals(Intent.ACTION_SEND, send.intent.action)
        assertEquals("text/csv", send.intent.type)
        assertEquals(Intent.FLAG_GRANT_READ_URI_PERMISSION, send.intent.flags)
        assertEquals(uri, send.intent.clipData?.getItemAt(0)?.uri)
        assertEquals("org.shimwright.shared", uri.authority)
        assertEquals("Heron arrows 2026-10-14.csv", uri.lastPathSegment)
        // RFC 4180: lines end in CR LF; a header and eight arrows.
        assertEquals(9, read(uri).trimEnd().split("\r\n").size)
        for (mode in listOf("w", "rw", "wt", "wa")) {
            assertThrows(mode, FileNotFoundException::class.java) { app.contentResolver.openFileDescriptor(uri, mode) }
        }
    }

    @Test
    fun `the tune sheet as PDF and as a picture, in the words of the screen`() {
        openHeron()
        tap("Tune sheet as PDF")
        val pdf = Handed.by(shell)
        assertEquals("application/pdf", pdf.intent.type)
        assertEquals("Heron 2026-10-14.pdf", pdf.address.lastPathSegment)
        val bytes = checkNotNull(app.contentResolver.openInputStream(pdf.address)).use { it.readBytes() }
        // ISO 32000-1, 7.5.2: a PDF file begins with its version.
        assertTrue(bytes.decodeToString(0, 5) == "%PDF-" && bytes.size > 10_000)
        File("target/looks").mkdirs()
        File("target/looks/tune-sheet.pdf").writeBytes(bytes)
        tap("Tune sheet as a picture")
        val picture = Handed.by(shell)
        assertEquals("image/png", picture.intent.type)
        val drawn = checkNotNull(ImageIO.read(checkNotNull(app.contentResolver.openInputStream(picture.address))))
        assertEquals(1240, drawn.width)
        ImageIO.write(drawn, "png", File("target/looks/tune-sheet.png"))
        reconfigure("de-rDE-w411dp-h891dp-port-notnight-hdpi")
        tap("Einstellblatt als Bild")
        val german = checkNotNull(ImageIO.read(checkNotNull(app.contentResolver.openInputStream(Handed.by(shell).address))))
        ImageIO.write(german, "png", File("target/looks/tune-sheet-german.png"))
        tap("Alle Versuche als Tabelle")
        assertEquals(2, read(Handed.by(shell).address).trimEnd().split("\r\n").size)
    }

    @Test
    fun `paper is that of the country`() {
        assertEquals(listOf(Paper.LETTER, Paper.A4, Paper.A4, Paper.A4), listOf("US", "DE", "GB", "").map(::paperOf))
    }

    @Test
    fun `a name of a bow leads nowhere else, and each loan has an address of its own`() {
        openHeron("../../files/bench.workshop \u0000 ✓ 4")
        tap("Every arrow as a table")
        val first = Handed.by(shell).address
        tap("Every arrow as a table")
        val second = Handed.by(shell).address
        assertNotEquals(first, second)
        assertFalse(first.lastPathSegment.orEmpty().any { it in "/\\\u0000" })
        assertTrue(read(first) == read(second))
    }

    @Test
    fun `nothing but what was lent is given`() {
        openHeron()
        tap("Every arrow as a table")
        val uri = Handed.by(shell).address
        val own = app.filesDir.resolve("bench.workshop")
        assertTrue(own.isFile)
        val loan = uri.pathSegments[0]
        val tries = listOf(
            listOf("..", "..", "files", "bench.workshop"),
            listOf("..", "bench.workshop"),
            listOf(loan, "../../../files/bench.workshop"),
            listOf("../../files", "bench.workshop"),
            listOf(own.path, "bench.workshop"),
            listOf(loan),
            listOf(loan, "other.csv"),
            emptyList(),
        )
        for (path in tries) {
            val address = path.fold(Uri.Builder().scheme("content").authority(uri.authority)) { to, part -> to.appendPath(part) }.build()
            assertThrows("$address", FileNotFoundException::class.java) { app.contentResolver.openInputStream(address) }
        }
    }
}
