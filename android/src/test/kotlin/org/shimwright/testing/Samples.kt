package org.shimwright.testing

import org.shimwright.core.BowDetails
import org.shimwright.core.Fitting
import org.shimwright.core.FittingReason
import org.shimwright.core.Hand
import org.shimwright.core.KitDraft
import org.shimwright.core.PairCount
import org.shimwright.core.PairDraft
import org.shimwright.core.RestRoom
import org.shimwright.core.Seat
import org.shimwright.core.Side
import org.shimwright.core.Workshop

/** An invented workshop: a metric kit of three pairs and four bows. */
object Samples {
    private const val DAY_MS = 86_400_000L

    private fun pair(name: String, thinMm: Double, thickMm: Double) = PairDraft(name, thinMm, thickMm, null, null, "one dot", "two dots")

    val kit = KitDraft("Workbench 4.4", 4.4, 0.05, listOf(pair("A", 1.3, 3.1), pair("B", 1.6, 2.8), pair("C", 1.9, 2.5)))

    fun seat(pair: String, thick: Side) = Seat(pair, thick)

    fun both(pair: String, thick: Side) = Fitting(Seat(pair, thick), Seat(pair, thick))

    fun bow(name: String, kitId: Long?, hand: Hand = Hand.RIGHT, owner: String = "") = BowDetails(
        name = name,
        owner = owner,
        family = "",
        hand = hand,
        axleToAxleMm = 838.0,
        braceHeightMm = 165.0,
        drawWeightN = 266.9,
        drawLengthMm = 730.0,
        topWeight = 0.5,
        camNote = "",
        kitId = kitId,
        priority = emptyList(),
        toleranceMm = null,
        toleranceDistanceM = null,
        restRoom = null,
        remembered = emptyList(),
        notes = "",
    )

    /** Leaves the rest of a bow no room, so that only the press is left. */
    fun fixRest(workshop: Workshop, bowId: Long, nowMs: Long) = roomForRest(workshop, bowId, RestRoom(0.0, 0.0), nowMs)

    fun roomForRest(workshop: Workshop, bowId: Long, room: RestRoom, nowMs: Long) {
        val details = workshop.bowPage(bowId).bow.details
        workshop.saveBow(bowId, details.copy(restRoom = room), null, nowMs)
    }

    /** Fills an empty workshop; answers the kit's id and the bows' in the order they stand on the rack. */
    fun fill(workshop: Workshop, nowMs: Long): Pair<Long, List<Long>> {
        val kit = workshop.saveKit(null, kit, listOf(PairCount("A", 3u), PairCount("B", 4u), PairCount("C", 6u))).id
        fun add(details: BowDetails, fitting: Fitting?, daysAgo: Int) = workshop.addBow(details, fitting, nowMs - daysAgo * DAY_MS).id
        val hen = add(bow("Marsh hen", kit), both("C", Side.LEFT), 72)
        val loan = add(bow("Club loan 4", kit, owner = "club"), Fitting(seat("A", Side.RIGHT), seat("C", Side.RIGHT)), 12)
        val heron = add(bow("Heron", kit), both("B", Side.LEFT), 1)
        val alder = add(bow("Alder 33", kit, Hand.LEFT, "bench"), both("C", Side.RIGHT), 0)
        workshop.startSwap(loan, both("C", Side.RIGHT), FittingReason.OWN_CHOICE, null, nowMs - 12 * DAY_MS)
        repeat(5) { workshop.swapDone(loan, nowMs - 12 * DAY_MS) }
        return kit to listOf(alder, heron, loan, hen)
    }
}
