package org.shimwright.photo

import android.os.Bundle
import org.shimwright.core.ArrowKind
import org.shimwright.core.ListedSheet
import org.shimwright.core.PhotoRef
import org.shimwright.core.PointPx
import org.shimwright.core.Reference
import org.shimwright.core.Trial
import org.shimwright.core.Up
import org.shimwright.core.sheetOfSize
import org.shimwright.frame.Arg
import org.shimwright.shoot.Shot

/** Where a mark of the record stands when nobody has pointed at it anew, photograph px. */
private const val RECORDED_SD_PX = 2.0

/** The way to measure a trial's photograph again: the arguments of the photograph's screen, and its marks already in place. */
internal fun measuredAgain(trial: Trial, photo: PhotoRef): Pair<Bundle, Bundle> {
    val shot = trial.shot
    val kinds = shot.impacts.map { it.kind } + shot.tears.map { it.kind }
    val counts = ArrowKind.entries.associateWith { kind -> kinds.count { it == kind } }
    val args = Shot(trial.bowId, shot.surface, shot.distanceM, shot.shooter, counts, shot.arrowSetupId).asArgs(photo.file)
    args.putLong(Arg.TRIAL, trial.id)
    val kept = Bundle()
    shot.plane?.marked?.let { keep(kept, it) }
    val impacts = shot.impacts.mapNotNull { hit ->
        hit.px?.let { Mark(hit.kind, it, RECORDED_SD_PX, hit.arrowNumber, byHand = !hit.snapped) }
    }
    val tears = shot.tears.mapNotNull { tear -> tear.px?.let { Mark(tear.kind, it, RECORDED_SD_PX) } }
    Marks(kept).set(impacts + tears)
    kept.putBoolean(PhotoKey.MARKING, true)
    return args to kept
}

/** Says of a photograph what [marked] says is of known size in it. */
internal fun keep(kept: Bundle, marked: Reference) = when (marked) {
    is Reference.Sheet -> sheet(kept, marked)

    is Reference.Marks -> {
        kept.putString(Known.KIND, KnownKind.MARKS.name)
        size(kept, marked.widthMm, marked.heightMm)
        Known.keep(kept, marked.cornersPx.orEmpty())
    }

    is Reference.Points -> {
        kept.putString(Known.KIND, KnownKind.POINTS.name)
        kept.putString(Known.APART, mm(marked.distanceMm))
        Known.keep(kept, listOf(marked.aPx, marked.bPx))
    }

    is Reference.Rings -> rings(kept, marked)
}

private fun sheet(kept: Bundle, marked: Reference.Sheet) {
    val listed = sheetOfSize(marked.widthMm, marked.heightMm)
    val size = SheetSize.entries.find { it.listed == listed } ?: SheetSize.OWN
    kept.putBoolean(Known.ACROSS, marked.widthMm > marked.heightMm)
    if (listed == ListedSheet.CARD) {
        kept.putString(Known.KIND, KnownKind.CARD.name)
    } else {
        kept.putString(Known.KIND, KnownKind.SHEET.name)
        kept.putString(Known.SHEET, size.name)
        if (size == SheetSize.OWN) size(kept, marked.widthMm, marked.heightMm)
    }
    Known.keep(kept, marked.cornersPx.orEmpty())
}

private fun rings(kept: Bundle, marked: Reference.Rings) {
    kept.putString(Known.KIND, KnownKind.FACE.name)
    FaceSize.entries.find { it.key == marked.face }?.let { kept.putString(Known.FACE, it.name) }
    val up = marked.up as? Up.Taps
    kept.putBoolean(Known.UPRIGHT, up != null)
    (marked.up as? Up.Gravity)?.let { kept.putDouble(Known.ROLL, it.rollRad) }
    Known.keep(kept, listOfNotNull<PointPx>(marked.centrePx, up?.belowPx, up?.abovePx))
}

private fun size(kept: Bundle, wideMm: Double, highMm: Double) {
    kept.putString(Known.WIDE, mm(wideMm))
    kept.putString(Known.HIGH, mm(highMm))
}

private fun mm(length: Double) = String.format(java.util.Locale.ROOT, "%.2f mm", length)
