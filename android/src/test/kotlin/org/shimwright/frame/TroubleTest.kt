package org.shimwright.frame

import android.content.ActivityNotFoundException
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.shimwright.core.Field
import org.shimwright.core.FileProblem
import org.shimwright.core.KitProblem
import org.shimwright.core.Refusal
import org.shimwright.core.WorkshopException
import org.shimwright.core.panicOnPurpose
import org.shimwright.testing.LookTest
import java.io.File
import java.sql.SQLException

class TroubleTest : LookTest() {
    private val file get() = File(app.filesDir, "bench.workshop")

    @Test
    fun `a damaged workshop is set aside, said, and an empty one opens on request`() {
        file.apply { parentFile?.mkdirs() }.writeText("no workshop at all, only words ".repeat(200))
        open()
        dressed("trouble-damaged")
        val kept = checkNotNull(file.parentFile?.listFiles()).filter { it.name != file.name && it.length() > 0 }
        assertTrue("$kept", kept.any { it.readText().startsWith("no workshop") } || file.readText().startsWith("no workshop"))
    }

    @Test
    fun `a folder where the workshop should be is said`() {
        file.mkdirs()
        open()
        see("The workshop file cannot be opened")
        see("Try again")
    }

    @Test
    fun `every error has words and a remedy`() {
        open()
        val errors = Refusal.entries.map { WorkshopException.Refused(it, "B", "") } +
            FileProblem.entries.map { WorkshopException.File(it, "/x/bench.aside", "") } +
            KitProblem.entries.map { WorkshopException.BadKit(it, "B", 4.5, "") } +
            Field.entries.map { WorkshopException.BadField(it, null, 1e9, 0.0, 10.0, "") } +
            listOf(ActivityNotFoundException(), SQLException())
        val said = errors.map { shell.troubleOf(it) }
        assertEquals(emptyList<Trouble>(), said.filter { it.what.isBlank() || it.remedy.isBlank() || "%" in it.what + it.remedy })
    }

    @Test
    fun `a defect of the core is said and the app goes on`() {
        open()
        val outcome = runCatching { core { panicOnPurpose() } }
        shell.trouble(checkNotNull(outcome.exceptionOrNull()), null)
        settle()
        see("Something went wrong that nobody foresaw")
        tap("Add a kit")
        see("Name of the kit")
    }
}
