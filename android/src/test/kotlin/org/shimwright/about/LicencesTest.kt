package org.shimwright.about

import org.junit.Test
import org.shimwright.testing.ShellTest

/** Not photographed: every new version of a library would be another look. */
class LicencesTest : ShellTest() {
    @Test
    fun `what others wrote is named with its licence`() {
        open()
        tap("Bench")
        tap("About and cautions")
        tap("Licences")
        see("Apache License 2.0")
        see("rusqlite")
        see("Mozilla Public License 2.0")
        see("The author disclaims copyright")
        dieAndReturn()
        see("The author disclaims copyright")
    }
}
