package org.shimwright.rack

import org.shimwright.core.Fitting
import org.shimwright.core.RackRow
import org.shimwright.core.Scene
import org.shimwright.core.Workshop
import org.shimwright.core.WorkshopException
import org.shimwright.kit.Units
import org.shimwright.kit.units

/** One bow of the list; [tile] is the small drawing of both axles, where something is fitted. */
data class RackLine(val row: RackRow, val tile: Scene?)

/** The rack as it shows: the bows that match [search], last used first. */
data class RackState(val search: String, val lines: List<RackLine>, val kits: Int, val units: Units, val nowMs: Long)

/** Reads the rack; the few fittings that a kit allows are drawn once each. */
fun rackState(workshop: Workshop, search: String, nowMs: Long): RackState {
    val tiles = HashMap<Pair<Long, Fitting>, Scene?>()
    val lines = workshop.rack(search).map { row ->
        val tile = row.fitted?.let { entry ->
            tiles.getOrPut(entry.kitId to entry.fitting) { tile(workshop, entry.kitId, entry.fitting) }
        }
        RackLine(row, tile)
    }
    return RackState(search, lines, workshop.kits().size, workshop.units(), nowMs)
}

/** The drawing of one fitting; none where a kit in the file no longer checks out: the list must show all the same. */
private fun tile(workshop: Workshop, kitId: Long, fitting: Fitting): Scene? = try {
    workshop.tileScene(kitId, fitting)
} catch (_: WorkshopException.BadKit) {
    null
}
