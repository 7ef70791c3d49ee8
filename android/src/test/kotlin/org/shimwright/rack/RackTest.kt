package org.shimwright.rack

import org.junit.Test
import org.shimwright.testing.LookTest

class RackTest : LookTest() {
    @Test
    fun `an empty rack teaches the first step`() {
        open()
        see("No bow on the rack yet")
        dieAndReturn()
        dressed("rack-empty")
    }
}
