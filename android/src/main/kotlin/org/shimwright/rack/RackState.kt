package org.shimwright.rack

import org.shimwright.core.Fitting
import org.shimwright.core.RackRow
import org.shimwright.core.Scene
import org.shimwright.core.Waits
import org.shimwright.core.Workshop
import org.shimwright.core.WorkshopException
import org.shimwright.kit.Units
import org.shimwright.kit.isDone
import org.shimwright.kit.units

/** One bow of the list; [tile] is the small drawing of both axles, where something is fitted. */
data class RackLine(val row: RackRow, val tile: Scene?)

/** Which bows show. The names are written into saved state: rename none. */
enum class Sieve {
    ALL,
    HALF_DONE,
    TO_DO,
    SETTLED,
    OFF,
    ;

    fun lets(row: RackRow) = when (this) {
        ALL, OFF -> true
        HALF_DONE -> row.waits is Waits.SwapHalfDone
        TO_DO -> row.waits !is Waits.SwapHalfDone && !row.waits.isDone
        SETTLED -> row.waits.isDone
    }
}

/** The rack as it shows: the bows that match [search] and pass the [sieve], open on the press first, then last used. */
data class RackState(
    val search: String,
    val sieve: Sieve,
    val lines: List<RackLine>,
    /** How many bows each sieve lets through, whatever is searched for. */
    val counts: Map<Sieve, Int>,
    val kits: Int,
    val units: Units,
    val nowMs: Long,
) {
    val empty get() = lines.isEmpty() && search.isBlank() && sieve == Sieve.ALL
}

/** Reads the rack; the few fittings that a kit allows are drawn once each. */
fun rackState(workshop: Workshop, search: String, sieve: Sieve, nowMs: Long): RackState {
    val tiles = HashMap<Pair<Long, Fitting>, Scene?>()
    val rack = workshop.rack(search)
    val whole = if (search.isBlank()) rack else workshop.rack("")
    val shown = if (sieve == Sieve.OFF) workshop.offTheRack(search) else rack.filter(sieve::lets)
    val lines = shown.map { row ->
        val tile = row.fitted?.let { entry ->
            tiles.getOrPut(entry.kitId to entry.fitting) { tile(workshop, entry.kitId, entry.fitting) }
        }
        RackLine(row, tile)
    }
    val counts = (Sieve.entries - Sieve.OFF).associateWith { one -> whole.count(one::lets) }
    return RackState(search, sieve, lines, counts, workshop.kits().size, workshop.units(), nowMs)
}

/** The drawing of one fitting; none where a kit in the file no longer checks out: the list must show all the same. */
private fun tile(workshop: Workshop, kitId: Long, fitting: Fitting): Scene? = try {
    workshop.tileScene(kitId, fitting)
} catch (_: WorkshopException.BadKit) {
    null
}
