package org.shimwright.photo

import android.content.Context
import org.shimwright.R
import org.shimwright.core.ArrowKind
import org.shimwright.core.Edge
import org.shimwright.core.MeasuredImpact
import org.shimwright.core.MeasuredTear
import org.shimwright.core.NotSnapped
import org.shimwright.core.PlaneWarning
import org.shimwright.core.ReadAs
import org.shimwright.core.TearRefusal
import org.shimwright.core.plusMinus
import org.shimwright.kit.Figures
import org.shimwright.kit.counted
import org.shimwright.shoot.kindShaped

/** "● fletched 2": the kind, and the arrow's own number or else its place among its kind. */
internal fun Context.markName(seen: List<Seen>, index: Int): String =
    getString(R.string.mark_name, kindShaped(seen[index].mark.kind), markShort(seen, index))

/** What stands beside a mark on the photograph: the sign of its kind and its number, clear of the hole. */
internal fun Context.markBadge(seen: List<Seen>, index: Int): String = getString(badgeWord(seen[index].mark.kind), markShort(seen, index))

private fun badgeWord(kind: ArrowKind): Int = when (kind) {
    ArrowKind.FLETCHED -> R.string.badge_fletched
    ArrowKind.BARE -> R.string.badge_bare
    ArrowKind.BROADHEAD -> R.string.badge_broadhead
}

internal fun Context.markShort(seen: List<Seen>, index: Int): String {
    val mark = seen[index].mark
    val number = mark.number ?: return getString(R.string.bare_count, seen.take(index + 1).count { it.mark.kind == mark.kind })
    return getString(R.string.numbered_arrow, number)
}

/** What the core made of a mark: found or not, and where. Half the width of a 95 % interval follows the figures. */
internal fun Context.outcome(seen: Seen, figures: Figures): String {
    val (impact, tear) = seen.impact to seen.tear
    return when {
        impact != null -> impact(impact, figures)
        tear != null -> tear(tear, figures)
        else -> getString(R.string.mark_outside)
    }
}

private fun Context.impact(impact: MeasuredImpact, figures: Figures): String {
    val at = figures.offset(impact.xMm, impact.yMm, plusMinus(impact.sdMm))
    when (impact.readAs) {
        ReadAs.CRISP -> return getString(R.string.snapped_at, at)
        ReadAs.WOUND -> return getString(R.string.wound_at, at)
        ReadAs.AS_TAPPED -> Unit
    }
    val reason = impact.reason ?: return getString(R.string.placed_at, at)
    return getString(R.string.not_snapped_at, getString(whyNot(reason)), at)
}

private fun Context.tear(tear: MeasuredTear, figures: Figures): String = if (tear.accepted) {
    getString(R.string.tear_read, figures.offset(tear.xMm, tear.yMm, plusMinus(tear.sdMm)))
} else {
    getString(R.string.tear_not_read, getString(tear.reason?.let(::whyUnread) ?: R.string.tear_unclear))
}

private fun whyNot(reason: NotSnapped): Int = when (reason) {
    NotSnapped.NOTHING_ROUND -> R.string.not_round
    NotSnapped.RIM_HIDDEN -> R.string.not_rim
    NotSnapped.RAGGED -> R.string.not_ragged
    NotSnapped.CROSSED -> R.string.not_crossed
    NotSnapped.WRONG_SIZE -> R.string.not_size
    NotSnapped.SHAFT_STANDING -> R.string.not_standing
    NotSnapped.PICTURE_EDGE -> R.string.not_edge
}

private fun whyUnread(reason: TearRefusal): Int = when (reason) {
    TearRefusal.BAD_SHAFT -> R.string.tear_shaft
    TearRefusal.NOTHING_TORN -> R.string.tear_nothing
    TearRefusal.TOO_LARGE -> R.string.tear_large
    TearRefusal.TOO_FEW_SLITS -> R.string.tear_slits
    TearRefusal.SLITS_DISAGREE -> R.string.tear_disagree
    TearRefusal.SHAPE_UNCLEAR -> R.string.tear_unclear
    TearRefusal.PICTURE_EDGE -> R.string.not_edge
}

internal fun foundWord(kind: KnownKind): Int = when (kind) {
    KnownKind.SHEET -> R.string.found_sheet
    KnownKind.CARD -> R.string.found_card
    KnownKind.MARKS -> R.string.found_marks
    KnownKind.FACE -> R.string.found_face
    KnownKind.POINTS -> R.string.found_points
}

internal fun openWord(kind: KnownKind): Int = when (kind) {
    KnownKind.POINTS -> R.string.open_points
    KnownKind.FACE -> R.string.face_centre_how
    else -> R.string.open_size
}

internal fun Context.pointName(kind: KnownKind, index: Int): String = getString(
    when (kind) {
        KnownKind.POINTS -> if (index == 0) R.string.point_first else R.string.point_second

        KnownKind.FACE -> listOf(R.string.point_centre, R.string.point_below, R.string.point_above)[index]

        else -> listOf(
            R.string.corner_top_left,
            R.string.corner_top_right,
            R.string.corner_bottom_right,
            R.string.corner_bottom_left,
        )[index]
    },
)

/** What the core doubts about a plane, and what follows from it. */
internal fun Context.warning(warning: PlaneWarning, figures: Figures): String = when (warning) {
    PlaneWarning.RawCorners -> getString(R.string.warn_raw)
    PlaneWarning.ScaleOnly -> getString(R.string.warn_scale)
    is PlaneWarning.NotFlat -> getString(R.string.warn_flat)
    is PlaneWarning.Rough -> getString(R.string.warn_rough)
    is PlaneWarning.EdgeLeftOut -> getString(R.string.warn_edge, getString(edgeWord(warning.edge)))
    is PlaneWarning.StretchLeftOut -> getString(R.string.warn_stretch, getString(edgeWord(warning.edge)))
    PlaneWarning.ShapeUnchecked -> getString(R.string.warn_shape)
    is PlaneWarning.NotSquare -> getString(R.string.warn_square)
    is PlaneWarning.Oblique -> getString(R.string.warn_oblique)
    is PlaneWarning.LensDiffers -> getString(R.string.warn_lens)
    PlaneWarning.LensUnknown -> getString(R.string.warn_lens_unknown)
    PlaneWarning.UpAssumed -> getString(R.string.warn_up_assumed)
    is PlaneWarning.RingOff -> getString(R.string.warn_ring, figures.length(warning.radiusMm), figures.length(warning.offMm))
    is PlaneWarning.FewRings -> counted(R.plurals.warn_few_rings, warning.used.toInt())
}

private fun edgeWord(edge: Edge): Int = when (edge) {
    Edge.TOP -> R.string.edge_top
    Edge.RIGHT -> R.string.edge_right
    Edge.BOTTOM -> R.string.edge_bottom
    Edge.LEFT -> R.string.edge_left
}
