package org.shimwright.arrows

import org.junit.Assert.assertEquals
import org.junit.Test
import org.shimwright.core.usualArrow
import org.shimwright.testing.LookTest
import org.shimwright.testing.Samples

class ArrowsTest : LookTest() {
    private fun begin(): Long {
        val bow = core { Samples.fill(it, NOW_MS) }.second.first()
        open()
        tap("Alder 33")
        return bow
    }

    @Test
    fun `an arrow is described, worked out as it is typed, and shot`() {
        val bow = begin()
        tap("Arrow set-ups")
        see("No arrow is described yet")
        tap("Describe an arrow")
        see("Type the shaft’s length to see mass, balance and speed.")
        tap("Save")
        see("Give it a name")
        see("A figure is needed here: type 29 in")
        type("Name of the arrow", "Field 340")
        type("Shaft, nock throat to its end", "29 in")
        type("Arrow mass", "400")
        see("400 gr ± 4")
        type("Shaft mass for its length", "8.5 gpi")
        type("Balance point, from the nock throat", "17.98 in")
        // Worked by hand: 17.98 / 29 - 0.5 = 12 %.
        see("12.00 % ± 0.27")
        type("Static spine", "340")
        // ASTM F2031: 880 g on a span of 28 in bend it by 0.340 in.
        see("7.49 N·m²")
        see("Type the speed to see energy, momentum and drop.")
        type("Arrow speed", "280 ft/s")
        // Worked by hand: 400 gr are 25.92 g, 280 ft/s are 85.34 m/s.
        see("94.4 J ± 0.9")
        see("2.212 kg·m/s ± 0.022")
        see("Drop at 18.3 m")
        tap("I know its broadhead")
        type("Number of blades", "12")
        see("Number of blades cannot be right")
        see("Allowed is 2 to 6")
        type("Number of blades", "3")
        dieAndReturn()
        see("94.4 J ± 0.9")
        dressed("arrow")
        tap("Save")
        see("Field 340")
        dressed("arrows")
        goBack()
        see("Field 340")
        tap("Record shots")
        type("Distance", "20 yd")
        see("Which arrows")
        tap("Without a photo")
        tap("Add an arrow")
        typeInto("x0", "-12")
        typeInto("y0", "3")
        tap("Save")
        val record = core { it.bowPage(bow) }.arrowSetups.single()
        assertEquals(3u, record.setup.broadhead?.blades)
        assertEquals(736.6, record.setup.shaftLengthMm, 1e-9)
        // Worked by hand: 8.5 grains of 64.79891 mg on 25.4 mm.
        assertEquals(0.0216847, record.setup.shaftKgPerM!!, 1e-7)
        assertEquals(record.id, core { it.trials(bow) }.single().shot.arrowSetupId)
    }

    @Test
    fun `what is not touched keeps its exact value`() {
        val bow = begin()
        val setup = usualArrow().copy(shaftLengthMm = 731.23, totalMassKg = 0.0261234, speedMps = 84.321, broadhead = null)
        core { it.saveArrowSetup(bow, null, "Old", setup) }
        tap("Arrow set-ups")
        tap("Old")
        see("I know its vanes")
        type("Name of the arrow", "Older")
        tap("Save")
        val kept = core { it.bowPage(bow) }.arrowSetups.single()
        assertEquals("Older", kept.name)
        assertEquals(setup, kept.setup)
    }

    @Test
    fun `arrows put away are not offered until they are taken out again`() {
        val bow = begin()
        core { it.saveArrowSetup(bow, null, "Field 340", usualArrow()) }
        core { it.saveArrowSetup(bow, null, "Cracked", usualArrow()) }
        tap("Arrow set-ups")
        tap("Cracked")
        tap("Put these arrows away")
        see("Put away")
        dressed("arrows-away")
        goBack()
        tap("Record shots")
        see("Field 340")
        notSee("Cracked")
        goBack()
        tap("Arrow set-ups")
        tap("Cracked")
        tap("Use these arrows again")
        notSee("Put away")
        assertEquals(listOf(null, null), core { it.bowPage(bow) }.arrowSetups.map { it.archivedMs })
    }

    @Test
    fun `parts that outweigh the arrow are refused in words`() {
        begin()
        tap("Arrow set-ups")
        tap("Describe an arrow")
        type("Shaft, nock throat to its end", "736")
        type("Arrow mass", "150 gr")
        see("These figures make no arrow")
        type("Arrow mass", "26 kg of feathers")
        see("Type the shaft’s length")
    }
}
