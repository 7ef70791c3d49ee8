package org.shimwright.settings

import org.junit.Assert.assertTrue
import org.junit.Test
import org.shimwright.frame.Wishes
import org.shimwright.testing.LookTest
import org.shimwright.testing.Samples

class SettingsTest : LookTest() {
    private fun openSettings() {
        core { Samples.fill(it, NOW_MS) }
        open()
        tap("Bench")
        tap("Settings")
    }

    @Test
    fun `the bench`() {
        core { Samples.fill(it, NOW_MS) }
        open()
        tap("Bench")
        dieAndReturn()
        dressed("bench")
    }

    @Test
    fun `the settings`() {
        openSettings()
        tap("The axles may differ")
        dieAndReturn()
        see("Largest difference between the cams")
        dressed("settings")
    }

    @Test
    fun `inches hold on every page`() {
        openSettings()
        tap("in")
        goBack()
        goBack()
        tap("Alder 33")
        see("32.99 in")
        photographed("bow-inch")
    }

    @Test
    fun `a tolerance in other units is read and kept`() {
        openSettings()
        type("Tolerance", "wide")
        goBack()
        see("A figure is needed here")
        type("Tolerance", "2 in")
        see("= 50.8 mm")
        goBack()
        tap("Settings")
        see("50.8")
    }

    @Test
    fun `the language and camp red take effect at once`() {
        openSettings()
        tap("Deutsch")
        see("Einstellungen")
        tap("Rotlicht")
        assertTrue(Wishes.of(app).camp)
    }

    /** The comma in figures as the Unicode CLDR has it for French (from memory). */
    @Test
    fun `words and figures turn French together`() {
        openSettings()
        tap("Français")
        see("Réglages")
        goBack()
        goBack()
        tap("Alder 33")
        see("Cames 0,30\u00a0mm à gauche du milieu")
    }

    @Test
    fun `about says what can hurt and how it computes`() {
        open()
        tap("Bench")
        tap("About and cautions")
        dieAndReturn()
        dressed("about")
        tap("Understood")
        see("Bench")
    }
}
