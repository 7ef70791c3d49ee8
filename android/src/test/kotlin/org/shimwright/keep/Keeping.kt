package org.shimwright.keep

import android.app.Activity
import android.content.Intent
import android.os.Looper
import org.junit.Assert.assertEquals
import org.junit.Before
import org.robolectric.Shadows.shadowOf
import org.shimwright.core.BackupUse
import org.shimwright.core.DistanceUnit
import org.shimwright.core.LengthUnit
import org.shimwright.core.Workshop
import org.shimwright.frame.Host
import org.shimwright.kit.Page
import org.shimwright.kit.Units
import org.shimwright.testing.LookTest
import org.shimwright.testing.Papers
import org.shimwright.testing.Samples
import org.shimwright.testing.everything
import org.shimwright.testing.said
import java.io.File
import java.lang.reflect.Proxy
import java.util.concurrent.CountDownLatch

/** A test that backs up and takes backups: it answers the system's picker as a person would. */
abstract class Keeping : LookTest() {
    protected val workshopFile get() = File(app.filesDir, "bench.workshop")
    protected val photos get() = File(app.filesDir, "photos").apply { mkdirs() }

    @Before
    fun papers() = Papers.install(File(app.cacheDir, "papers"))

    /** Answers what the app asks the picker with the document [name]; nothing when null, as one who went back. */
    protected fun answer(action: String, name: String?): Intent {
        val asked = shadowOf(shell).nextStartedActivityForResult
        assertEquals(action, asked.intent.action)
        val data = name?.let { Intent().setData(Papers.address(it)) }
        shadowOf(shell).receiveResult(asked.intent, if (name == null) Activity.RESULT_CANCELED else Activity.RESULT_OK, data)
        settle()
        return asked.intent
    }

    /** Makes a backup of what is here as the document [name], past the screens. */
    protected fun backedUp(name: String) = core { shop -> write(shop, photos, Papers.file(name)) }

    /** Another phone of the shop, which took the backup [from] and then did [deeds]; its own backup is the document [to]. */
    protected fun otherPhone(from: String, to: String, deeds: (Workshop) -> Unit) {
        val folder = File(app.cacheDir, "other-phone").apply { mkdirs() }
        val shop = Workshop.openWith(File(folder, "bench.workshop").path, ByteArray(16) { 7 })
        shop.beginTaking(Papers.file(from).path, BackupUse.RESTORE, File(folder, "photos").path).use { shop.finishTaking(it) }
        deeds(shop)
        write(shop, File(folder, "photos"), Papers.file(to))
        shop.destroy()
    }

    /**
     * Answers the picker as [answer] does, but the document's app is slow: once [words] show, [deed] is done, and only then
     * does it open.
     */
    protected fun midway(action: String, name: String, words: String, deed: () -> Unit) {
        val gate = CountDownLatch(1)
        Papers.slow = gate
        val asked = shadowOf(shell).nextStartedActivityForResult
        assertEquals(action, asked.intent.action)
        shadowOf(shell).receiveResult(asked.intent, Activity.RESULT_OK, Intent().setData(Papers.address(name)))
        val deadline = System.nanoTime() + LONGEST_NS
        while (words !in read() && System.nanoTime() < deadline) {
            Thread.sleep(1)
            shadowOf(Looper.getMainLooper()).idle()
        }
        see(words)
        deed()
        gate.countDown()
        settle()
    }

    /** Presses without waiting for the worker. */
    protected fun press(words: String) {
        check(root.everything().first { it.isClickable && it.said() == words }.performClick())
    }

    /** Shows a page that [draw] fills, as it is for a moment only; its host does nothing. */
    protected fun frozen(draw: (Page, Host) -> Unit) {
        val idle = Proxy.newProxyInstance(javaClass.classLoader, arrayOf(Host::class.java)) { _, _, _ -> null } as Host
        val page = Page(shell) {}
        draw(page, idle)
        shell.setContentView(page)
        settle()
    }

    private fun write(shop: Workshop, photos: File, to: File) {
        shop.beginBackup(photos.path, NOW_MS - HOUR_MS).use { backup ->
            to.outputStream().use { out -> generateSequence { backup.nextPiece() }.forEach { out.write(it.bytes) } }
        }
    }

    protected fun openBench(fill: Boolean = true) {
        if (fill) core { Samples.fill(it, NOW_MS) }
        open()
        tap("Bench")
        tap("Backup and storage")
    }

    protected companion object {
        const val HOUR_MS = 3_600_000L
        private const val LONGEST_NS = 20_000_000_000L
        val METRIC = Units(LengthUnit.MILLIMETRE, DistanceUnit.METRE)
    }
}
