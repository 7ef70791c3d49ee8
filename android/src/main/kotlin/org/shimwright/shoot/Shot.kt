package org.shimwright.shoot

import android.content.Context
import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.ArrowKind
import org.shimwright.core.Surface
import org.shimwright.core.TrialDraft
import org.shimwright.frame.Arg
import org.shimwright.frame.args

/** What was shot, before anything is measured: on what, from where, which arrows. */
data class Shot(
    val bowId: Long,
    val surface: Surface,
    val distanceM: Double,
    val shooter: String,
    val counts: Map<ArrowKind, Int>,
    val arrowsId: Long?,
) {
    val kinds get() = ArrowKind.entries.filter { counts.getValue(it) > 0 }.ifEmpty { ArrowKind.entries }

    /** The kind whose turn it is when [marked] are marked already: the first of which some are missing, else [now]. */
    fun next(marked: List<ArrowKind>, now: ArrowKind): ArrowKind {
        fun missing(kind: ArrowKind) = marked.count { it == kind } < counts.getValue(kind)
        return if (missing(now)) now else kinds.find(::missing) ?: now
    }

    fun asArgs(photo: String?): Bundle = args(
        Arg.BOW to bowId,
        SURFACE to surface.name,
        DISTANCE to distanceM,
        SHOOTER to shooter,
        *counts.map { (kind, count) -> kind.name to count.toLong() }.toTypedArray(),
    ).apply {
        arrowsId?.let { putLong(ARROWS, it) }
        photo?.let { putString(Arg.PHOTO, it) }
    }

    /** A trial of it without marks. */
    fun empty() = TrialDraft(surface, distanceM, shooter, arrowsId, emptyList(), emptyList(), null, null, "")

    companion object {
        private const val SURFACE = "surface"
        private const val DISTANCE = "distance"
        private const val SHOOTER = "shooter"
        private const val ARROWS = "arrows"

        fun of(args: Bundle) = Shot(
            args.getLong(Arg.BOW),
            Surface.valueOf(args.getString(SURFACE, Surface.FACE.name)),
            args.getDouble(DISTANCE),
            args.getString(SHOOTER, ""),
            ArrowKind.entries.associateWith { args.getLong(it.name).toInt() },
            if (args.containsKey(ARROWS)) args.getLong(ARROWS) else null,
        )
    }
}

/** A kind with the shape that stands for it: a dot, a ring, a triangle. */
fun Context.kindShaped(kind: ArrowKind): String = getString(
    when (kind) {
        ArrowKind.FLETCHED -> R.string.shaped_fletched
        ArrowKind.BARE -> R.string.shaped_bare
        ArrowKind.BROADHEAD -> R.string.shaped_broadhead
    },
)
