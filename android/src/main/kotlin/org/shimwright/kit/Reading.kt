package org.shimwright.kit

import org.shimwright.core.readDistance
import org.shimwright.core.readDrawWeight
import org.shimwright.core.readLength

/**
 * Reads what people typed into fields, through the core: in the workshop's unit, or in the unit written beside the
 * figure. The keys of the fields that could not be read collect in [wrong].
 */
class Reading(private val units: Units) {
    val wrong = mutableSetOf<String>()

    /** A length, mm; null where nothing was typed, which is wrong only when it is [needed]. */
    fun length(key: String, text: String, needed: Boolean = false): Double? = read(key, text, needed) { readLength(it, units.lengths) }

    /** An offset, mm: as a length, with a minus before it for left or low. */
    fun signed(key: String, text: String): Double? {
        val typed = text.trim()
        val minus = typed.startsWith("-") || typed.startsWith("\u2212")
        val size = length(key, if (minus) typed.drop(1) else typed, needed = true) ?: return null
        return if (minus) -size else size
    }

    /** A length as a field takes it back without loss, mm to a tenth, whatever the language. */
    fun written(mm: Double): String = String.format(java.util.Locale.ROOT, "%.1f mm", mm)

    /** A distance to the target, m. */
    fun distance(key: String, text: String): Double? = read(key, text, true) { readDistance(it, units.distances) }

    /** The same; null, and not wrong, where nothing was typed. */
    fun distanceOrNone(key: String, text: String): Double? = read(key, text, false) { readDistance(it, units.distances) }

    /** A draw weight, N; pounds where no unit is written. */
    fun weight(key: String, text: String): Double? = read(key, text, false) { readDrawWeight(it) }

    private fun read(key: String, text: String, needed: Boolean, how: (String) -> Double?): Double? {
        val typed = text.trim()
        val value = if (typed.isEmpty()) null else how(typed)
        if (value == null && (needed || typed.isNotEmpty())) wrong += key
        return value
    }
}
