package org.shimwright.arrows

import android.content.Context
import org.shimwright.R
import org.shimwright.core.ArrowFigure
import org.shimwright.core.ArrowSetup
import org.shimwright.core.DistanceUnit
import org.shimwright.core.FigureUnit
import org.shimwright.core.LengthUnit
import org.shimwright.core.readFigure
import org.shimwright.core.readLength
import org.shimwright.kit.Figures
import org.shimwright.kit.Units

/** What a field of an arrow takes. */
internal enum class Measure { LENGTH, MASS, SHAFT, SPEED, NUMBER, COUNT }

/** Which part of the arrow a figure belongs to; the last two may be left out as a whole. */
internal enum class Part { ARROW, VANES, BROADHEAD }

/** Every figure of an arrow set-up that can be typed, in the order it is measured. The names are keys of fields. */
internal enum class Figure(val part: Part, val word: Int, val measure: Measure, val of: (ArrowSetup) -> Double?) {
    SHAFT_LENGTH(Part.ARROW, R.string.shaft_length, Measure.LENGTH, { it.shaftLengthMm }),
    DIAMETER(Part.ARROW, R.string.shaft_diameter, Measure.LENGTH, { it.diameterMm }),
    TOTAL_MASS(Part.ARROW, R.string.arrow_mass, Measure.MASS, { it.totalMassKg }),
    SHAFT_MASS(Part.ARROW, R.string.shaft_mass, Measure.SHAFT, { it.shaftKgPerM }),
    POINT_MASS(Part.ARROW, R.string.point_mass, Measure.MASS, { it.pointMassKg }),
    INSERT_MASS(Part.ARROW, R.string.insert_mass, Measure.MASS, { it.insertMassKg }),
    NOCK_MASS(Part.ARROW, R.string.nock_mass, Measure.MASS, { it.nockMassKg }),
    BALANCE(Part.ARROW, R.string.balance_measured, Measure.LENGTH, { it.balanceMm }),
    SPINE(Part.ARROW, R.string.static_spine, Measure.NUMBER, { it.staticSpine }),
    SPEED(Part.ARROW, R.string.arrow_speed, Measure.SPEED, { it.speedMps }),
    VANE_COUNT(Part.VANES, R.string.vane_count, Measure.COUNT, { it.vanes?.count?.toDouble() }),
    VANE_LENGTH(Part.VANES, R.string.vane_length, Measure.LENGTH, { it.vanes?.lengthMm }),
    VANE_HEIGHT(Part.VANES, R.string.vane_height, Measure.LENGTH, { it.vanes?.heightMm }),
    VANE_SWEEP(Part.VANES, R.string.vane_sweep, Measure.LENGTH, { it.vanes?.sweepMm }),
    VANE_PLACE(Part.VANES, R.string.vane_place, Measure.LENGTH, { it.vanes?.fromNockMm }),
    VANE_MASS(Part.VANES, R.string.vane_mass, Measure.MASS, { it.vanes?.massKg }),
    BLADE_COUNT(Part.BROADHEAD, R.string.blade_count, Measure.COUNT, { it.broadhead?.blades?.toDouble() }),
    CUT(Part.BROADHEAD, R.string.cut_diameter, Measure.LENGTH, { it.broadhead?.cutMm }),
    BLADE_LENGTH(Part.BROADHEAD, R.string.blade_length, Measure.LENGTH, { it.broadhead?.bladeMm }),
    BROADHEAD_MASS(Part.BROADHEAD, R.string.broadhead_mass, Measure.MASS, { it.broadhead?.massKg }),
    ;

    /** What was typed, in the core's units; null where it cannot be read. */
    fun read(text: String, units: Units, figures: Figures): Double? = when (measure) {
        Measure.LENGTH -> readLength(text, units.lengths)
        Measure.MASS -> readFigure(text, FigureUnit.GRAIN)
        Measure.SHAFT -> readFigure(text, FigureUnit.GRAIN_PER_INCH)
        Measure.SPEED -> readFigure(text, figures.speeds)
        Measure.NUMBER -> text.replace(',', '.').toDoubleOrNull()
        Measure.COUNT -> text.toUIntOrNull()?.toDouble()
    }

    /** [value] as the field takes it back. */
    fun written(value: Double, figures: Figures): String = when (measure) {
        Measure.LENGTH -> figures.lengthField(value)
        Measure.MASS -> figures.massField(value)
        Measure.SHAFT -> figures.shaftField(value)
        Measure.SPEED -> figures.speedField(value)
        Measure.NUMBER, Measure.COUNT -> figures.plainField(value)
    }

    fun unit(figures: Figures): String? = when (measure) {
        Measure.LENGTH -> figures.lengthUnit
        Measure.MASS -> figures.grain
        Measure.SHAFT -> figures.grainPerInch
        Measure.SPEED -> figures.speedUnit
        Measure.NUMBER, Measure.COUNT -> null
    }
}

/** The name of a figure that the core refused. */
fun arrowWord(figure: ArrowFigure): Int = when (figure) {
    ArrowFigure.SHAFT_LENGTH -> R.string.shaft_length
    ArrowFigure.DIAMETER -> R.string.shaft_diameter
    ArrowFigure.TOTAL_MASS -> R.string.arrow_mass
    ArrowFigure.SHAFT_MASS -> R.string.shaft_mass
    ArrowFigure.POINT_MASS -> R.string.point_mass
    ArrowFigure.INSERT_MASS -> R.string.insert_mass
    ArrowFigure.NOCK_MASS -> R.string.nock_mass
    ArrowFigure.VANE_COUNT -> R.string.vane_count
    ArrowFigure.VANE_LENGTH -> R.string.vane_length
    ArrowFigure.VANE_HEIGHT -> R.string.vane_height
    ArrowFigure.VANE_SWEEP -> R.string.vane_sweep
    ArrowFigure.VANE_PLACE -> R.string.vane_place
    ArrowFigure.VANE_MASS -> R.string.vane_mass
    ArrowFigure.BLADE_COUNT -> R.string.blade_count
    ArrowFigure.CUT_DIAMETER -> R.string.cut_diameter
    ArrowFigure.BLADE_LENGTH -> R.string.blade_length
    ArrowFigure.BROADHEAD_MASS -> R.string.broadhead_mass
    ArrowFigure.STATIC_SPINE -> R.string.static_spine
    ArrowFigure.SPEED -> R.string.arrow_speed
}

/** A limit of such a figure with its unit: mm, m/s, and grains for masses. */
internal fun Context.arrowLimit(figure: ArrowFigure, value: Double): String {
    val figures = Figures(this, Units(LengthUnit.MILLIMETRE, DistanceUnit.METRE))
    return when (figure) {
        ArrowFigure.VANE_COUNT, ArrowFigure.BLADE_COUNT, ArrowFigure.STATIC_SPINE -> figures.plainField(value)
        ArrowFigure.SPEED -> figures.exact(value, R.string.unit_mps)
        ArrowFigure.SHAFT_MASS -> getString(R.string.figure_unit, figures.shaftField(value), figures.grainPerInch)
        in MASSES -> getString(R.string.figure_unit, figures.massField(value), figures.grain)
        else -> figures.length(value)
    }
}

private val MASSES = setOf(
    ArrowFigure.TOTAL_MASS,
    ArrowFigure.POINT_MASS,
    ArrowFigure.INSERT_MASS,
    ArrowFigure.NOCK_MASS,
    ArrowFigure.VANE_MASS,
    ArrowFigure.BROADHEAD_MASS,
)
