package org.shimwright.bindings

import org.junit.Assert.assertEquals
import org.junit.Assert.assertThrows
import org.junit.Assert.assertTrue
import org.junit.Rule
import org.junit.Test
import org.shimwright.core.ArrowFigure
import org.shimwright.core.ArrowSetup
import org.shimwright.core.Field
import org.shimwright.core.FileProblem
import org.shimwright.core.FittingReason
import org.shimwright.core.Found
import org.shimwright.core.InternalException
import org.shimwright.core.KitProblem
import org.shimwright.core.PhotoProblem
import org.shimwright.core.Refusal
import org.shimwright.core.Side
import org.shimwright.core.StepKind
import org.shimwright.core.Workshop
import org.shimwright.core.WorkshopException
import org.shimwright.core.panicOnPurpose

/** Every error as the shell sees it: by type, with what it needs to say it in its own words. */
class RefusalTest {
    @get:Rule val bench = Bench()

    private inline fun <reified T : Throwable> refused(crossinline call: () -> Unit): T =
        assertThrows(T::class.java) { call() }

    @Test
    fun aFieldOutOfRange() {
        val error =
            refused<WorkshopException.BadField> {
                bench.workshop.addBow(details(null).copy(axleToAxleMm = 83.8), null, 1)
            }
        assertEquals(Field.AXLE_TO_AXLE, error.`field`)
        assertEquals(83.8, error.value!!, 0.0)
        assertEquals(400.0 to 1500.0, error.low to error.high)
        val empty = refused<WorkshopException.BadField> { bench.workshop.addBow(details(null).copy(name = " "), null, 1) }
        assertEquals(null, empty.value)
    }

    @Test
    fun anArrowThatCannotBe() {
        val bow = bench.bow()
        val none = ArrowSetup(724.0, 62.0, null, null, null, null, null, null, null, null, null, null)
        val error = refused<WorkshopException.BadField> { bench.workshop.saveArrowSetup(bow.id, null, "x", none) }
        assertEquals(Field.ARROW_FIGURE to ArrowFigure.DIAMETER, error.`field` to error.arrow)
    }

    @Test
    fun aKitWhoseSumIsOff() {
        val off = kitDraft().copy(pairs = listOf(pair("A", 1.3, 3.4)))
        val error = refused<WorkshopException.BadKit> { bench.workshop.saveKit(null, off, emptyList()) }
        assertEquals(KitProblem.WRONG_SUM to "A", error.problem to error.subject)
        assertEquals(4.7, error.valueMm!!, 1e-9)
    }

    @Test
    fun aMixedPairFoundInside() {
        val bow = bench.bow()
        bench.workshop.startSwap(bow.id, alike("A", Side.RIGHT), FittingReason.OWN_CHOICE, null, 2_000)
        while (bench.workshop.swapPage(bow.id).current!!.kind != StepKind.CONFIRM_FOUND) {
            bench.workshop.swapDone(bow.id, 2_001)
        }
        val error =
            refused<WorkshopException.MixedPair> {
                bench.workshop.swapFound(bow.id, Found.Pieces(1.3, 2.5), 2_002)
            }
        assertEquals(3.8, error.sumMm, 1e-9)
        assertEquals(3.1 to 1.9, error.leftPartnerMm to error.rightPartnerMm)
        val asked = refused<WorkshopException.Refused> { bench.workshop.swapDone(bow.id, 2_003) }
        assertEquals(Refusal.ANSWER_NEEDED, asked.why)
    }

    @Test
    fun whatCannotBeDoneNow() {
        val bow = bench.workshop.addBow(details(null), null, 1)
        val why = { call: () -> Unit -> refused<WorkshopException.Refused> { call() }.why }
        assertEquals(Refusal.NO_FITTING, why { bench.workshop.saveTrial(bow.id, face(40.0), 2) })
        assertEquals(Refusal.NO_KIT, why { bench.workshop.recordFitting(bow.id, alike("A", Side.LEFT), 2) })
        assertEquals(Refusal.NO_SWAP, why { bench.workshop.swapPage(bow.id) })
        assertEquals(Refusal.NOT_FOUND, why { bench.workshop.bowPage(77) })
    }

    @Test
    fun aPhotoThatIsNone() {
        val problem = { bytes: ByteArray -> refused<WorkshopException.Photo> { bench.workshop.beginPhoto(bytes) }.problem }
        assertEquals(PhotoProblem.NOT_JPEG, problem(ByteArray(0)))
        assertEquals(PhotoProblem.NOT_JPEG, problem("no photo at all".toByteArray()))
        val cut = photo("before.jpg").copyOf(200_000)
        assertTrue(problem(cut) in setOf(PhotoProblem.DAMAGED, PhotoProblem.UNUSABLE))
    }

    @Test
    fun aFileThatIsAFolder() {
        val error = refused<WorkshopException.File> { Workshop.open(bench.file.parent) }
        assertEquals(FileProblem.IS_DIRECTORY, error.problem)
    }

    @Test
    fun aDamagedFileIsKept() {
        val other = bench.file.resolveSibling("other.workshop")
        other.writeText("not a workshop, but long enough to be looked at. ".repeat(100))
        val error = refused<WorkshopException.File> { Workshop.open(other.path) }
        assertEquals(FileProblem.DAMAGED, error.problem)
        assertTrue(error.setAside!!.endsWith("other.workshop.damaged-1"))
    }

    @Test
    fun aDefectOfTheCoreIsAnException() {
        val error = refused<InternalException> { panicOnPurpose() }
        assertTrue(error.message!!.contains("panicked on purpose"))
        bench.workshop.rack("")
    }
}
