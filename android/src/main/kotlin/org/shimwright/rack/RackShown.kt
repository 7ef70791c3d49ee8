package org.shimwright.rack

import org.shimwright.core.Workshop

/**
 * The rack through the sieve that was [asked] for. One that lets nothing through gives way to the whole rack, and a rack whose
 * bows are all off it shows those: a list is empty only where there is nothing to show.
 */
internal fun rackShown(workshop: Workshop, search: String, asked: Sieve, nowMs: Long): RackState {
    val off = workshop.offTheRack("").size
    val wanted = rackState(workshop, search, asked, nowMs)
    val shown = when {
        search.isNotBlank() || wanted.lines.isNotEmpty() -> wanted
        wanted.counts[Sieve.ALL] == 0 && off > 0 -> rackState(workshop, search, Sieve.OFF, nowMs)
        else -> rackState(workshop, search, Sieve.ALL, nowMs)
    }
    return shown.copy(counts = shown.counts + (Sieve.OFF to off))
}

/** Whether there are bows, but none on the rack. */
internal val RackState.allOff get() = search.isBlank() && counts[Sieve.ALL] == 0 && lines.isNotEmpty()
