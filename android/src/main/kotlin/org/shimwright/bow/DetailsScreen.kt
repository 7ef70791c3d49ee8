package org.shimwright.bow

import android.content.Context
import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.Axle
import org.shimwright.core.Bow
import org.shimwright.core.BowDetails
import org.shimwright.core.Hand
import org.shimwright.core.KitRecord
import org.shimwright.core.Probe
import org.shimwright.core.RestRoom
import org.shimwright.core.Workshop
import org.shimwright.core.WorkshopSettings
import org.shimwright.core.usualRestRoom
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.frame.args
import org.shimwright.kit.Column
import org.shimwright.kit.Entry
import org.shimwright.kit.Field
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Palette
import org.shimwright.kit.Reading
import org.shimwright.kit.Units
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.choice
import org.shimwright.kit.distance
import org.shimwright.kit.door
import org.shimwright.kit.field
import org.shimwright.kit.length
import org.shimwright.kit.note
import org.shimwright.kit.sayMissing
import org.shimwright.kit.section
import org.shimwright.kit.strong
import org.shimwright.kit.typed
import org.shimwright.kit.wrong

/** What is known of a bow, old or new; [kept] holds what the user has typed so far. */
data class DetailsState(
    val bow: Bow?,
    val kits: List<KitRecord>,
    val settings: WorkshopSettings,
    val hand: Hand,
    val kitId: Long?,
    /** What is on record as fitted was of another kit than the one chosen now: which pair of that is in must be said with it. */
    val refit: Boolean,
    val top: Chosen,
    val bottom: Chosen,
    /** What should come together first; null for the usual order. */
    val first: Probe?,
    val wrong: Set<String>,
) {
    val units get() = Units(settings.lengthUnit, settings.distanceUnit)
    val kit get() = kits.find { it.id == kitId }
}

/** Takes a bow in, or changes what is known of it. */
class DetailsScreen(host: Host, args: Bundle, kept: Bundle) : Screen<DetailsState>(host, args, kept) {
    private val bowId = if (args.containsKey(Arg.BOW)) args.getLong(Arg.BOW) else null
    private val seats = Seats(kept, ::refresh)

    override fun build(workshop: Workshop, kept: Bundle): DetailsState {
        val page = bowId?.let(workshop::bowPage)
        val bow = page?.bow
        val own = bow?.details?.kitId
        val kits = workshop.kits().map { it.record }.filter { it.archivedMs == null || it.id == own }
        val settings = workshop.settings()
        val hand = kept.getString(HAND)?.let(Hand::valueOf) ?: bow?.details?.hand ?: settings.hand
        // A workshop with one kit need not ask which.
        val kitId = if (kept.containsKey(KIT)) kept.getLong(KIT) else own ?: kits.singleOrNull()?.id
        val first = kept.getString(FIRST)?.let { name -> Probe.entries.find { it.name == name } }
        val chosen = if (kept.containsKey(FIRST)) first else bow?.details?.priority?.firstOrNull()
        val kit = kits.find { it.id == kitId }
        val (top, bottom) = Axle.entries.map { seats.chosen(kept, it, kit, null) }
        return DetailsState(bow, kits, settings, hand, kitId, page?.fitted != null && kitId != own, top, bottom, chosen, kept.wrong)
    }

    override fun draw(page: Page, state: DetailsState) {
        val context = page.context
        val bow = state.bow
        val title = if (bow == null) R.string.new_bow else R.string.details
        page.head(context.getString(title), bow?.details?.name)
        val figures = Figures(context, state.units)
        val said = page.missing(missing(context, state))
        needed(page.body, state, figures) { said?.sayMissing(missing(context, state)) }
        if (bow != null || kept.getBoolean(MORE)) rest(page.body, state, figures) else more(page.body)
        page.main(context.getString(R.string.save)) { save(state) }
    }

    /** What a bow cannot be recorded or judged without; [typed] hears of every change. */
    private fun needed(body: Column, state: DetailsState, figures: Figures, typed: () -> Unit) {
        val context = body.context
        val bow = state.bow?.details
        body.field(context.getString(R.string.bow_name), NAME, kept) {
            first = bow?.name.orEmpty()
            if (NAME in state.wrong) wrong = context.getString(R.string.name_missing)
            changed = typed
        }
        figure(body, R.string.axle_to_axle, AXLES, bow?.axleToAxleMm?.let(figures::lengthField), state) {
            length(figures)
            changed = typed
        }
        val hands = listOf(Hand.RIGHT to context.getString(R.string.right_hand), Hand.LEFT to context.getString(R.string.left_hand))
        body.choice(context.getString(R.string.hand), hands, state.hand) {
            kept.putString(HAND, it.name)
            refresh()
        }
        kit(body, state, figures)
    }

    /** What of that is not there yet. */
    private fun missing(context: Context, state: DetailsState): List<String> {
        val bow = state.bow?.details
        val own = listOfNotNull(
            R.string.bow_name.takeIf { kept.typed(NAME, bow?.name.orEmpty()).isBlank() },
            R.string.axle_to_axle.takeIf { if (kept.containsKey(AXLES)) kept.typed(AXLES).isBlank() else bow == null },
        ).map(context::getString)
        return if (state.refit) own + context.seatsMissing(state.top, state.bottom) else own
    }

    private fun more(body: Column) {
        val context = body.context
        body.door(context.getString(R.string.bow_more), context.getString(R.string.bow_more_note)) {
            kept.putBoolean(MORE, true)
            refresh()
        }
    }

    /** What may stay empty. */
    private fun rest(body: Column, state: DetailsState, figures: Figures) {
        body.section(body.context.getString(R.string.bow_more))
        names(body, state)
        lengths(body, state, figures)
        room(body, state, figures)
        wishes(body, state, figures)
        body.field(body.context.getString(R.string.notes), NOTES, kept) {
            first = state.bow?.details?.notes.orEmpty()
            entry = Entry.LINES
        }
    }

    private fun names(body: Column, state: DetailsState) {
        val context = body.context
        val bow = state.bow?.details
        body.field(context.getString(R.string.owner), OWNER, kept) { first = bow?.owner.orEmpty() }
        body.field(context.getString(R.string.family), FAMILY, kept) { first = bow?.family.orEmpty() }
        body.note(context.getString(R.string.family_why))
    }

    private fun lengths(body: Column, state: DetailsState, figures: Figures) {
        val context = body.context
        val bow = state.bow?.details
        figure(body, R.string.brace_height, BRACE, bow?.braceHeightMm?.let(figures::lengthField), state) { length(figures) }
        figure(body, R.string.draw_length, DRAW, bow?.drawLengthMm?.let(figures::lengthField), state) { length(figures) }
        figure(body, R.string.draw_weight, WEIGHT, bow?.drawWeightN?.let(figures::weightField), state) {
            entry = Entry.FIGURE
            unit = context.getString(R.string.unit_pound)
        }
    }

    /** How far the rest may go to each side; empty for the usual. */
    private fun room(body: Column, state: DetailsState, figures: Figures) {
        val room = state.bow?.details?.restRoom
        figure(body, R.string.room_left, ROOM_LEFT, room?.left?.let(figures::lengthField), state) { length(figures) }
        figure(body, R.string.room_right, ROOM_RIGHT, room?.right?.let(figures::lengthField), state) { length(figures) }
        body.note(body.context.getString(R.string.room_why, figures.length(usualRestRoom().left)))
    }

    private fun figure(body: Column, label: Int, key: String, now: String?, state: DetailsState, takes: Field.() -> Unit) {
        body.field(body.context.getString(label), key, kept) {
            first = now.orEmpty()
            takes()
            if (key in state.wrong) wrong = body.context.getString(if (key == AXLES) R.string.figure_needed else R.string.figure_unread)
        }
    }

    private fun kit(body: Column, state: DetailsState, figures: Figures) {
        val context = body.context
        if (state.kits.isEmpty()) {
            body.door(context.getString(R.string.add_kit), context.getString(R.string.kit_why)) { host.go(Route.KIT) }
            return
        }
        body.choice(context.getString(R.string.kit), state.kits.map { it.id to it.kit.name }, state.kitId) {
            kept.putLong(KIT, it)
            refresh()
        }
        if (!state.refit) return
        body.card(edge = Palette.of(context).brass) {
            strong(context.getString(R.string.kit_refit))
            body(context.getString(R.string.kit_refit_how))
        }
        seats.ask(body, state.kit, state.top, state.bottom, figures)
    }

    /** What this bow is to reach, where that differs from the workshop's own wishes. */
    private fun wishes(body: Column, state: DetailsState, figures: Figures) {
        val context = body.context
        val bow = state.bow?.details
        body.section(context.getString(R.string.bow_wishes))
        val usual = figures.length(state.settings.toleranceMm)
        body.note(context.getString(R.string.bow_wishes_note, usual, figures.distance(state.settings.toleranceDistanceM)))
        figure(body, R.string.tolerance, TOLERANCE, bow?.toleranceMm?.let(figures::lengthField), state) { length(figures) }
        figure(body, R.string.tolerance_at, TOLERANCE_AT, bow?.toleranceDistanceM?.let(figures::distanceField), state) { distance(figures) }
        val orders = listOf(null) + Probe.entries
        body.choice(context.getString(R.string.first_together), orders.map { it to context.getString(firstWord(it)) }, state.first) {
            kept.putString(FIRST, it?.name.orEmpty())
            refresh()
        }
    }

    private fun firstWord(probe: Probe?) = when (probe) {
        null -> R.string.first_usual
        Probe.BARE -> R.string.probe_bare
        Probe.BROADHEAD -> R.string.probe_broadhead
        Probe.PAPER -> R.string.probe_paper
    }

    private fun save(state: DetailsState) {
        val reading = Reading(state.units)
        val details = read(state, reading)
        kept.wrong = reading.wrong
        val fitting = if (state.refit) fitting(state.top, state.bottom) else null
        if (details == null || (state.refit && fitting == null)) {
            refresh()
            return
        }
        val bow = state.bow
        if (bow == null) {
            host.ask({ it.addBow(details, null, host.nowMs()) }) { taken(it) }
        } else {
            host.ask({ it.saveBow(bow.id, details, fitting, host.nowMs()) }) { host.back() }
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
        val tolerance = if (kept.containsKey(TOLERANCE)) reading.length(TOLERANCE, kept.typed(TOLERANCE)) else before?.toleranceMm
        val at = if (kept.containsKey(
                TOLERANCE_AT,
            )
        ) {
            reading.distanceOrNone(TOLERANCE_AT, kept.typed(TOLERANCE_AT))
        } else {
            before?.toleranceDistanceM
        }
        val room = room(reading, before?.restRoom)
        val name = kept.typed(NAME, before?.name.orEmpty()).trim()
        if (name.isEmpty()) reading.wrong += NAME
        if (axles == null || reading.wrong.isNotEmpty()) return null
        return BowDetails(
            name = name,
            owner = kept.typed(OWNER, before?.owner.orEmpty()).trim(),
            family = kept.typed(FAMILY, before?.family.orEmpty()).trim(),
            hand = state.hand,
            axleToAxleMm = axles,
            braceHeightMm = brace,
            drawWeightN = weight,
            drawLengthMm = draw,
            topWeight = before?.topWeight ?: EVEN,
            camNote = before?.camNote.orEmpty(),
            kitId = state.kitId,
            priority = state.first?.let { first -> listOf(first) + (USUAL_ORDER - first) }.orEmpty(),
            toleranceMm = tolerance,
            toleranceDistanceM = at,
            restRoom = room,
            remembered = before?.remembered.orEmpty(),
            notes = kept.typed(NOTES, before?.notes.orEmpty()),
        )
    }

    /** A side that is left empty has the usual room. */
    private fun room(reading: Reading, before: RestRoom?): RestRoom? {
        val left = if (kept.containsKey(ROOM_LEFT)) reading.length(ROOM_LEFT, kept.typed(ROOM_LEFT)) else before?.left
        val right = if (kept.containsKey(ROOM_RIGHT)) reading.length(ROOM_RIGHT, kept.typed(ROOM_RIGHT)) else before?.right
        if (left == null && right == null) return null
        val usual = usualRestRoom()
        return RestRoom(left ?: usual.left, right ?: usual.right)
    }

    private companion object {
        const val NAME = "name"
        const val OWNER = "owner"
        const val FAMILY = "family"
        const val ROOM_LEFT = "room-left"
        const val ROOM_RIGHT = "room-right"
        const val HAND = "hand"
        const val AXLES = "axles"
        const val BRACE = "brace"
        const val DRAW = "draw"
        const val WEIGHT = "weight"
        const val KIT = "kit"
        const val NOTES = "notes"
        const val TOLERANCE = "tolerance"
        const val TOLERANCE_AT = "tolerance_at"
        const val FIRST = "first"
        const val MORE = "more"

        /** As the core orders them where a bow has no wish of its own. */
        val USUAL_ORDER = listOf(Probe.BROADHEAD, Probe.BARE, Probe.PAPER)

        /** Until something else is known, both cams carry the nock plane alike. */
        const val EVEN = 0.5
    }
}
