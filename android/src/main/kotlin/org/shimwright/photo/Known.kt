package org.shimwright.photo

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.PointPx
import org.shimwright.core.Reference
import org.shimwright.core.Up
import org.shimwright.kit.Reading
import org.shimwright.kit.Units
import org.shimwright.kit.typed
import kotlin.math.abs

/** What in the picture is of known size. The names are written into saved state: rename none. */
enum class KnownKind(val word: Int, val corners: Boolean) {
    SHEET(R.string.known_sheet, true),
    FACE(R.string.known_face, false),
    CARD(R.string.known_card, true),
    MARKS(R.string.known_marks, true),
    POINTS(R.string.known_points, false),
}

/** A sheet's size, upright, mm (ISO 216; ANSI/ASME Y14.1 A; ISO/IEC 7810 ID-1 for the card). */
enum class SheetSize(val word: Int, val wideMm: Double, val highMm: Double) {
    A4(R.string.sheet_a4, 210.0, 297.0),
    A3(R.string.sheet_a3, 297.0, 420.0),
    LETTER(R.string.sheet_letter, 215.9, 279.4),
    OWN(R.string.sheet_own, 0.0, 0.0),
    ;

    companion object {
        /** The size of an upright sheet; [OWN] where it is none of the listed ones. */
        fun of(wideMm: Double, highMm: Double): SheetSize =
            entries.find { abs(it.wideMm - wideMm) < ALIKE_MM && abs(it.highMm - highMm) < ALIKE_MM } ?: OWN
    }
}

/** Whether an upright sheet has the size of a card. */
internal fun isCard(wideMm: Double, highMm: Double) = abs(wideMm - CARD_HIGH_MM) < ALIKE_MM && abs(highMm - CARD_WIDE_MM) < ALIKE_MM

private const val ALIKE_MM = 0.5

/** The published faces the core knows, by its keys. */
enum class FaceSize(val key: String, val word: Int) {
    TARGET_40("target-40", R.string.face_target_40),
    TARGET_60("target-60", R.string.face_target_60),
    TARGET_80("target-80", R.string.face_target_80),
    TARGET_122("target-122", R.string.face_target_122),
    TRIPLE_40("triple-40", R.string.face_triple_40),
    TRIPLE_60("triple-60", R.string.face_triple_60),
    SIX_RING_80("six-ring-80", R.string.face_six_ring_80),
    FIELD_20("field-20", R.string.face_field_20),
    FIELD_40("field-40", R.string.face_field_40),
    FIELD_60("field-60", R.string.face_field_60),
    FIELD_80("field-80", R.string.face_field_80),
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
            kept.getBoolean(ACROSS),
            kept.getString(FACE)?.let(FaceSize::valueOf) ?: FaceSize.TARGET_40,
            kept.getBoolean(UPRIGHT),
            points(kept),
            if (kept.containsKey(ROLL)) kept.getDouble(ROLL) else null,
        )

        fun keep(kept: Bundle, points: List<PointPx>) =
            kept.putDoubleArray(POINTS, points.flatMap { listOf(it.xPx, it.yPx) }.toDoubleArray())

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

private const val CARD_WIDE_MM = 85.6
private const val CARD_HIGH_MM = 53.98

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

        KnownKind.CARD -> Reference.Sheet(
            if (across) CARD_WIDE_MM else CARD_HIGH_MM,
            if (across) CARD_HIGH_MM else CARD_WIDE_MM,
            corners,
        )

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

private fun Known.size(kept: Bundle, units: Units): Pair<Double, Double>? = when {
    sheet == SheetSize.OWN -> typedSize(kept, units)
    across -> sheet.highMm to sheet.wideMm
    else -> sheet.wideMm to sheet.highMm
}

private fun typedSize(kept: Bundle, units: Units): Pair<Double, Double>? {
    val wide = typedLength(kept, Known.WIDE, units) ?: return null
    return typedLength(kept, Known.HIGH, units)?.let { wide to it }
}

private fun typedLength(kept: Bundle, key: String, units: Units) = Reading(units).length(key, kept.typed(key))
