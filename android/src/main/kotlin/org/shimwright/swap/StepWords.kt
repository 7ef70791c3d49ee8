package org.shimwright.swap

import android.content.Context
import org.shimwright.R
import org.shimwright.core.Caution
import org.shimwright.core.Step
import org.shimwright.core.StepKind
import org.shimwright.kit.Figures
import org.shimwright.kit.axleWord
import org.shimwright.kit.seatWords

/** A step as a heading. */
internal fun Context.stepTitle(step: Step): String {
    val axle = step.axle?.let { axleWord(it) }.orEmpty()
    val pair = step.seat?.pair.orEmpty()
    return when (step.kind) {
        StepKind.PUT_ARROWS_AWAY -> getString(R.string.step_arrows_away)
        StepKind.INSPECT_FOR_DAMAGE -> getString(R.string.step_inspect)
        StepKind.READ_INSTRUCTIONS -> getString(R.string.step_instructions)
        StepKind.LAY_OUT_PIECES -> getString(R.string.step_lay_out)
        StepKind.PHOTOGRAPH_PATHS -> getString(R.string.step_photograph)
        StepKind.PRESS_EVENLY -> getString(R.string.step_press)
        StepKind.TAKE_OUT_SCREW -> getString(R.string.step_screw_out, axle)
        StepKind.SUPPORT_CAM -> getString(R.string.step_support_cam, axle)
        StepKind.PUSH_AXLE_OUT -> getString(R.string.step_axle_out, axle)
        StepKind.TAKE_SPACERS_OUT -> getString(R.string.step_spacers_out)
        StepKind.CONFIRM_FOUND -> getString(R.string.step_found, axle)
        StepKind.SET_SPACERS -> getString(R.string.step_set, pair)
        StepKind.AXLE_HOME -> getString(R.string.step_axle_home, axle)
        StepKind.SCREW_SNUG -> getString(R.string.step_screw_snug, axle)
        StepKind.SPIN_AND_SIDE_PLAY -> getString(R.string.step_spin)
        StepKind.CHECK_TRACKS -> getString(R.string.step_tracks)
        StepKind.RELEASE_PRESS -> getString(R.string.step_release)
        StepKind.PARTIAL_DRAW -> getString(R.string.step_partial_draw)
        StepKind.FIRST_SHOT -> getString(R.string.step_first_shot)
    }
}

/** What to do in a step. */
internal fun Context.stepWords(step: Step, state: SwapState, figures: Figures): String {
    val seat = step.seat
    val pieces = seat?.let(state::pieces)
    return when (step.kind) {
        StepKind.PUT_ARROWS_AWAY -> getString(R.string.do_arrows_away)

        StepKind.INSPECT_FOR_DAMAGE -> getString(R.string.do_inspect)

        StepKind.READ_INSTRUCTIONS -> getString(R.string.do_instructions)

        StepKind.LAY_OUT_PIECES -> getString(R.string.do_lay_out)

        StepKind.PHOTOGRAPH_PATHS -> getString(R.string.do_photograph)

        StepKind.PRESS_EVENLY -> getString(R.string.do_press)

        StepKind.TAKE_OUT_SCREW -> getString(R.string.do_screw_out)

        StepKind.SUPPORT_CAM -> getString(R.string.do_support_cam)

        StepKind.PUSH_AXLE_OUT -> getString(R.string.do_axle_out)

        StepKind.TAKE_SPACERS_OUT -> getString(R.string.do_spacers_out)

        StepKind.CONFIRM_FOUND -> getString(R.string.do_found, seat?.let { seatWords(it) }.orEmpty())

        StepKind.SET_SPACERS -> getString(
            R.string.do_set,
            pieces?.let { pieceWords(it.left, figures) }.orEmpty(),
            pieces?.let { pieceWords(it.right, figures) }.orEmpty(),
        )

        StepKind.AXLE_HOME -> getString(R.string.do_axle_home)

        StepKind.SCREW_SNUG -> getString(R.string.do_screw_snug)

        StepKind.SPIN_AND_SIDE_PLAY -> getString(R.string.do_spin)

        StepKind.CHECK_TRACKS -> getString(R.string.do_tracks)

        StepKind.RELEASE_PRESS -> getString(R.string.do_release)

        StepKind.PARTIAL_DRAW -> getString(R.string.do_partial_draw)

        StepKind.FIRST_SHOT -> getString(R.string.do_first_shot)
    }
}

/** A piece by its thickness, whether it is the thin or the thick one, and what is marked on it. */
private fun Context.pieceWords(piece: Piece, figures: Figures): String {
    val word = getString(if (piece.thick) R.string.scene_thick else R.string.scene_thin)
    val thickness = figures.thickness(piece.thicknessMm)
    return if (piece.mark.isBlank()) {
        getString(
            R.string.piece,
            word,
            thickness,
        )
    } else {
        getString(R.string.piece_marked, word, thickness, piece.mark)
    }
}

/** The button that confirms a step says what is confirmed where it matters most. */
internal fun doneWord(kind: StepKind): Int = when (kind) {
    StepKind.INSPECT_FOR_DAMAGE -> R.string.no_damage
    StepKind.PRESS_EVENLY -> R.string.pressed_evenly
    StepKind.SPIN_AND_SIDE_PLAY -> R.string.spins_free
    StepKind.CHECK_TRACKS -> R.string.in_their_tracks
    StepKind.RELEASE_PRESS -> R.string.let_off
    StepKind.FIRST_SHOT -> R.string.shot_finish
    else -> R.string.done_next
}

internal fun cautionWord(caution: Caution): Int = when (caution) {
    Caution.NEVER_LOOSE_WITHOUT_ARROW -> R.string.caution_dry
    Caution.DAMAGE_STOPS -> R.string.caution_damage
    Caution.MAKER_INSTRUCTIONS_FIRST -> R.string.caution_maker
    Caution.QUALIFIED_TECHNICIAN -> R.string.caution_qualified
    Caution.RIGHT_PRESS -> R.string.caution_right_press
    Caution.EYES_AND_FINGERS -> R.string.caution_eyes
    Caution.UNEVEN_TIPS -> R.string.caution_uneven_tips
    Caution.UNEVEN_ENDS -> R.string.caution_uneven_ends
    Caution.NO_FORCE -> R.string.caution_no_force
    Caution.CAM_DROPS -> R.string.caution_cam_drops
    Caution.BINDING_STOPS -> R.string.caution_binding
    Caution.HOLD_TWISTS -> R.string.caution_twists
    Caution.ONE_PAIR_ONLY -> R.string.caution_one_pair
    Caution.OFF_TRACK_STOPS -> R.string.caution_off_track
    Caution.SAFE_DIRECTION -> R.string.caution_direction
    Caution.NO_BROADHEADS -> R.string.caution_no_broadheads
}
