package org.shimwright.testing

import org.junit.After
import org.robolectric.RuntimeEnvironment
import org.shimwright.frame.Wishes

/** A test that photographs a screen in every dress a phone can give it; each picture passes the [Audit] first. */
abstract class LookTest : ShellTest() {
    private enum class Dress(val qualifiers: String, val fontScale: Float = 1f, val camp: Boolean = false) {
        LIGHT(PHONE),
        DARK("en-rGB-w411dp-h891dp-port-night-hdpi"),
        CAMP(PHONE, camp = true),
        LARGE(PHONE, fontScale = 2f),
        GERMAN("de-rDE-w411dp-h891dp-port-notnight-hdpi"),

        /** Of the fullest screens only. */
        FRENCH("fr-rFR-w411dp-h891dp-port-notnight-hdpi"),
        WIDE("en-rGB-w891dp-h411dp-land-notnight-hdpi"),

        /** A language written from right to left; its words stay English until someone translates them. */
        RTL("ar-rEG-ldrtl-w411dp-h891dp-port-notnight-hdpi"),
    }

    /**
     * Photographs what the app shows now, in every dress, as `name-dress.png`; a [full] screen also in the language that
     * German does not stand for. [arrange] puts in what only shows for a moment.
     */
    protected fun dressed(name: String, full: Boolean = false, arrange: () -> Unit = {}) {
        for (dress in Dress.entries.filter { full || it != Dress.FRENCH }) {
            Wishes.of(app).camp = dress.camp
            reconfigure(dress.qualifiers, dress.fontScale)
            arrange()
            Audit.check(root, "$name in ${dress.name}")
            Contrast.check(root, "$name in ${dress.name}")
            Looks.check(shell, "$name-${dress.name.lowercase()}")
        }
        undress()
    }

    /** Photographs what the app shows now as it is: for a second state of a screen. */
    protected fun photographed(name: String) {
        Audit.check(root, name)
        Looks.check(shell, name)
    }

    @After
    fun undress() {
        Wishes.of(app).camp = false
        RuntimeEnvironment.setFontScale(1f)
        RuntimeEnvironment.setQualifiers(PHONE)
    }
}
