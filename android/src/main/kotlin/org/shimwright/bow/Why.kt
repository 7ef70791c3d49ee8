package org.shimwright.bow

import android.content.Context
import org.shimwright.R
import org.shimwright.core.Arrangement
import org.shimwright.core.FittingReason
import org.shimwright.core.FittingRecord
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.note
import kotlin.math.abs

/** Since when and why a fitting is in the bow. */
fun Context.why(entry: FittingRecord, figures: Figures, nowMs: Long): String =
    getString(reason(entry.reason), figures.since(entry.atMs, nowMs))

private fun reason(reason: FittingReason): Int = when (reason) {
    FittingReason.TAKEN_IN -> R.string.why_taken_in
    FittingReason.VERDICT -> R.string.why_verdict
    FittingReason.OWN_CHOICE -> R.string.why_own_choice
    FittingReason.PUT_BACK -> R.string.why_put_back
    FittingReason.FOUND_INSIDE -> R.string.why_found_inside
}

/** Where that puts the cams. */
fun Column.offset(arrangement: Arrangement, figures: Figures) {
    val mm = arrangement.offsetMm
    val words = when {
        abs(mm) < LEAST_MM -> context.getString(R.string.cams_middle)
        mm > 0 -> context.getString(R.string.cams_right, figures.thickness(mm))
        else -> context.getString(R.string.cams_left, figures.thickness(-mm))
    }
    note(words)
    if (abs(arrangement.tiltMm) >= LEAST_MM) note(context.getString(R.string.cams_tilt, figures.thickness(abs(arrangement.tiltMm))))
}

private const val LEAST_MM = 0.005
