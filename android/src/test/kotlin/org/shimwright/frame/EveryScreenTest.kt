package org.shimwright.frame

import android.os.Bundle
import android.widget.EditText
import org.junit.Assert.assertEquals
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.ParameterizedRobolectricTestRunner
import org.shimwright.core.ArrowKind
import org.shimwright.core.BackupTaken
import org.shimwright.core.CheckItem
import org.shimwright.core.SalvagedTable
import org.shimwright.core.Surface
import org.shimwright.core.usualArrow
import org.shimwright.keep.How
import org.shimwright.keep.rescuedArgs
import org.shimwright.keep.takenArgs
import org.shimwright.shoot.Shot
import org.shimwright.testing.Samples
import org.shimwright.testing.ShellTest
import org.shimwright.testing.Shots
import org.shimwright.testing.everything
import java.io.File

/** Whatever screen the system kills the app on, it comes back as it was, with what was typed and not yet saved. */
@RunWith(ParameterizedRobolectricTestRunner::class)
class EveryScreenTest(private val route: Route) : ShellTest() {
    @Test
    fun `dies and comes back as it was`() {
        openAt(route, arguments())
        fields().indices.forEach { index ->
            fields()[index].setText(TYPED)
            settle()
        }
        val before = read()
        val typed = fields().map { it.text.toString() }
        dieAndReturn()
        assertEquals(before, read())
        assertEquals(typed, fields().map { it.text.toString() })
        assertEquals(typed.size, typed.count { it == TYPED })
    }

    private fun fields() = root.everything().filterIsInstance<EditText>()

    private fun arguments(): Bundle {
        val (kit, bows) = core { Samples.fill(it, NOW_MS) }
        val (alder, heron, swapping) = bows
        val trial = core { Shots.shoot(it, heron, Shots.face(61.0), NOW_MS) }.id
        val about = args(Arg.BOW to heron)
        return when (route) {
            Route.RACK, Route.BENCH, Route.KITS, Route.SETTINGS, Route.ABOUT, Route.LICENCES, Route.WELCOME -> Bundle()
            Route.KEEP, Route.BACKUP, Route.RESTORE, Route.MERGE, Route.STORAGE, Route.RESCUE -> Bundle()
            Route.TAKEN -> takenArgs(How.MERGED, BackupTaken(NOW_MS, 2u, 1u, "/x/bench.workshop.replaced-1"), null)
            Route.RESCUED -> rescuedArgs(listOf(SalvagedTable("trial", 12u, 3u, false), SalvagedTable("clock", 1u, 0u, false)))
            Route.CHECK -> args(Arg.BOW to alder, Arg.CHECK to CheckItem.BRACE_HEIGHT.name)
            Route.KIT -> args(Arg.KIT to kit)
            Route.ARROWS, Route.ARROW -> args(Arg.BOW to heron, Arg.ARROW to arrow(heron))
            Route.PHOTO -> shot(heron).asArgs(photograph())
            Route.TYPED -> shot(heron).asArgs(null)
            Route.VERDICT -> args(Arg.BOW to heron, Arg.VERDICT to core { it.giveVerdict(heron, NOW_MS) }.id)
            Route.SWAP -> args(Arg.BOW to swapping)
            Route.TRIAL, Route.CORRECT, Route.PICTURE -> args(Arg.TRIAL to trial)
            Route.BOW, Route.REMEMBER, Route.DETAILS, Route.FITTED, Route.CHECKS, Route.CHANGE -> about
            Route.SHOOT, Route.HISTORY, Route.SHARE -> about
        }
    }

    private fun arrow(bow: Long) = core { it.saveArrowSetup(bow, null, "Field", usualArrow()) }.id

    private fun shot(bow: Long) = Shot(bow, Surface.FACE, 18.0, "", ArrowKind.entries.associateWith { 3 }, null)

    private fun photograph(): String {
        val name = "$NOW_MS-0.jpg"
        File("../demo/photos/before.jpg").copyTo(app.filesDir.resolve("photos").resolve(name))
        return name
    }

    companion object {
        private const val TYPED = "7"

        @JvmStatic
        @ParameterizedRobolectricTestRunner.Parameters(name = "{0}")
        fun routes() = Route.entries.map { arrayOf<Any>(it) }
    }
}
