package org.shimwright.kits

import android.os.Bundle
import org.shimwright.core.KitDraft
import org.shimwright.core.KitOnShelf
import org.shimwright.core.PairCount
import org.shimwright.core.PairDraft
import org.shimwright.kit.Reading
import org.shimwright.kit.Units
import org.shimwright.kit.typed

/** A kit as it is being written: the stored one, how many pairs the form has, and what could not be read. */
data class KitState(val kit: KitOnShelf?, val pairs: Int, val units: Units, val wrong: Set<String>) {
    fun pair(index: Int): PairDraft? = kit?.record?.kit?.pairs?.getOrNull(index)

    /** Whether the pair has a mark or a count on record, or a name that is not its letter. */
    fun moreKnown(index: Int): Boolean {
        val pair = pair(index) ?: return false
        return sets(index) != null || pair.thinMark.isNotEmpty() || pair.thickMark.isNotEmpty() || pair.name != letter(index)
    }

    fun sets(index: Int): Int? = pair(index)?.let { pair -> kit?.record?.owned?.find { it.pair == pair.name }?.sets?.toInt() }
}

/** The keys of the form's fields. */
internal object KitKey {
    const val NAME = "name"
    const val TOTAL = "total"
    const val PAIRS = "pairs"

    fun pair(index: Int) = "pair$index"

    fun thin(index: Int) = "thin$index"

    fun thick(index: Int) = "thick$index"

    fun thinMark(index: Int) = "thin_mark$index"

    fun thickMark(index: Int) = "thick_mark$index"

    fun sets(index: Int) = "sets$index"

    /** Whether what may stay empty shows. */
    fun more(index: Int) = "more$index"

    /** All fields of a pair. */
    fun all(index: Int) = listOf(pair(index), thin(index), thick(index), thinMark(index), thickMark(index), sets(index))
}

/** The name of a pair that nobody has named. */
internal fun letter(index: Int): String = ('A' + index % LETTERS).toString()

private const val LETTERS = 26

/** What the form says, as the core takes it; null where a figure could not be read. */
internal class KitForm(private val kept: Bundle, private val state: KitState) {
    private val reading = Reading(state.units)
    val wrong: Set<String> get() = reading.wrong

    fun kit(): KitDraft? {
        val before = state.kit?.record?.kit
        val total = figure(KitKey.TOTAL, before?.totalMm)
        val name = kept.typed(KitKey.NAME, before?.name.orEmpty()).trim()
        if (name.isEmpty()) reading.wrong += KitKey.NAME
        val pairs = filled().map { pair(it) }
        if (total == null || wrong.isNotEmpty()) return null
        return KitDraft(
            name,
            total,
            before?.toleranceMm ?: TOLERANCE_MM,
            pairs.filterNotNull(),
        )
    }

    fun owned(): List<PairCount> = filled().mapNotNull { index ->
        val sets = kept.typed(KitKey.sets(index), state.sets(index)?.toString().orEmpty()).trim()
        sets.toUIntOrNull()?.let { PairCount(name(index), it) }
    }

    /** A pair whose every field is empty was never begun. */
    private fun filled() = (0 until state.pairs).filter { index ->
        (state.pair(index) != null && !kept.containsKey(KitKey.pair(index))) ||
            KitKey.all(index).any { kept.typed(it).isNotBlank() }
    }

    private fun name(index: Int) = kept.typed(KitKey.pair(index), state.pair(index)?.name.orEmpty()).trim().ifEmpty { letter(index) }

    private fun pair(index: Int): PairDraft? {
        val before = state.pair(index)
        val thin = figure(KitKey.thin(index), before?.let { it.thinMeasuredMm ?: it.thinMm })
        val thick = if (before == null && kept.typed(KitKey.thick(index)).isBlank()) {
            worked(thin)
        } else {
            figure(KitKey.thick(index), before?.let { it.thickMeasuredMm ?: it.thickMm })
        }
        if (thin == null || thick == null) return null
        return PairDraft(
            name = name(index),
            thinMm = before?.thinMm ?: thin,
            thickMm = before?.thickMm ?: thick,
            thinMeasuredMm = thin.takeIf { before != null && it != before.thinMm },
            thickMeasuredMm = thick.takeIf { before != null && it != before.thickMm },
            thinMark = kept.typed(KitKey.thinMark(index), before?.thinMark.orEmpty()).trim(),
            thickMark = kept.typed(KitKey.thickMark(index), before?.thickMark.orEmpty()).trim(),
        )
    }

    /** The thick piece of a pair is what the thin one leaves of the total. */
    private fun worked(thinMm: Double?): Double? {
        val total = reading.length(KitKey.TOTAL, kept.typed(KitKey.TOTAL, "")) ?: state.kit?.record?.kit?.totalMm
        return if (total == null || thinMm == null) null else total - thinMm
    }

    /** An untouched figure keeps its exact value. */
    private fun figure(key: String, before: Double?): Double? =
        if (before != null && !kept.containsKey(key)) before else reading.length(key, kept.typed(key), needed = true)

    private companion object {
        /** What calipers and makers agree on, common practice, no source. */
        const val TOLERANCE_MM = 0.05
    }
}
