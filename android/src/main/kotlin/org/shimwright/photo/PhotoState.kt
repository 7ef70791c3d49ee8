package org.shimwright.photo

import android.os.Bundle
import org.shimwright.core.ArrowKind
import org.shimwright.core.Looked
import org.shimwright.core.PlaneFacts
import org.shimwright.core.PointPx
import org.shimwright.core.Proposal
import org.shimwright.core.Surface
import org.shimwright.core.Trace
import org.shimwright.core.TraceKind
import org.shimwright.core.Workshop
import org.shimwright.kit.Reading
import org.shimwright.kit.Units
import org.shimwright.kit.typed
import org.shimwright.kit.units
import org.shimwright.shoot.Shot
import kotlin.math.hypot

/** A photograph and everything said and found about it. */
sealed interface PhotoState {
    /** It cannot be measured in. */
    class Refused(val why: Throwable) : PhotoState

    data class OnBench(
        val picture: Picture,
        val shot: Shot,
        val known: Known,
        val points: List<PointPx>,
        val facts: PlaneFacts?,
        val problem: Throwable?,
        val outline: List<Trace>,
        val marking: Boolean,
        val seen: List<Seen>,
        val kind: ArrowKind,
        val chosen: Int?,
        val canUndo: Boolean,
        val canRedo: Boolean,
        /** Where the core sees further holes; null until it is asked. */
        val proposals: List<Proposal>?,
        /** Arrows that stand in the face, once the core has looked over it. */
        val standing: List<Trace>,
        val shaftMm: Double,
        val units: Units,
        /** What was found by itself, while nobody has said anything. */
        val looked: Looked?,
        /** Whether the person has said what is of known size, or agreed to what was found. */
        val said: Boolean,
        /** Holes found by themselves that are not among the kept marks yet; they are in [seen]. */
        val adopted: List<Mark>?,
        /** How many arrows were planned, and how many more the person asked for. */
        val planned: Int,
        /** The keys of fields whose text is no length. */
        val unreadable: Set<String>,
    ) : PhotoState {
        val paper get() = shot.surface == Surface.PAPER

        /** Whether nothing of known size was found, and nobody has said what there is. */
        val nothing get() = facts == null && problem == null && looked == null && !said
        val found get() = seen.count { it.found }

        /** Marks of which nobody has said yet what arrow made them. */
        val open get() = seen.indices.filter { seen[it].mark.open }

        /** Whether as many are marked as were shot: a tap then marks no further one by mistake. */
        val full get() = seen.size >= planned

        /** The open marks in two groups, where exactly two kinds were shot and all their holes are there. */
        val grouping: Grouping? get() = if (adopted == null && open.isEmpty()) null else grouping(this)

        /** Marks that cannot be saved: outside the sheet, or tears nobody has read. */
        val unread get() = seen.indices.filter { seen[it].impact == null && seen[it].tear?.accepted != true }
    }
}

internal object PhotoKey {
    const val MARKING = "marking"
    const val KIND = "kind"
    const val CHOSEN = "chosen"
    const val PROPOSE = "propose"
    const val SHAFT = "shaft"
    const val VIEW = "view"
    const val VIEW_OF_MARKS = "view_of_marks"

    /** Whether the core has been asked for holes by itself. */
    const val ASKED = "asked"

    /** Arrows marked beyond those planned. */
    const val EXTRA = "extra"
}

/** The mark chosen among [marks], or while the known part is being told the corner chosen. */
private fun chosen(kept: Bundle, marks: List<Mark>?): Int? =
    kept.getInt(PhotoKey.CHOSEN, -1).takeIf { if (marks == null) it >= 0 else it in marks.indices }

internal fun onBench(workshop: Workshop, bench: PhotoBench, shot: Shot, kept: Bundle): PhotoState.OnBench {
    val units = workshop.units()
    val said = kept.containsKey(Known.KIND)
    val looked = if (said) null else bench.look(usual(workshop, shot.bowId))
    val told = Bundle(kept).apply { looked?.let { keep(this, it.reference) } }
    val known = Known.of(told)
    val fit = if (said || looked != null) bench.fitOne(known.references(told, units)) else null
    val facts = fit?.getOrNull()
    val outline = facts?.let { bench.session.referenceTraces() }.orEmpty()
    val marking = facts != null && kept.getBoolean(PhotoKey.MARKING, looked?.sure == true)
    val shaftMm = shaft(workshop, shot, kept, units)
    val ownShaftMm = arrowsShaft(workshop, shot)
    val marks = Marks(kept)
    val adopted = if (marking) adopted(bench, shot, marks, kept) else null
    val all = adopted ?: marks.all
    val seen = all.takeIf { marking }.orEmpty().map { bench.seen(it, shot, shaftMm, ownShaftMm) }
    return PhotoState.OnBench(
        picture = bench.picture,
        shot = shot,
        known = known,
        points = places(known, outline, bench.picture),
        facts = facts,
        problem = fit?.exceptionOrNull(),
        outline = outline,
        marking = marking,
        seen = seen,
        kind = kept.getString(PhotoKey.KIND)?.let(ArrowKind::valueOf) ?: shot.kinds.first(),
        chosen = chosen(kept, all.takeIf { marking }),
        canUndo = marks.canUndo,
        canRedo = marks.canRedo,
        proposals = if (marking && kept.getBoolean(PhotoKey.PROPOSE)) further(bench.propose().holes, seen) else null,
        standing = if (marking) standing(bench, shot) else emptyList(),
        shaftMm = shaftMm,
        units = units,
        looked = looked,
        said = said,
        adopted = adopted,
        planned = shot.counts.values.sum() + kept.getInt(PhotoKey.EXTRA),
        unreadable = unreadable(kept, units),
    )
}

/** What was typed as a length and is none, by its field: it counts as not typed. */
private fun unreadable(kept: Bundle, units: Units): Set<String> {
    val reading = Reading(units)
    for (key in listOf(Known.WIDE, Known.HIGH, Known.APART, PhotoKey.SHAFT)) reading.length(key, kept.typed(key))
    return reading.wrong
}

private fun PhotoBench.seen(mark: Mark, shot: Shot, shaftMm: Double, ownShaftMm: Double?) =
    if (shot.surface == Surface.PAPER) tear(mark, shaftMm) else impact(mark, ownShaftMm)

/** The arrows that still stand in a face, once holes were looked for. */
private fun standing(bench: PhotoBench, shot: Shot) =
    if (shot.surface == Surface.FACE && bench.hasLooked) bench.propose().standing else emptyList()

/** What the bow's last photograph used: the likeliest again. */
private fun usual(workshop: Workshop, bowId: Long) =
    workshop.trials(bowId).lastOrNull { it.shot.plane?.marked != null }?.shot?.plane?.marked

/** The holes that show by themselves, as marks whose kind is open; asked for once, while nothing is marked. */
private fun adopted(bench: PhotoBench, shot: Shot, marks: Marks, kept: Bundle): List<Mark>? {
    if (shot.surface == Surface.PAPER || kept.getBoolean(PhotoKey.ASKED) || marks.all.isNotEmpty()) return null
    return bench.propose().holes.map { Mark(shot.kinds.first(), it.px, ADOPTED_SD_PX, open = true) }
}

/** The proposals that no mark stands on yet. */
private fun further(proposals: List<Proposal>, seen: List<Seen>) = proposals.filter { one ->
    seen.mapNotNull { it.impact }.none { hypot(it.xMm - one.xMm, it.yMm - one.yMm) < SAME_MM }
}

/** The shaft's diameter, mm: as typed here, as of the arrows, or a usual one. */
private fun shaft(workshop: Workshop, shot: Shot, kept: Bundle, units: Units): Double {
    Reading(units).length(PhotoKey.SHAFT, kept.typed(PhotoKey.SHAFT))?.let { return it }
    return arrowsShaft(workshop, shot) ?: USUAL_SHAFT_MM
}

/** The diameter of the arrows that were shot, mm; null where nobody entered them. */
private fun arrowsShaft(workshop: Workshop, shot: Shot): Double? =
    workshop.bowPage(shot.bowId).arrowSetups.find { it.id == shot.arrowsId }?.setup?.diameterMm

/** Where the points stand: as placed, as found, or somewhere in the picture to be dragged from. */
private fun places(known: Known, outline: List<Trace>, picture: Picture): List<PointPx> {
    val centre = if (known.kind == KnownKind.FACE) centre(outline) else null
    if (known.points.size == known.least) return listOfNotNull(centre) + known.points.drop(if (centre == null) 0 else 1)
    val found = outline.filter { it.kind == TraceKind.EDGE }.mapNotNull { it.px.firstOrNull() }
    return if (known.kind.corners && found.size == 4) found else known.first(picture)
}

/** The middle of the smallest ring that was found: what was tapped or guessed is only where it was looked for. */
private fun centre(outline: List<Trace>): PointPx? = outline.filter { it.kind == TraceKind.RING }
    .minByOrNull { ring -> ring.px.maxOf { it.xPx } - ring.px.minOf { it.xPx } }
    ?.let { ring -> PointPx(ring.px.map { it.xPx }.average(), ring.px.map { it.yPx }.average()) }

/** Where the points of a reference stand before anyone has placed them. */
internal fun Known.first(picture: Picture): List<PointPx> {
    fun at(x: Double, y: Double) = PointPx(x * picture.width, y * picture.height)
    return when (kind) {
        KnownKind.POINTS -> listOf(at(0.3, 0.5), at(0.7, 0.5))
        KnownKind.FACE -> listOf(at(0.5, 0.5), at(0.5, 0.8), at(0.5, 0.2)).take(least)
        else -> listOf(at(0.2, 0.2), at(0.8, 0.2), at(0.8, 0.8), at(0.2, 0.8))
    }
}

/** How exactly the core places what it found by itself before it is snapped, photograph px. */
private const val ADOPTED_SD_PX = 2.0
private const val SAME_MM = 3.0
private const val USUAL_SHAFT_MM = 6.0
