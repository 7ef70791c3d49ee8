package org.shimwright.swap

import android.os.Bundle
import org.shimwright.core.BowPage
import org.shimwright.core.KitDraft
import org.shimwright.core.Refusal
import org.shimwright.core.Reopened
import org.shimwright.core.Scene
import org.shimwright.core.Seat
import org.shimwright.core.Side
import org.shimwright.core.Step
import org.shimwright.core.StepKind
import org.shimwright.core.SwapPage
import org.shimwright.core.Workshop
import org.shimwright.core.WorkshopException
import org.shimwright.kit.Units
import org.shimwright.kit.units
import org.shimwright.kit.wrong

/** What the guide shows beside its step: how the user answers what was found inside, the stop, every step. */
enum class Answering { NOT, CHOOSING, MIXED, STOPPING, OVERVIEW }

/** One piece of a seat as it goes in. */
data class Piece(val thick: Boolean, val thicknessMm: Double, val mark: String)

/** Both pieces of a seat, on the sides they go to. */
data class Pieces(val left: Piece, val right: Piece)

/** The step of a swap that shows, or its end when [swap] is null. */
data class SwapState(
    val bow: BowPage,
    val swap: SwapPage?,
    val kit: KitDraft?,
    val scene: Scene?,
    val answering: Answering,
    val wrong: Set<String>,
    val units: Units,
) {
    val step: Step? get() = swap?.current
    val number get() = (swap?.progress?.swap?.confirmed ?: 0u).toInt() + 1
    val of get() = swap?.steps?.size ?: 0

    /** What a screen reader reads from its beginning: another step, or what shows in place of a step. */
    val part: Any
        get() {
            val beside = if (answering == Answering.CHOOSING) Answering.NOT else answering
            return Triple(number.takeIf { step != null }, swap?.progress?.swap?.purpose, beside)
        }

    /** The pieces of a seat. */
    fun pieces(seat: Seat): Pieces? {
        val pair = kit?.pairs?.find { it.name == seat.pair } ?: return null
        val thin = Piece(false, pair.thinMeasuredMm ?: pair.thinMm, pair.thinMark)
        val thick = Piece(true, pair.thickMeasuredMm ?: pair.thickMm, pair.thickMark)
        return if (seat.thick == Side.LEFT) Pieces(thick, thin) else Pieces(thin, thick)
    }

    /** What this swap opened again. */
    val again get() = bow.checks.filter { it.reopened is Reopened.Swap }
}

/** Reads where the guide stands; the core remembers it step by step, so nothing is lost with the process. */
internal fun swapState(workshop: Workshop, bowId: Long, kept: Bundle): SwapState {
    val bow = workshop.bowPage(bowId)
    val swap = try {
        workshop.swapPage(bowId)
    } catch (over: WorkshopException.Refused) {
        if (over.why != Refusal.NO_SWAP) throw over
        null
    }
    return SwapState(
        bow = bow,
        swap = swap,
        kit = bow.kit?.kit,
        scene = scene(workshop, bow, swap),
        answering = Answering.valueOf(kept.getString(SwapKey.ANSWERING) ?: Answering.NOT.name),
        wrong = kept.wrong,
        units = workshop.units(),
    )
}

/** The drawing that belongs to a step: the seat it is about, or the whole change; at the end, what is in now. */
private fun scene(workshop: Workshop, bow: BowPage, swap: SwapPage?): Scene? {
    val fitted = bow.fitted ?: return null
    val step = swap?.current ?: return workshop.fittingScene(fitted.kitId, fitted.fitting)
    val seat = step.seat
    return when {
        seat != null -> workshop.seatScene(fitted.kitId, seat)
        step.kind == StepKind.LAY_OUT_PIECES -> workshop.changeScene(fitted.kitId, swap.progress.swap.origin, swap.progress.swap.target)
        else -> null
    }
}

internal object SwapKey {
    const val ANSWERING = "answering"
    const val PAIR = "pair"
    const val SIDE = "side"
    const val LEFT = "left"
    const val RIGHT = "right"
    const val ONE_SIDE = "one_side"
    const val ONE = "one"
    const val SHOULDERS = "shoulders"
    const val LEFT_MM = "left_mm"
    const val RIGHT_MM = "right_mm"
}
