package org.shimwright.arrows

import android.content.Context
import org.shimwright.R
import org.shimwright.core.ArrowFacts
import org.shimwright.core.ArrowSetup
import org.shimwright.core.Downrange
import org.shimwright.core.Surface
import org.shimwright.core.Workshop
import org.shimwright.core.plusMinus
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.fact
import org.shimwright.kit.note

/** What the core works out of an arrow; nothing that rests on a speed which nobody measured. */
internal data class Worked(val facts: ArrowFacts, val there: Downrange?, val distanceM: Double)

internal fun Workshop.workedOut(setup: ArrowSetup, distanceM: Double): Worked {
    val there = if (setup.speedMps == null) null else arrowDownrange(setup, distanceM)
    return Worked(arrowFacts(setup), there, distanceM)
}

/** Where the bow was shot last, or where its tolerance holds, m. */
internal fun Workshop.usualDistance(bowId: Long): Double {
    val face = trials(bowId).lastOrNull { it.shot.surface == Surface.FACE }?.shot?.distanceM
    return face ?: bowPage(bowId).bow.details.toleranceDistanceM ?: settings().toleranceDistanceM
}

/** The figures a technician wants of an arrow, each with half of its 95 % interval. */
internal fun Column.worked(worked: Worked, setup: ArrowSetup, figures: Figures) {
    val facts = worked.facts
    fact(context.getString(R.string.arrow_mass), figures.mass(facts.massKg, plusMinus(facts.massSdKg)))
    fact(context.getString(R.string.balance_point), figures.lengthSpread(facts.balanceMm, plusMinus(facts.balanceSdMm)))
    fact(context.getString(R.string.foc), figures.spread(facts.focPercent, plusMinus(facts.focSdPercent), R.string.unit_percent))
    facts.stiffnessNm2?.let { fact(context.getString(R.string.stiffness), figures.exact(it, R.string.unit_stiffness)) }
    if (setup.speedMps == null) {
        note(context.getString(R.string.speed_unknown))
    } else {
        val energy = figures.spread(facts.kineticEnergyJ, plusMinus(facts.kineticEnergySdJ), R.string.unit_joule)
        fact(context.getString(R.string.kinetic_energy), energy)
        val momentum = figures.spread(facts.momentumKgmps, plusMinus(facts.momentumSdKgmps), R.string.unit_momentum)
        fact(context.getString(R.string.momentum), momentum)
    }
    worked.there?.let { there ->
        val at = figures.distance(worked.distanceM)
        fact(context.getString(R.string.drop_at, at), figures.lengthSpread(there.dropMm, plusMinus(there.dropSdMm)))
        fact(context.getString(R.string.speed_at, at), figures.speed(there.speedMps, plusMinus(there.speedSdMps)))
    }
    note(context.getString(R.string.arrow_interval))
}

/** One line of a list: mass, balance, and speed where it is known. */
internal fun Context.arrowLine(worked: Worked, setup: ArrowSetup, figures: Figures): String {
    val facts = worked.facts
    val mass = figures.mass(facts.massKg, plusMinus(facts.massSdKg))
    val balance = figures.spread(facts.focPercent, plusMinus(facts.focSdPercent), R.string.unit_percent)
    val first = getString(R.string.arrow_line, mass, balance)
    val speed = setup.speedMps ?: return first
    return getString(R.string.two_facts, first, figures.exact(figures.speedOf(speed), figures.speedWord))
}
