package org.shimwright.bow

import android.content.Context
import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.ChangeKind
import org.shimwright.core.SetupChange
import org.shimwright.core.SetupState
import org.shimwright.core.Workshop
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
import org.shimwright.kit.Signs
import org.shimwright.kit.Units
import org.shimwright.kit.action
import org.shimwright.kit.body
import org.shimwright.kit.button
import org.shimwright.kit.card
import org.shimwright.kit.choose
import org.shimwright.kit.field
import org.shimwright.kit.length
import org.shimwright.kit.note
import org.shimwright.kit.typed
import org.shimwright.kit.units

/** What was changed on a bow besides its spacers. */
data class ChangeState(val bow: String, val setup: SetupState, val kind: ChangeKind?, val units: Units, val unread: Boolean)

class ChangeScreen(host: Host, args: Bundle, kept: Bundle) : Screen<ChangeState>(host, args, kept) {
    private val bowId = args.getLong(Arg.BOW)

    override fun build(workshop: Workshop, kept: Bundle): ChangeState {
        val page = workshop.bowPage(bowId)
        val kind = (kept.getString(KIND) ?: args.getString(Arg.CHANGE))?.let(ChangeKind::valueOf)
        return ChangeState(page.bow.details.name, page.setup, kind, workshop.units(), kept.getBoolean(UNREAD))
    }

    override fun draw(page: Page, state: ChangeState) {
        val context = page.context
        page.head(context.getString(R.string.change), state.bow)
        page.body.note(context.getString(R.string.change_why))
        for (kind in CHOICES) {
            page.body.put(context.button(context.getString(changeWord(kind))) { pick(kind) }.apply { choose(kind == state.kind) })
        }
        val kind = state.kind ?: return
        place(page.body, kind, state)
        page.body.field(context.getString(R.string.note), NOTE, kept) { entry = Entry.LINES }
        page.main(context.getString(R.string.save)) { save(kind, state) }
    }

    private fun pick(kind: ChangeKind) {
        kept.putString(KIND, kind.name)
        refresh()
    }

    private fun place(body: Column, kind: ChangeKind, state: ChangeState) {
        val context = body.context
        if (!kind.moves()) {
            body.card { body(context.getString(R.string.change_starts_anew)) }
            return
        }
        val figures = Figures(context, state.units)
        body.field(context.getString(if (kind == ChangeKind.REST_MOVED) R.string.rest_now_at else R.string.nock_now_at), PLACE, kept) {
            first = figures.lengthField(standing(kind, state))
            length(figures)
            signs = signs(context, kind)
            if (state.unread) wrong = context.getString(R.string.offset_needed)
            changed = { kept.remove(UNREAD) }
        }
        body.note(context.getString(R.string.place_from))
    }

    private fun signs(context: Context, kind: ChangeKind): Signs {
        val (below, above) = if (kind == ChangeKind.REST_MOVED) R.string.left to R.string.right else R.string.low to R.string.high
        return Signs(context.getString(below), context.getString(above))
    }

    private fun save(kind: ChangeKind, state: ChangeState) {
        val reading = Reading(state.units)
        val place = if (kind.moves()) place(kind, state, reading) else null
        kept.putBoolean(UNREAD, reading.wrong.isNotEmpty())
        if (reading.wrong.isNotEmpty()) {
            refresh()
            return
        }
        val change = SetupChange(kind, place, kept.typed(NOTE), host.nowMs())
        host.ask({ it.recordChange(bowId, change) }) { saved() }
    }

    /** Where it stands now: as typed, or as a verdict asked for it. */
    private fun place(kind: ChangeKind, state: ChangeState, reading: Reading): Double? {
        val asked = advised(kind) != 0.0 && !kept.containsKey(PLACE)
        return if (asked) standing(kind, state) else reading.signed(PLACE, kept.typed(PLACE))
    }

    private fun standing(kind: ChangeKind, state: ChangeState): Double =
        (if (kind == ChangeKind.REST_MOVED) state.setup.restMm else state.setup.nockMm) + advised(kind)

    /** How far a verdict asked to move this, mm; 0 where none did. */
    private fun advised(kind: ChangeKind): Double = if (args.getString(Arg.CHANGE) == kind.name) args.getDouble(Arg.MOVE) else 0.0

    /** What a verdict asked to move is shot next. */
    private fun saved() = if (args.containsKey(Arg.MOVE)) host.swapFor(Route.SHOOT, args(Arg.BOW to bowId)) else host.back()

    private fun ChangeKind.moves() = this == ChangeKind.REST_MOVED || this == ChangeKind.NOCK_MOVED

    private companion object {
        const val KIND = "kind"
        const val PLACE = "place"
        const val NOTE = "note"
        const val UNREAD = "unread"

        /** What is found inside is recorded by the swap guide alone. */
        val FOUND_INSIDE = setOf(ChangeKind.MIXED_PAIR_FOUND, ChangeKind.PAIR_UNKNOWN, ChangeKind.SIDE_CONFIRMED)

        val CHOICES = listOf(ChangeKind.REST_MOVED, ChangeKind.NOCK_MOVED) +
            (ChangeKind.entries - setOf(ChangeKind.REST_MOVED, ChangeKind.NOCK_MOVED) - FOUND_INSIDE)
    }
}

/** The name of a change. */
fun changeWord(kind: ChangeKind): Int = when (kind) {
    ChangeKind.NEW_STRING -> R.string.change_string
    ChangeKind.NEW_CABLES -> R.string.change_cables
    ChangeKind.NEW_ARROWS -> R.string.change_arrows
    ChangeKind.NEW_REST -> R.string.change_rest
    ChangeKind.DRAW_CHANGED -> R.string.change_draw
    ChangeKind.CAMS_ADJUSTED -> R.string.change_cams
    ChangeKind.REST_MOVED -> R.string.change_rest_moved
    ChangeKind.NOCK_MOVED -> R.string.change_nock_moved
    ChangeKind.MIXED_PAIR_FOUND -> R.string.change_mixed_pair
    ChangeKind.PAIR_UNKNOWN -> R.string.change_pair_unknown
    ChangeKind.SIDE_CONFIRMED -> R.string.change_side_confirmed
}
