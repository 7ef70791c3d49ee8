package org.shimwright.arrows

import android.os.Bundle
import org.shimwright.core.ArrowSetup
import org.shimwright.core.Broadhead
import org.shimwright.core.Vanes
import org.shimwright.core.usualArrow
import org.shimwright.kit.Figures
import org.shimwright.kit.Units

internal object ArrowKey {
    const val NAME = "name"

    /** Whether a part that may be left out is described. */
    fun part(part: Part) = "part" + part.name
}

/**
 * Reads the fields of an arrow. What was not touched keeps its exact value; what cannot be read, or is missing where it
 * is needed, collects in [wrong].
 */
internal class ArrowForm(
    private val kept: Bundle,
    private val before: ArrowSetup?,
    private val units: Units,
    private val figures: Figures,
) {
    val wrong = mutableSetOf<String>()
    private val usual = usualArrow()

    fun has(part: Part): Boolean = when (part) {
        Part.ARROW -> true
        Part.VANES -> kept.getBoolean(ArrowKey.part(part), before?.vanes != null)
        Part.BROADHEAD -> kept.getBoolean(ArrowKey.part(part), before?.broadhead != null)
    }

    /** What a field shows before anything was typed: the record's figure; a part newly described starts from a usual one. */
    fun first(figure: Figure): String {
        val known = before?.let(figure.of)
        val given = known ?: if (figure.part == Part.ARROW || described(figure.part)) null else figure.of(usual)
        return given?.let { figure.written(it, figures) }.orEmpty()
    }

    private fun described(part: Part) = if (part == Part.VANES) before?.vanes != null else before?.broadhead != null

    /** The whole arrow; null when something could not be read. */
    fun setup(): ArrowSetup? {
        val length = read(Figure.SHAFT_LENGTH, needed = true)
        val vanes = if (has(Part.VANES)) vanes() else null
        val broadhead = if (has(Part.BROADHEAD)) broadhead() else null
        val setup = ArrowSetup(
            shaftLengthMm = length ?: 0.0,
            diameterMm = read(Figure.DIAMETER),
            totalMassKg = read(Figure.TOTAL_MASS),
            shaftKgPerM = read(Figure.SHAFT_MASS),
            pointMassKg = read(Figure.POINT_MASS),
            insertMassKg = read(Figure.INSERT_MASS),
            nockMassKg = read(Figure.NOCK_MASS),
            balanceMm = read(Figure.BALANCE),
            vanes = vanes,
            broadhead = broadhead,
            staticSpine = read(Figure.SPINE),
            speedMps = read(Figure.SPEED),
        )
        return setup.takeIf { wrong.isEmpty() }
    }

    private fun vanes(): Vanes? {
        val read = VANES.associateWith { read(it, needed = true) }
        val sweep = read(Figure.VANE_SWEEP)
        if (null in read.values) return null
        fun of(figure: Figure) = checkNotNull(read[figure])
        return Vanes(
            count = of(Figure.VANE_COUNT).toUInt(),
            lengthMm = of(Figure.VANE_LENGTH),
            heightMm = of(Figure.VANE_HEIGHT),
            sweepMm = sweep,
            fromNockMm = of(Figure.VANE_PLACE),
            massKg = of(Figure.VANE_MASS),
        )
    }

    private fun broadhead(): Broadhead? {
        val blades = read(Figure.BLADE_COUNT, needed = true)
        val cut = read(Figure.CUT, needed = true)
        val length = read(Figure.BLADE_LENGTH, needed = true)
        val mass = read(Figure.BROADHEAD_MASS)
        if (blades == null || cut == null || length == null) return null
        return Broadhead(blades.toUInt(), cut, length, mass)
    }

    private fun read(figure: Figure, needed: Boolean = false): Double? {
        val typed = kept.getString(figure.name)?.trim()
        if (typed == null) before?.let(figure.of)?.let { return it }
        val text = typed ?: first(figure)
        val value = if (text.isEmpty()) null else figure.read(text, units, figures)
        if (value == null && (needed || text.isNotEmpty())) wrong += figure.name
        return value
    }

    private companion object {
        val VANES = listOf(Figure.VANE_COUNT, Figure.VANE_LENGTH, Figure.VANE_HEIGHT, Figure.VANE_PLACE, Figure.VANE_MASS)
    }
}
