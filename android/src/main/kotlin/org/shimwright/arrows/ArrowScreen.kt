package org.shimwright.arrows

import android.content.Context
import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.ArrowSetup
import org.shimwright.core.ArrowSetupRecord
import org.shimwright.core.Workshop
import org.shimwright.core.WorkshopException
import org.shimwright.core.usualArrow
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Screen
import org.shimwright.frame.Ticket
import org.shimwright.frame.troubleOf
import org.shimwright.kit.Column
import org.shimwright.kit.Entry
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Palette
import org.shimwright.kit.Units
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.door
import org.shimwright.kit.field
import org.shimwright.kit.note
import org.shimwright.kit.section
import org.shimwright.kit.strong
import org.shimwright.kit.tick
import org.shimwright.kit.title
import org.shimwright.kit.typed
import org.shimwright.kit.units
import org.shimwright.kit.wrong

/** One arrow set-up, old or new; [kept] holds what the user has typed so far. */
internal data class ArrowState(
    val bow: String,
    val record: ArrowSetupRecord?,
    val units: Units,
    val distanceM: Double,
    val wrong: Set<String>,
)

/** What the core made of the fields as they stand: figures, or why there are none. */
internal class Outcome(val setup: ArrowSetup?, val worked: Worked?, val refused: WorkshopException?)

/** Writes an arrow set-up; what is worked out of it changes as it is typed. */
internal class ArrowScreen(host: Host, args: Bundle, kept: Bundle) : Screen<ArrowState>(host, args, kept) {
    private val bowId = args.getLong(Arg.BOW)
    private val arrowId = if (args.containsKey(Arg.ARROW)) args.getLong(Arg.ARROW) else null
    private var working: Ticket? = null

    override fun build(workshop: Workshop, kept: Bundle): ArrowState {
        val page = workshop.bowPage(bowId)
        return ArrowState(
            bow = page.bow.details.name,
            record = page.arrowSetups.find { it.id == arrowId },
            units = workshop.units(),
            distanceM = workshop.usualDistance(bowId),
            wrong = kept.wrong,
        )
    }

    override fun draw(page: Page, state: ArrowState) {
        val context = page.context
        val figures = Figures(context, state.units)
        page.head(state.record?.name ?: context.getString(R.string.new_arrows), state.bow)
        val result = page.body.card {}
        val work = { workOut(result, state, figures) }
        page.body.field(context.getString(R.string.arrows_name), ArrowKey.NAME, kept) {
            first = state.record?.name.orEmpty()
            if (ArrowKey.NAME in state.wrong) wrong = context.getString(R.string.name_missing)
        }
        page.body.note(context.getString(R.string.arrow_only_length))
        fields(page.body, Part.ARROW, state, figures, work)
        part(page.body, Part.VANES, R.string.vanes, R.string.vanes_known, state, figures, work)
        part(page.body, Part.BROADHEAD, R.string.broadhead, R.string.broadhead_known, state, figures, work)
        state.record?.let { putAway(page.body, it) }
        page.main(context.getString(R.string.save)) { save(state, figures) }
        work()
    }

    private fun putAway(body: Column, record: ArrowSetupRecord) {
        val context = body.context
        val away = record.archivedMs == null
        val note = if (away) context.getString(R.string.put_arrows_away_note) else null
        body.door(context.getString(if (away) R.string.put_arrows_away else R.string.take_arrows_out), note) {
            host.ask({ it.archiveArrowSetup(record.id, away, host.nowMs()) }) { host.back() }
        }
    }

    private fun part(body: Column, part: Part, title: Int, known: Int, state: ArrowState, figures: Figures, work: () -> Unit) {
        val context = body.context
        val form = ArrowForm(kept, state.record?.setup, state.units, figures)
        body.section(context.getString(title))
        body.tick(context.getString(known), form.has(part)) {
            kept.putBoolean(ArrowKey.part(part), it)
            refresh()
        }
        if (form.has(part)) fields(body, part, state, figures, work)
    }

    private fun fields(body: Column, part: Part, state: ArrowState, figures: Figures, work: () -> Unit) {
        val context = body.context
        val form = ArrowForm(kept, state.record?.setup, state.units, figures)
        val usual = usualArrow()
        for (figure in Figure.entries.filter { it.part == part }) {
            body.field(context.getString(figure.word), figure.name, kept) {
                first = form.first(figure)
                entry = if (figure.measure == Measure.COUNT) Entry.COUNT else Entry.FIGURE
                unit = figure.unit(figures)
                hint = figure.of(usual)?.let { context.getString(R.string.usual, figure.written(it, figures)) }
                if (figure.name in state.wrong) wrong = context.getString(R.string.arrow_figure_unread)
                changed = work
            }
        }
    }

    /** Asks the core and fills [result]; an answer overtaken by typing is dropped. */
    private fun workOut(result: Column, state: ArrowState, figures: Figures) {
        val setup = ArrowForm(kept, state.record?.setup, state.units, figures).setup()
        working?.cancel()
        working = host.ask({ it.outcome(setup, state.distanceM) }) { outcome ->
            result.removeAllViews()
            result.show(outcome, figures)
        }
    }

    private fun Workshop.outcome(setup: ArrowSetup?, distanceM: Double): Outcome = try {
        Outcome(setup, setup?.let { workedOut(it, distanceM) }, null)
    } catch (refused: WorkshopException.BadField) {
        Outcome(setup, null, refused)
    }

    private fun Column.show(outcome: Outcome, figures: Figures) {
        title(context.getString(R.string.arrow_worked))
        val (setup, worked) = outcome.setup to outcome.worked
        when {
            setup != null && worked != null -> worked(worked, setup, figures)
            outcome.refused != null -> refused(context, outcome.refused)
            else -> body(context.getString(R.string.arrow_waits))
        }
    }

    private fun Column.refused(context: Context, why: WorkshopException) {
        val trouble = context.troubleOf(why)
        strong(trouble.what, Palette.of(context).wants)
        body(trouble.remedy)
    }

    private fun save(state: ArrowState, figures: Figures) {
        val form = ArrowForm(kept, state.record?.setup, state.units, figures)
        val setup = form.setup()
        val name = kept.typed(ArrowKey.NAME, state.record?.name.orEmpty()).trim()
        if (name.isEmpty()) form.wrong += ArrowKey.NAME
        kept.wrong = form.wrong
        if (setup == null || form.wrong.isNotEmpty()) {
            refresh()
            return
        }
        host.ask({ it.saveArrowSetup(bowId, arrowId, name, setup) }) { host.back() }
    }
}
