package org.shimwright.home

import android.content.Intent
import android.content.pm.ShortcutManager
import android.view.View
import android.widget.FrameLayout
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.Shadows.shadowOf
import org.shimwright.core.CheckItem
import org.shimwright.core.CheckState
import org.shimwright.core.SetupCheck
import org.shimwright.testing.LookTest
import org.shimwright.testing.Samples
import org.shimwright.testing.everything
import org.shimwright.testing.said

class HomeTest : LookTest() {
    @Test
    fun `a shortcut opens what is fitted in one tap`() {
        core { Samples.fill(it, NOW_MS) }
        catchUpHome(app)
        open()
        val shortcuts = app.getSystemService(ShortcutManager::class.java).dynamicShortcuts
        assertEquals(setOf("Alder 33", "Heron", "Club loan 4", "Marsh hen"), shortcuts.map { it.shortLabel }.toSet())
        open(checkNotNull(shortcuts.first { it.shortLabel == "Heron" }.intent))
        see("Pair B, thick side left, on both axles")
        goBack()
        see("4 bows")
    }

    @Test
    fun `the widget shows what is fitted and opens the bow in one tap`() {
        core { Samples.fill(it, NOW_MS) }
        open()
        val recent = core { RecentBows.read(it, NOW_MS) }
        val views = widget(shell, recent).apply(shell, FrameLayout(shell))
        val row = views.everything().first { it.said() == "Heron" }
        generateSequence(row) { it.parent as? View }.first { it.isClickable }.performClick()
        val started: Intent = shadowOf(app).nextStartedActivity
        open(started)
        see("Pair B, thick side left, on both axles")
    }

    @Test
    fun `a bow open on the press says so outside of the app, too`() {
        core { Samples.fill(it, NOW_MS) }
        open()
        val recent = core { RecentBows.read(it, NOW_MS) }
        val said = widget(shell, recent).apply(shell, FrameLayout(shell)).everything().mapNotNull { it.said() }
        assertEquals("first of all", "Club loan 4", recent.lines.first().row.name)
        assertEquals("Open on the press: do not draw, do not shoot", said[said.indexOf("Club loan 4") + 1])
        catchUpHome(app)
        settle()
        val shortcuts = app.getSystemService(ShortcutManager::class.java).dynamicShortcuts
        val long = shortcuts.first { it.shortLabel == "Club loan 4" }.longLabel.toString()
        assertTrue(long, long.endsWith("Open on the press: do not draw, do not shoot"))
    }

    @Test
    fun `a bow with a damaged limb says so outside of the app, too`() {
        val heron = core { Samples.fill(it, NOW_MS) }.second[1]
        core { it.answerCheck(heron, SetupCheck(CheckItem.LIMB_DAMAGE, CheckState.FAILED, null, "", null), NOW_MS) }
        open()
        val recent = core { RecentBows.read(it, NOW_MS) }
        val said = widget(shell, recent).apply(shell, FrameLayout(shell)).everything().mapNotNull { it.said() }
        assertEquals("not OK: Limb damage", said[said.indexOf("Heron") + 1])
    }

    @Test
    fun `a bow that is gone is said, not a crash`() {
        open(wayToBow(app, 404))
        see("It is no longer there")
    }
}
