package org.shimwright.photo

import org.shimwright.core.ArrowKind
import org.shimwright.core.PointMm
import org.shimwright.core.twoGroups

/** The open holes of a photograph in two groups, A and B; [sizesTell] where their counts say which is which. */
class Grouping(val first: ArrowKind, val second: ArrowKind, val inA: Set<Int>, val inB: Set<Int>, val sizesTell: Boolean)

/** Parts the open holes where two kinds were shot and every hole is there; null where there is nothing to part. */
internal fun grouping(state: PhotoState.OnBench): Grouping? {
    val kinds = ArrowKind.entries.filter { state.shot.counts.getValue(it) > 0 }
    val open = state.open
    if (kinds.size != 2 || open.size != state.seen.size || open.size != state.planned) return null
    val (first, second) = kinds
    val places = open.mapNotNull { index -> state.seen[index].impact?.let { PointMm(it.xMm, it.yMm) } }
    if (places.size != open.size) return null
    val wanted = state.shot.counts.getValue(first)
    val parted = twoGroups(places, wanted.toUInt()) ?: return null
    val one = open.filterIndexed { at, _ -> parted[at] }.toSet()
    val other = open.toSet() - one
    val sizesTell = wanted != state.shot.counts.getValue(second)
    // A is the left one where nothing else orders them.
    val left = sizesTell || middle(state, one) <= middle(state, other)
    return if (left) Grouping(first, second, one, other, sizesTell) else Grouping(first, second, other, one, sizesTell)
}

private fun middle(state: PhotoState.OnBench, group: Set<Int>) = group.mapNotNull { state.seen[it].impact?.xMm }.average()
