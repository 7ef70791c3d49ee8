package org.shimwright.bow

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.Bow
import org.shimwright.core.BowDetails
import org.shimwright.core.Hand
import org.shimwright.core.KitRecord
import org.shimwright.core.Workshop
import org.shimwright.core.WorkshopSettings
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.frame.args
import org.shimwright.kit.Column
import org.shimwright.kit.Entry
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Reading
import org.shimwright.kit.Units
import org.shimwright.kit.choice
import org.shimwright.kit.door
import org.shimwright.kit.field
import org.shimwright.kit.typed

/** What is known of a bow, old or new; [kept] holds what the user has typed so far. */
data class DetailsState(
    val bow: Bow?,
    val kits: List<KitRecord>,
    val settings: WorkshopSettings,
    val hand: Hand,
    val kitId: Long?,
    val wrong: Set<String>,
) {
    val units get() = Units(settings.lengthUnit, settings.distanceUnit)
}

/** Takes a bow in, or changes what is known of it. */
class DetailsScreen(host: Host, args: Bundle, kept: Bundle) : Screen<DetailsState>(host, args, kept) {
    private val bowId = if (args.containsKey(Arg.BOW)) args.getLong(Arg.BOW) else null

    override fun build(workshop: Workshop, kept: Bundle): DetailsState {
        val bow = bowId?.let { workshop.bowPage(it).bow }
        val kits = workshop.kits().map { it.record }
        val settings = workshop.settings()
        val hand = kept.getString(HAND)?.let(Hand::valueOf) ?: bow?.details?.hand ?: settings.hand
        // A workshop with one kit need not ask which.
        val kitId = if (kept.containsKey(KIT)) kept.getLong(KIT) else bow?.details?.kitId ?: kits.singleOrNull()?.id
        return DetailsState(bow, kits, settings, hand, kitId, kept.getStringArray(WRONG).orEmpty().toSet())
    }

    override fun draw(page: Page, state: DetailsState) {
        val context = page.context
        page.head(state.bow?.details?.name ?: context.getString(R.string.new_bow))
        val figures = Figures(context, state.units)
        names(page.body, state)
        lengths(page.body, state, figures)
        kit(page.body, state)
        page.body.field(context.getString(R.string.notes), NOTES, kept) {
            first = state.bow?.details?.notes.orEmpty()
            entry = Entry.LINES
        }
        page.main(context.getString(R.string.save)) { save(state) }
    }

    private fun names(body: Column, state: DetailsState) {
        val context = body.context
        val bow = state.bow?.details
        body.field(context.getString(R.string.bow_name), NAME, kept) {
            first = bow?.name.orEmpty()
            if (NAME in state.wrong) wrong = context.getString(R.string.name_missing)
        }
        body.field(context.getString(R.string.owner), OWNER, kept) { first = bow?.owner.orEmpty() }
        val hands = listOf(Hand.RIGHT to context.getString(R.string.right_hand), Hand.LEFT to context.getString(R.string.left_hand))
        body.choice(context.getString(R.string.hand), hands, state.hand) {
            kept.putString(HAND, it.name)
            refresh()
        }
    }

    private fun lengths(body: Column, state: DetailsState, figures: Figures) {
        val context = body.context
        val bow = state.bow?.details
        length(body, R.string.axle_to_axle, AXLES, bow?.axleToAxleMm?.let(figures::lengthField), figures.lengthUnit, state)
        length(body, R.string.brace_height, BRACE, bow?.braceHeightMm?.let(figures::lengthField), figures.lengthUnit, state)
        length(body, R.string.draw_length, DRAW, bow?.drawLengthMm?.let(figures::lengthField), figures.lengthUnit, state)
        val weight = bow?.drawWeightN?.let(figures::weightField)
        length(body, R.string.draw_weight, WEIGHT, weight, context.getString(R.string.unit_pound), state)
    }

    private fun length(body: Column, label: Int, key: String, now: String?, unit: String, state: DetailsState) {
        body.field(body.context.getString(label), key, kept) {
            first = now.orEmpty()
            entry = Entry.FIGURE
            this.unit = unit
            if (key in state.wrong) wrong = body.context.getString(if (key == AXLES) R.string.figure_needed else R.string.figure_unread)
        }
    }

    private fun kit(body: Column, state: DetailsState) {
        val context = body.context
        if (state.kits.isEmpty()) {
            body.door(context.getString(R.string.add_kit), context.getString(R.string.kit_why)) { host.go(Route.KIT) }
            return
        }
        body.choice(context.getString(R.string.kit), state.kits.map { it.id to it.kit.name }, state.kitId) {
            kept.putLong(KIT, it)
            refresh()
        }
    }

    private fun save(state: DetailsState) {
        val reading = Reading(state.units)
        val details = read(state, reading)
        kept.putStringArray(WRONG, reading.wrong.toTypedArray())
        if (details == null) {
            refresh()
            return
        }
        val bow = state.bow
        if (bow == null) {
            host.ask({ it.addBow(details, null, host.nowMs()) }) { taken(it) }
        } else {
            host.ask({ it.saveBow(bow.id, details, null, host.nowMs()) }) { host.back() }
        }
    }

    private fun taken(bow: Bow) {
        host.swapFor(Route.BOW, args(Arg.BOW to bow.id))
        if (bow.details.kitId != null) host.go(Route.FITTED, args(Arg.BOW to bow.id))
    }

    private fun read(state: DetailsState, reading: Reading): BowDetails? {
        val before = state.bow?.details
        // What was not touched keeps its exact value; only what was typed is read.
        val axles = if (kept.containsKey(AXLES) || before == null) reading.length(AXLES, kept.typed(AXLES), true) else before.axleToAxleMm
        val brace = if (kept.containsKey(BRACE)) reading.length(BRACE, kept.typed(BRACE)) else before?.braceHeightMm
        val draw = if (kept.containsKey(DRAW)) reading.length(DRAW, kept.typed(DRAW)) else before?.drawLengthMm
        val weight = if (kept.containsKey(WEIGHT)) reading.weight(WEIGHT, kept.typed(WEIGHT)) else before?.drawWeightN
        val name = kept.typed(NAME, before?.name.orEmpty()).trim()
        if (name.isEmpty()) reading.wrong += NAME
        if (axles == null || reading.wrong.isNotEmpty()) return null
        return BowDetails(
            name = name,
            owner = kept.typed(OWNER, before?.owner.orEmpty()).trim(),
            hand = state.hand,
            axleToAxleMm = axles,
            braceHeightMm = brace,
            drawWeightN = weight,
            drawLengthMm = draw,
            topWeight = before?.topWeight ?: EVEN,
            camNote = before?.camNote.orEmpty(),
            kitId = state.kitId,
            priority = before?.priority.orEmpty(),
            toleranceMm = before?.toleranceMm,
            toleranceDistanceM = before?.toleranceDistanceM,
            notes = kept.typed(NOTES, before?.notes.orEmpty()),
        )
    }

    private companion object {
        const val NAME = "name"
        const val OWNER = "owner"
        const val HAND = "hand"
        const val AXLES = "axles"
        const val BRACE = "brace"
        const val DRAW = "draw"
        const val WEIGHT = "weight"
        const val KIT = "kit"
        const val NOTES = "notes"
        const val WRONG = "wrong"

        /** Until something else is known, both cams carry the nock plane alike. */
        const val EVEN = 0.5
    }
}
