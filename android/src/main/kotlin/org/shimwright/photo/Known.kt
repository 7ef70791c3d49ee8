package org.shimwright.photo

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.ListedSheet
import org.shimwright.core.PointPx
import org.shimwright.core.PublishedFace
import org.shimwright.core.Reference
import org.shimwright.core.Up
import org.shimwright.core.faceKey
import org.shimwright.core.listedSize
import org.shimwright.kit.Reading
import org.shimwright.kit.Units
import org.shimwright.kit.typed
import kotlin.math.hypot

/** What in the picture is of known size. The names are written into saved state: rename none. */
enum class KnownKind(val word: Int, val corners: Boolean) {
    SHEET(R.string.known_sheet, true),
    FACE(R.string.known_face, false),
    CARD(R.string.known_card, true),
    MARKS(R.string.known_marks, true),
    POINTS(R.string.known_points, false),
}

/** A sheet whose size goes by a name, or one of one's own. The names are written into saved state: rename none. */
enum class SheetSize(val word: Int, val listed: ListedSheet?) {
    A4(R.string.sheet_a4, ListedSheet.A4),
    A3(R.string.sheet_a3, ListedSheet.A3),
    LETTER(R.string.sheet_letter, ListedSheet.LETTER),
    OWN(R.string.sheet_own, null),
}

/** The published faces the core knows. The names are written into saved state: rename none. */
enum class FaceSize(face: PublishedFace, val word: Int) {
    TARGET_40(PublishedFace.TARGET40, R.string.face_target_40),
    TARGET_60(PublishedFace.TARGET60, R.string.face_target_60),
    TARGET_80(PublishedFace.TARGET80, R.string.face_target_80),
    TARGET_122(PublishedFace.TARGET122, R.string.face_target_122),
    TRIPLE_40(PublishedFace.TRIPLE40, R.string.face_triple_40),
    TRIPLE_60(PublishedFace.TRIPLE60, R.string.face_triple_60),
    SIX_RING_80(PublishedFace.SIX_RING80, R.string.face_six_ring_80),
    FIELD_20(PublishedFace.FIELD20, R.string.face_field_20),
    FIELD_40(PublishedFace.FIELD40, R.string.face_field_40),
    FIELD_60(PublishedFace.FIELD60, R.string.face_field_60),
    FIELD_80(PublishedFace.FIELD80, R.string.face_field_80),
    ;

    /** Its key in requests and records. */
    val key: String by lazy { faceKey(face) }
}

/** What the person said about the reference, as kept. */
data class Known(
    val kind: KnownKind,
    val sheet: SheetSize,
    val across: Boolean,
    val face: FaceSize,
    val upright: Boolean,
    val points: List<PointPx>,
    /** How far true up is turned clockwise from the picture's, rad, where the phone felt it. */
    val roll: Double? = null,
) {
    /** How many points the person places, and none where the core looks for itself. */
    val least get() = when (kind) {
        KnownKind.POINTS -> 2
        KnownKind.FACE -> if (upright) 3 else 1
        else -> 4
    }

    companion object {
        fun of(kept: Bundle) = Known(
            kept.getString(KIND)?.let(KnownKind::valueOf) ?: KnownKind.SHEET,
            kept.getString(SHEET)?.let(SheetSize::valueOf) ?: SheetSize.A4,
            across(kept),
            kept.getString(FACE)?.let(FaceSize::valueOf) ?: FaceSize.TARGET_40,
            kept.getBoolean(UPRIGHT),
            points(kept),
            if (kept.containsKey(ROLL)) kept.getDouble(ROLL) else null,
        )

        fun keep(kept: Bundle, points: List<PointPx>) =
            kept.putDoubleArray(POINTS, points.flatMap { listOf(it.xPx, it.yPx) }.toDoubleArray())

        /** As said; else as the corners stand that were placed. */
        private fun across(kept: Bundle): Boolean {
            val corners = points(kept)
            if (kept.containsKey(ACROSS) || corners.size != 4) return kept.getBoolean(ACROSS)
            fun side(a: Int, b: Int) = hypot(corners[b].xPx - corners[a].xPx, corners[b].yPx - corners[a].yPx)
            return side(0, 1) + side(3, 2) > side(0, 3) + side(1, 2)
        }

        private fun points(kept: Bundle) = kept.getDoubleArray(POINTS)?.toList().orEmpty().chunked(2).map { PointPx(it[0], it[1]) }

        const val KIND = "known"
        const val SHEET = "sheet"
        const val ACROSS = "across"
        const val FACE = "face"
        const val UPRIGHT = "upright"
        const val ROLL = "roll"
        const val WIDE = "wide"
        const val HIGH = "high"
        const val APART = "apart"
        private const val POINTS = "points"
    }
}

/**
 * What is to be fitted, the likeliest first: a sheet or card whose corners nobody has placed may lie upright or across.
 * Empty while a length or a point is missing.
 */
internal fun Known.references(kept: Bundle, units: Units): List<Reference> {
    val said = reference(kept, units)
    val either = kind == KnownKind.CARD || (kind == KnownKind.SHEET && sheet != SheetSize.OWN)
    val other = if (either && points.size != 4) copy(across = !across).reference(kept, units) else null
    return listOfNotNull(said, other)
}

private fun Known.reference(kept: Bundle, units: Units): Reference? {
    val corners = points.takeIf { it.size == 4 }
    return when (kind) {
        KnownKind.SHEET -> size(kept, units)?.let { (wide, high) -> Reference.Sheet(wide, high, corners) }

        KnownKind.CARD -> lying(ListedSheet.CARD).let { (wide, high) -> Reference.Sheet(wide, high, corners) }

        KnownKind.MARKS -> typedSize(kept, units)?.let { (wide, high) -> Reference.Marks(wide, high, corners) }

        KnownKind.POINTS -> typedLength(kept, Known.APART, units)?.let { apart ->
            if (points.size == 2) Reference.Points(points[0], points[1], apart) else null
        }

        KnownKind.FACE -> points.firstOrNull()?.let { centre -> Reference.Rings(face.key, null, centre, up()) }
    }
}

/** What a person points at outranks what the phone felt. */
private fun Known.up(): Up = when {
    upright && points.size == 3 -> Up.Taps(points[1], points[2])
    roll != null -> Up.Gravity(roll)
    else -> Up.Picture
}

private fun Known.size(kept: Bundle, units: Units): Pair<Double, Double>? = sheet.listed?.let(::lying) ?: typedSize(kept, units)

/** Width and height of a sheet the way it lies, mm. */
private fun Known.lying(sheet: ListedSheet): Pair<Double, Double> {
    val (wide, high) = listedSize(sheet)
    return if (across) high to wide else wide to high
}

private fun typedSize(kept: Bundle, units: Units): Pair<Double, Double>? {
    val wide = typedLength(kept, Known.WIDE, units) ?: return null
    return typedLength(kept, Known.HIGH, units)?.let { wide to it }
}

private fun typedLength(kept: Bundle, key: String, units: Units) = Reading(units).length(key, kept.typed(key))
