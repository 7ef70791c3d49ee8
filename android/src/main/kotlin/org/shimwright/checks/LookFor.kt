package org.shimwright.checks

import org.shimwright.R
import org.shimwright.core.CheckItem
import org.shimwright.core.MeasuredUnit

/** What to look for in a check. */
internal fun lookFor(item: CheckItem): Int = when (item) {
    CheckItem.LIMB_DAMAGE -> R.string.look_limbs
    CheckItem.STRING_AND_CABLES -> R.string.look_string
    CheckItem.AXLE_TO_AXLE -> R.string.look_axles
    CheckItem.BRACE_HEIGHT -> R.string.look_brace
    CheckItem.LIMB_BOLTS_EVEN -> R.string.look_bolts
    CheckItem.CAM_TIMING -> R.string.look_timing
    CheckItem.CAM_LEAN -> R.string.look_lean
    CheckItem.PEEP_TRUE -> R.string.look_peep
    CheckItem.NOCK_FIT -> R.string.look_nock_fit
    CheckItem.REST_SOUND -> R.string.look_rest
    CheckItem.CENTRE_SHOT -> R.string.look_centre_shot
    CheckItem.NOCKING_POINT -> R.string.look_nocking_point
    CheckItem.ARROW_SPINE -> R.string.look_arrows
    CheckItem.VANE_CLEARANCE -> R.string.look_vanes
    CheckItem.BROADHEADS_TRUE -> R.string.look_broadheads
    CheckItem.SHOOTER_SETTLED -> R.string.look_shooter
    CheckItem.SIGHT_SET -> R.string.look_sight
}

/** What can hurt, where it can. */
internal fun cautionOf(item: CheckItem): Int? = when (item) {
    CheckItem.LIMB_DAMAGE -> R.string.caution_limbs
    CheckItem.STRING_AND_CABLES -> R.string.caution_string
    CheckItem.CAM_TIMING, CheckItem.CAM_LEAN -> R.string.caution_press
    CheckItem.LIMB_BOLTS_EVEN -> R.string.caution_draw
    CheckItem.ARROW_SPINE -> R.string.caution_arrows
    CheckItem.BROADHEADS_TRUE -> R.string.caution_broadheads
    else -> null
}

/** What a check measures; the core says the same of each item and stores base units. */
internal fun unitOf(item: CheckItem): MeasuredUnit? = org.shimwright.core.measuredUnit(item)
