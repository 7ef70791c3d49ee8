package org.shimwright.frame

import android.content.Context
import android.view.View
import android.view.accessibility.AccessibilityManager
import android.view.accessibility.AccessibilityNodeInfo
import android.widget.EditText
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Before
import org.junit.Test
import org.robolectric.Shadows.shadowOf
import org.shimwright.core.FittingReason
import org.shimwright.core.Side
import org.shimwright.kit.SceneView
import org.shimwright.testing.Samples
import org.shimwright.testing.ShellTest
import org.shimwright.testing.everything
import org.shimwright.testing.said

/** Where a screen reader stands after what was pressed has drawn the screen anew. */
class ReaderTest : ShellTest() {
    @Before
    fun readerOn() {
        val manager = shadowOf(app.getSystemService(Context.ACCESSIBILITY_SERVICE) as AccessibilityManager)
        manager.setEnabled(true)
        manager.setTouchExplorationEnabled(true)
    }

    /** Moves the reader to what says [words], as its user does by a swipe. */
    private fun standOn(words: String) {
        val view = root.everything().first { it.isShown && it.said() == words }
        assertTrue(view.performAccessibilityAction(AccessibilityNodeInfo.ACTION_ACCESSIBILITY_FOCUS, null))
    }

    private fun reading(): View? = root.everything().find { it.isAccessibilityFocused }

    private fun press(words: String) {
        standOn(words)
        tap(words)
    }

    @Test
    fun `a choice and a count stay under the reader`() {
        core { Samples.fill(it, NOW_MS) }
        open()
        tap("Heron")
        tap("Record shots")
        press("one more: broadhead")
        assertEquals("one more: broadhead", reading()?.said())
        press("paper")
        assertEquals("paper", reading()?.said())
    }

    @Test
    fun `what is unfolded is read next`() {
        open()
        tap("Add a kit")
        press("Name, marks and count (optional)")
        assertEquals("Name of the pair", reading()?.said())
    }

    @Test
    fun `a step confirmed leads to the first words of the next`() {
        core {
            val bow = Samples.fill(it, NOW_MS).second[1]
            it.startSwap(bow, Samples.both("C", Side.RIGHT), FittingReason.OWN_CHOICE, null, NOW_MS)
        }
        open()
        tap("Heron")
        tap("Go on with the swap")
        rest(A_READ_MS)
        press("Done, next")
        see("Look the bow over for damage")
        assertEquals("Take care", reading()?.said())
        press("All steps")
        assertEquals("1. Put every arrow away (done)", reading()?.said())
    }

    @Test
    fun `what cannot be read takes the focus, and so does an error`() {
        core { Samples.fill(it, NOW_MS) }
        open()
        tap("Bench")
        tap("Kits and stock")
        tap("Change kit Workbench 4.4")
        typeInto("thick1", "much")
        press("Save")
        val field = root.findViewWithTag<EditText>("thick1")
        assertTrue(field.isFocused)
        assertEquals(field, reading())
        typeInto("thick1", "2.9")
        press("Save")
        assertEquals("Pair B adds up to 4.50 mm, not to the kit’s total", reading()?.said())
    }

    @Test
    fun `every drawing of a swap is told in words`() {
        core {
            val bow = Samples.fill(it, NOW_MS).second[1]
            it.startSwap(bow, Samples.both("C", Side.RIGHT), FittingReason.OWN_CHOICE, null, NOW_MS)
        }
        open()
        tap("Heron")
        tap("Go on with the swap")
        var drawn = 0
        while ("To the bow" !in read().lines()) {
            val drawings = root.everything().filterIsInstance<SceneView>().filter { it.isShown }
            drawings.forEach { assertTrue("no words for the drawing on:\n${read()}", !it.contentDescription.isNullOrBlank()) }
            drawn += drawings.size
            check(confirmStep()) { "no way on from:\n${read()}" }
        }
        assertTrue("$drawn drawings", drawn > 2)
    }

    @Test
    fun `the cards of a screen are headings to jump along`() {
        open()
        tap("Add a kit")
        val headings = root.everything().filter { it.isAccessibilityHeading }.mapNotNull { it.said() }
        assertEquals(listOf("New kit", "pair A", "pair B", "pair C"), headings)
    }

    private companion object {
        const val A_READ_MS = 1000L
    }
}
