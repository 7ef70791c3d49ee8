package org.shimwright.bindings

import org.junit.rules.ExternalResource
import org.junit.rules.TemporaryFolder
import org.shimwright.core.ArrowKind
import org.shimwright.core.Bow
import org.shimwright.core.BowDetails
import org.shimwright.core.Fitting
import org.shimwright.core.Hand
import org.shimwright.core.KitDraft
import org.shimwright.core.KitRecord
import org.shimwright.core.PairDraft
import org.shimwright.core.PointMm
import org.shimwright.core.Probe
import org.shimwright.core.RememberedSwap
import org.shimwright.core.RestRoom
import org.shimwright.core.Seat
import org.shimwright.core.Side
import org.shimwright.core.Surface
import org.shimwright.core.TrialDraft
import org.shimwright.core.TrialImpact
import org.shimwright.core.Workshop
import java.io.File

/** A workshop with an invented kit in a folder that goes when the test ends. */
class Bench : ExternalResource() {
    private val folder = TemporaryFolder()
    val file: File get() = File(folder.root, "bench.workshop")
    lateinit var workshop: Workshop

    override fun before() {
        folder.create()
        workshop = Workshop.open(file.path)
    }

    override fun after() {
        workshop.close()
        folder.delete()
    }

    fun reopen() {
        workshop.close()
        workshop = Workshop.open(file.path)
    }

    fun kit(): KitRecord = workshop.saveKit(null, kitDraft(), emptyList())

    /** A bow fitted with pair C, thick left, its checks passed. */
    fun bow(
        kit: KitRecord = kit(),
        restRoom: RestRoom? = null,
    ): Bow {
        val bow = workshop.addBow(details(kit.id).copy(restRoom = restRoom, remembered = emptyList()), alike("C", Side.LEFT), 1_000)
        workshop.passOpenChecks(bow.id, 1_001)
        return bow
    }
}

fun pair(
    name: String,
    thin: Double,
    thick: Double,
) = PairDraft(name, thin, thick, null, null, "one dot", "two dots")

fun kitDraft() = KitDraft("Bench 4.4", 4.4, 0.05, listOf(pair("A", 1.3, 3.1), pair("B", 1.6, 2.8), pair("C", 1.9, 2.5)))

fun alike(
    pair: String,
    thick: Side,
) = Fitting(Seat(pair, thick), Seat(pair, thick))

/** Every field its own value, so that two swapped ones show. */
fun details(kitId: Long?) =
    BowDetails(
        name = "Heron",
        owner = "rack 7",
        family = "long riser",
        hand = Hand.LEFT,
        axleToAxleMm = 838.0,
        braceHeightMm = 165.5,
        drawWeightN = 289.1,
        drawLengthMm = 724.2,
        topWeight = 0.45,
        camNote = "peg 3",
        kitId = kitId,
        priority = listOf(Probe.BROADHEAD, Probe.BARE),
        toleranceMm = 22.0,
        toleranceDistanceM = 27.4,
        restRoom = RestRoom(0.7, 1.9),
        remembered = listOf(RememberedSwap(alike("A", Side.LEFT), alike("B", Side.RIGHT), -41.0, 24.0, 27.4)),
        notes = "quiet",
    )

fun hit(
    kind: ArrowKind,
    x: Double,
    y: Double,
) = TrialImpact(kind, PointMm(x, y), 1.5, null, false, null, null)

fun face(
    split: Double,
    distance: Double = 18.288,
): TrialDraft {
    val spots = listOf(-9.0 to 6.0, 7.0 to 9.0, 4.0 to -11.0, -3.0 to -5.0)
    val fletched = spots.map { (x, y) -> hit(ArrowKind.FLETCHED, x, y) }
    // Bare shafts land this much higher from a bow without a fault: they are faster and drag less.
    val bare = spots.map { (x, y) -> hit(ArrowKind.BARE, x + split, y + 12.0) }
    return TrialDraft(Surface.FACE, distance, "technician", null, fletched + bare, emptyList(), null, null, "calm")
}

fun photo(name: String): ByteArray = File(System.getProperty("photos.dir"), name).readBytes()
