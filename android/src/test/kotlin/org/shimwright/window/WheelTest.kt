package org.shimwright.window

import android.os.Bundle
import android.widget.ScrollView
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.shimwright.frame.Route
import org.shimwright.testing.ShellTest
import org.shimwright.testing.everything

class WheelTest : ShellTest() {
    @Test
    fun `a turned wheel scrolls the page under the mouse`() {
        openAt(Route.ABOUT, Bundle())
        val panes = Panes()
        panes.picture(shell.resources.displayMetrics)
        val scroll = root.everything().filterIsInstance<ScrollView>().single()
        panes.turn(-2f, 200f, 500f)
        settle()
        assertTrue("scrolled ${scroll.scrollY}", scroll.scrollY > 0)
        panes.turn(3f, 200f, 500f)
        settle()
        assertEquals(0, scroll.scrollY)
    }
}
