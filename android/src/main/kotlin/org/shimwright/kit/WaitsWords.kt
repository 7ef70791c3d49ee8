package org.shimwright.kit

import android.content.Context
import org.shimwright.R
import org.shimwright.core.CheckItem
import org.shimwright.core.Waits

/** What a bow waits for, in a few words. */
fun Context.waitsWords(waits: Waits): String = when (waits) {
    is Waits.SwapHalfDone -> getString(R.string.waits_swap_half_done, waits.confirmed.toInt(), waits.steps.toInt())
    is Waits.FailedCheck -> getString(R.string.waits_failed_check, getString(checkWord(waits.item)))
    is Waits.Arrows -> arrowsWords(waits)
    Waits.Kit -> getString(R.string.waits_kit)
    Waits.Fitting -> getString(R.string.waits_fitting)
    Waits.Trial -> getString(R.string.waits_trial)
    Waits.Verdict -> getString(R.string.waits_verdict)
    Waits.Swap -> getString(R.string.waits_swap)
    Waits.Trim -> getString(R.string.waits_trim)
    Waits.Elsewhere -> getString(R.string.waits_elsewhere)
    Waits.Adjustment -> getString(R.string.waits_adjustment)
    Waits.Left -> getString(R.string.waits_left)
    Waits.Nothing -> getString(R.string.waits_nothing)
}

private fun Context.arrowsWords(waits: Waits.Arrows): String {
    val counts = listOf(
        waits.bare to R.plurals.more_bare,
        waits.fletched to R.plurals.more_fletched,
        waits.broadhead to R.plurals.more_broadhead,
        waits.paper to R.plurals.more_paper,
    )
    val wanted = counts.filter { it.first > 0u }.map { (count, words) -> counted(words, count.toInt()) }
    return if (wanted.isEmpty()) getString(R.string.waits_trial) else wanted.joinToString()
}

/** Whether the work on it is done, settled or not. */
val Waits.isDone get() = this == Waits.Left || this == Waits.Nothing

/** How pressing it is: what is open on the press or has failed is a danger. */
fun waitsTone(waits: Waits): Tone = when (waits) {
    is Waits.SwapHalfDone, is Waits.FailedCheck -> Tone.DANGER
    Waits.Nothing -> Tone.SETTLED
    else -> Tone.NEUTRAL
}

/** The name of a check. */
fun checkWord(item: CheckItem): Int = when (item) {
    CheckItem.LIMB_DAMAGE -> R.string.check_limbs
    CheckItem.STRING_AND_CABLES -> R.string.check_string
    CheckItem.AXLE_TO_AXLE -> R.string.axle_to_axle
    CheckItem.BRACE_HEIGHT -> R.string.brace_height
    CheckItem.LIMB_BOLTS_EVEN -> R.string.check_bolts
    CheckItem.CAM_TIMING -> R.string.check_timing
    CheckItem.CAM_LEAN -> R.string.check_lean
    CheckItem.PEEP_TRUE -> R.string.check_peep
    CheckItem.NOCK_FIT -> R.string.check_nock_fit
    CheckItem.REST_SOUND -> R.string.check_rest
    CheckItem.CENTRE_SHOT -> R.string.check_centre_shot
    CheckItem.NOCKING_POINT -> R.string.check_nocking_point
    CheckItem.ARROW_SPINE -> R.string.check_arrows
    CheckItem.VANE_CLEARANCE -> R.string.check_vanes
    CheckItem.BROADHEADS_TRUE -> R.string.check_broadheads
    CheckItem.SHOOTER_SETTLED -> R.string.check_shooter
    CheckItem.SIGHT_SET -> R.string.check_sight
}
