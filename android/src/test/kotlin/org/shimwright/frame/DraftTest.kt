package org.shimwright.frame

import android.os.Bundle
import android.widget.EditText
import org.junit.Assert.assertEquals
import org.junit.Assert.assertNull
import org.junit.Test
import org.shimwright.testing.Photographing
import org.shimwright.testing.Samples
import java.io.File

/** What is typed or marked is never lost by Back, by rotation or with the process, and is offered again. */
class DraftTest : Photographing() {
    private fun openHeron() {
        core { Samples.fill(it, NOW_MS) }
        open()
        tap("Heron")
    }

    @Test
    fun `a form left by Back is filled in again, until it is saved`() {
        openHeron()
        tap("Details and kit")
        type("Owner", "club house")
        goBack()
        dieAndReturn()
        tap("Details and kit")
        see("Not saved yet")
        see("club house")
        dressed("draft-form")
        tap("Save")
        see("club house")
        tap("Details and kit")
        notSee("Not saved yet")
    }

    @Test
    fun `a form can be started anew`() {
        openHeron()
        tap("Details and kit")
        type("Owner", "club house")
        goBack()
        tap("Details and kit")
        tap("Throw away what I typed")
        notSee("club house")
        goBack()
        tap("Details and kit")
        notSee("Not saved yet")
    }

    @Test
    fun `a photograph left by Back is offered on the bow's page with its marks`() {
        openHeron()
        tap("Record shots")
        type("Distance", "18")
        photographed(demo("before.jpg"))
        tap("Group B")
        goBack()
        see("A4 found")
        goBack()
        goBack()
        see("Photograph not finished: today")
        dieAndReturn()
        dressed("bow-draft")
        tap("Go on")
        tap("Mark the holes")
        see("6 of 6 found")
        tap("Save")
        goBack()
        notSee("Photograph not finished")
    }

    @Test
    fun `what is typed survives being swiped out of the list of recent apps`() {
        openHeron()
        tap("Record shots")
        type("Distance", "18")
        tap("Without a photo")
        tap("Add an arrow")
        typeInto("x0", "12")
        // Gone without a saved state: the next start is the launcher's.
        close()
        open()
        tap("Heron")
        see("Arrows not saved yet: today")
        tap("Go on")
        assertEquals("12", root.findViewWithTag<EditText>("x0").text.toString())
    }

    @Test
    fun `work thrown away comes back by undo`() {
        openHeron()
        tap("Record shots")
        type("Distance", "18")
        tap("Without a photo")
        tap("Add an arrow")
        typeInto("x0", "12")
        goBack()
        goBack()
        see("Arrows not saved yet: today")
        tap("Throw away")
        notSee("Arrows not saved yet")
        see("Thrown away.")
        tap("Undo")
        see("Arrows not saved yet")
    }

    @Test
    fun `what a screen keeps comes back from a file as it was, and a foreign file is passed over`() {
        val kept = Bundle().apply {
            putString("text", "a “b” \n c")
            putBoolean("yes", true)
            putInt("count", 7)
            putLong("id", 1L shl 40)
            putDouble("mm", 0.1)
            putFloatArray("view", floatArrayOf(1.5f, -2f))
            putDoubleArray("points", doubleArrayOf(1e-9, 3.0))
            putStringArray("wrong", arrayOf("a", ""))
            putStringArrayList("lines", arrayListOf("b"))
            putBundle("inner", Bundle().apply { putString("deep", "c") })
        }
        val back = bundle(kept.asJson())
        assertEquals(kept.asJson().toString(), back.asJson().toString())
        assertEquals(kept.getDouble("mm"), back.getDouble("mm"), 0.0)
        val drafts = Drafts(File(app.filesDir, "drafts-test"))
        drafts.keep(Draft(Route.KIT, Bundle(), kept, NOW_MS))
        assertEquals(NOW_MS, drafts.of(Route.KIT, Bundle())?.atMs)
        checkNotNull(File(app.filesDir, "drafts-test").listFiles()).single().writeText("{ not json")
        assertNull(drafts.of(Route.KIT, Bundle()))
    }

    @Test
    fun `a full disk loses the draft and nothing else`() {
        val blocked = File(app.filesDir, "blocked").apply { writeText("a file where the folder should be") }
        Drafts(blocked).keep(Draft(Route.KIT, Bundle(), Bundle(), NOW_MS))
        assertNull(Drafts(blocked).of(Route.KIT, Bundle()))
        assertEquals("a file where the folder should be", blocked.readText())
    }
}
