package org.shimwright.keep

import android.content.Context
import org.shimwright.R
import org.shimwright.core.Holding
import org.shimwright.core.PhotoUsage
import org.shimwright.core.Progress
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.answer
import org.shimwright.kit.card
import org.shimwright.kit.fact
import org.shimwright.kit.note
import org.shimwright.kit.progress

/** When the last backup was made on this phone. */
internal fun Context.lastBackup(lastMs: Long?, figures: Figures, nowMs: Long): String =
    lastMs?.let { getString(R.string.backup_last, figures.since(it, nowMs)) } ?: getString(R.string.backup_never)

/** The counts that people know a workshop by, with their words. */
internal val Holding.counts get() = listOf(
    R.string.held_bows to bows,
    R.string.held_kits to kits,
    R.string.held_fittings to fittings,
    R.string.held_trials to trials,
    R.string.held_verdicts to verdicts,
)

/** What a workshop holds, a line each. */
internal fun Column.holding(holding: Holding, photos: PhotoUsage, figures: Figures) {
    for ((words, count) in holding.counts) fact(context.getString(words), figures.count(count.toLong()))
    fact(context.getString(R.string.held_photos), context.photosSize(photos.photos, photos.bytes, figures))
}

internal fun Context.photosSize(count: UInt, bytes: Long, figures: Figures): String =
    if (count == 0u) figures.count(0) else getString(R.string.count_size, figures.count(count.toLong()), figures.bytes(bytes))

/** How far a long job is. */
internal fun Column.underWay(words: Int, at: Progress?, figures: Figures) = card {
    answer(context.getString(words))
    if (at != null) {
        put(context.progress(permille(at), PERMILLE))
        note(context.getString(R.string.bytes_of, figures.bytes(at.doneBytes), figures.bytes(at.totalBytes)))
    }
}

private fun permille(at: Progress) = if (at.totalBytes > 0) (at.doneBytes * PERMILLE / at.totalBytes).toInt().coerceAtMost(PERMILLE) else 0

private const val PERMILLE = 1000
