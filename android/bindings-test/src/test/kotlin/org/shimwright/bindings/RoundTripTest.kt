package org.shimwright.bindings

import org.junit.Assert.assertEquals
import org.junit.Assert.assertNull
import org.junit.Assert.assertTrue
import org.junit.Rule
import org.junit.Test
import org.shimwright.core.ArrowKind
import org.shimwright.core.ArrowSetup
import org.shimwright.core.Broadhead
import org.shimwright.core.ChangeKind
import org.shimwright.core.CheckItem
import org.shimwright.core.CheckState
import org.shimwright.core.DistanceUnit
import org.shimwright.core.Exclusion
import org.shimwright.core.FigureUnit
import org.shimwright.core.Fitting
import org.shimwright.core.FittingReason
import org.shimwright.core.Hand
import org.shimwright.core.KitDraft
import org.shimwright.core.LengthUnit
import org.shimwright.core.MakerRange
import org.shimwright.core.PairCount
import org.shimwright.core.PairDraft
import org.shimwright.core.Pace
import org.shimwright.core.PhotoRef
import org.shimwright.core.PlaneRecord
import org.shimwright.core.PointMm
import org.shimwright.core.PointPx
import org.shimwright.core.Reference
import org.shimwright.core.ReferenceUsed
import org.shimwright.core.Reopened
import org.shimwright.core.Seat
import org.shimwright.core.SetupChange
import org.shimwright.core.SetupCheck
import org.shimwright.core.Shape
import org.shimwright.core.Side
import org.shimwright.core.Surface
import org.shimwright.core.TrialDraft
import org.shimwright.core.TrialImpact
import org.shimwright.core.TrialTear
import org.shimwright.core.Up
import org.shimwright.core.Vanes
import org.shimwright.core.WorkshopSettings
import org.shimwright.core.figureIn
import org.shimwright.core.outsideMakerRange
import org.shimwright.core.readFigure

/** What crosses the bridge comes back as it was; every field has its own value. */
class RoundTripTest {
    @get:Rule val bench = Bench()

    @Test
    fun aKitWithItsCounts() {
        val pairs =
            listOf(
                PairDraft("A", 1.3, 3.1, 1.29, 3.12, "blue dot", "blue line"),
                PairDraft("B", 1.6, 2.8, null, 2.81, "two scratches", ""),
            )
        val draft = KitDraft("Bench", 4.41, 0.06, pairs)
        val owned = listOf(PairCount("A", 3u), PairCount("B", 1u))
        val saved = bench.workshop.saveKit(null, draft, owned)
        assertEquals(draft, saved.kit)
        bench.reopen()
        assertEquals(saved, bench.workshop.kits().single().record)
        assertEquals(owned, saved.owned)
    }

    @Test
    fun aBowWithEveryField() {
        val kit = bench.kit()
        val fitting = Fitting(Seat("A", Side.RIGHT), Seat("B", Side.LEFT))
        val bow = bench.workshop.addBow(details(kit.id), fitting, 1_234)
        bench.reopen()
        val page = bench.workshop.bowPage(bow.id)
        assertEquals(details(kit.id), page.bow.details)
        assertEquals(1_234L to 1_234L, page.bow.addedMs to page.bow.usedMs)
        assertEquals(fitting, page.fitted?.fitting)
        assertEquals(FittingReason.TAKEN_IN, page.fitted?.reason)
        val cams = page.arrangement!!
        assertEquals(-0.9, cams.topOffsetMm, 1e-9)
        assertEquals(0.6, cams.bottomOffsetMm, 1e-9)
        assertEquals(0.45 * -0.9 + 0.55 * 0.6, cams.offsetMm, 1e-9)
        assertEquals(-1.5, cams.tiltMm, 1e-9)
        assertEquals(-1.5 / 838.0, cams.tiltRad, 1e-12)
    }

    @Test
    fun aFaceWithEveryField() {
        val bow = bench.bow()
        val impacts =
            listOf(
                TrialImpact(ArrowKind.BARE, PointMm(61.5, -7.25), 0.4, PointPx(2011.5, 1033.25), true, 4, null),
                TrialImpact(ArrowKind.BROADHEAD, PointMm(-3.0, 8.0), 1.6, null, false, null, Exclusion.DAMAGED_ARROW),
            )
        val up = Up.Taps(PointPx(5.0, 6.0), PointPx(7.0, 8.0))
        val marked = Reference.Rings("target-60", listOf(1.0, 2.5), PointPx(3.0, 4.0), up)
        val plane = PlaneRecord(ReferenceUsed.Sheet(297.0, 210.0), 0.11, 0.021, -0.032, 0.004, 0.006, marked)
        val shot =
            TrialDraft(
                Surface.FACE,
                27.4,
                "owner",
                null,
                impacts,
                emptyList(),
                PhotoRef("f1.jpg", 4000u, 3000u),
                plane,
                "gusts",
            )
        val saved = bench.workshop.saveTrial(bow.id, shot, 2_000)
        bench.reopen()
        val read = bench.workshop.trial(saved.id)
        assertEquals(saved, read)
        assertEquals(shot, read.shot)
    }

    @Test
    fun paperRestAndNock() {
        val bow = bench.bow()
        bench.workshop.recordChange(bow.id, SetupChange(ChangeKind.NEW_STRING, null, "first", 1_100))
        bench.workshop.recordChange(bow.id, SetupChange(ChangeKind.REST_MOVED, -0.8, "", 1_200))
        val typed = bench.workshop.recordChange(bow.id, SetupChange(ChangeKind.NOCK_MOVED, 16.0, "", 1_300))
        val right = bench.workshop.correctChange(typed.id, typed.change.copy(valueMm = 1.6), 1_400)
        assertEquals(right, bench.workshop.change(typed.id))
        val state = bench.workshop.bowPage(bow.id).setup
        assertEquals(listOf(-0.8, 1.6), listOf(state.restMm, state.nockMm))
        assertEquals(1L, state.epoch)
        val tear = TrialTear(ArrowKind.FLETCHED, PointMm(-12.5, 3.25), 0.7, PointPx(11.0, 12.5), null)
        val shot = TrialDraft(Surface.PAPER, 1.8, "", null, emptyList(), listOf(tear), null, null, "")
        val trial = bench.workshop.saveTrial(bow.id, shot, 2_000)
        assertEquals(state, trial.setup)
        assertEquals(shot, trial.shot)
    }

    @Test
    fun arrowsAndTheirFacts() {
        val bow = bench.bow()
        val setup =
            ArrowSetup(
                shaftLengthMm = 724.0,
                diameterMm = 6.2,
                totalMassKg = 0.0262,
                shaftKgPerM = null,
                pointMassKg = 0.0065,
                insertMassKg = 0.001,
                nockMassKg = 0.0006,
                balanceMm = null,
                vanes = Vanes(3u, 51.0, 12.5, 30.5, 26.0, 0.00045),
                broadhead = Broadhead(3u, 27.5, 26.5, 0.0066),
                staticSpine = 340.0,
                speedMps = 85.5,
            )
        val saved = bench.workshop.saveArrowSetup(bow.id, null, "field", setup)
        bench.reopen()
        assertEquals(saved, bench.workshop.bowPage(bow.id).arrowSetups.single())
        assertEquals(setup, saved.setup)
        val facts = bench.workshop.arrowFacts(setup)
        assertEquals(0.0262, facts.massKg, 1e-12)
        assertEquals(0.5 * 0.0262 * 85.5 * 85.5, facts.kineticEnergyJ, 1e-9)
        assertEquals(0.005 * 0.0262, facts.massSdKg, 1e-12)
        val there = bench.workshop.arrowDownrange(setup, 18.288)
        // Free fall for the flight's time, and a little more for drag: g t^2 / 2.
        val fallMm = 0.5 * 9.80665 * there.timeS * there.timeS * 1000
        assertEquals(fallMm, there.dropMm, 0.03 * fallMm)
        assertTrue(there.speedMps < 85.5 && there.speedSdMps > 0 && there.dropSdMm > 0)
        assertEquals(0.0262 * 85.5, facts.momentumKgmps, 1e-9)
    }

    @Test
    fun settingsAndCamera() {
        val settings =
            WorkshopSettings(
                LengthUnit.INCH,
                DistanceUnit.YARD,
                Hand.LEFT,
                21.0,
                27.5,
                true,
                0.75,
                Pace.QUICK,
            )
        bench.workshop.saveSettings(settings)
        bench.reopen()
        assertEquals(settings, bench.workshop.settings())
    }

    @Test
    fun aCheckWithItsValue() {
        val bow = bench.bow()
        val check = SetupCheck(CheckItem.BRACE_HEIGHT, CheckState.FAILED, 160.5, "low", null)
        bench.workshop.answerCheck(bow.id, check, 2_345)
        val read = bench.workshop.bowPage(bow.id).checks.single { it.item == CheckItem.BRACE_HEIGHT }
        assertEquals(check.copy(atMs = 2_345), read)
        assertEquals(CheckItem.entries, bench.workshop.bowPage(bow.id).checks.map { it.item })
    }

    @Test
    fun theMakersRangeKeepsItsEndsApart() {
        val bow = bench.bow()
        val stated = MakerRange(CheckItem.BRACE_HEIGHT, 158.5, 162.25)
        assertEquals(listOf(stated), bench.workshop.saveMakerRange(bow.id, stated, 2_000).maker)
        val check = SetupCheck(CheckItem.BRACE_HEIGHT, CheckState.OK, 157.0, "", null)
        bench.workshop.answerCheck(bow.id, check, 2_345)
        val read = bench.workshop.bowPage(bow.id).checks.single { it.item == CheckItem.BRACE_HEIGHT }
        assertEquals(CheckState.FAILED, read.state)
        assertTrue(outsideMakerRange(stated, 157.0) && !outsideMakerRange(stated, 160.0))
    }

    @Test
    fun whatOpenedACheckAgainArrives() {
        val bow = bench.bow()
        bench.workshop.recordChange(bow.id, SetupChange(ChangeKind.REST_MOVED, 0.6, "", 2_000))
        val rest = bench.workshop.bowPage(bow.id).checks.single { it.item == CheckItem.REST_SOUND }
        assertEquals(Reopened.Change(ChangeKind.REST_MOVED), rest.reopened)
    }

    @Test
    fun picturesArriveWhole() {
        val kit = bench.kit()
        val scene = bench.workshop.fittingScene(kit.id, alike("A", Side.RIGHT))
        assertTrue(scene.viewWidth > 0 && scene.viewHeight > 0)
        val shapes = scene.items.map { it.shape }
        assertTrue(shapes.any { it is Shape.Label })
        assertTrue(shapes.any { it is Shape.Rect || it is Shape.Polygon })
        assertTrue(bench.workshop.tileScene(kit.id, alike("A", Side.LEFT)).items.isNotEmpty())
    }

    @Test
    fun figuresPeopleType() {
        assertEquals(1.905, readFigure(".075 in", FigureUnit.MILLIMETRE)!!, 1e-12)
        assertEquals(4.7625, readFigure("3/16", FigureUnit.INCH)!!, 1e-12)
        assertNull(readFigure("thick", FigureUnit.INCH))
        assertEquals(20.0, figureIn(18_288.0, FigureUnit.YARD), 1e-9)
    }
}
