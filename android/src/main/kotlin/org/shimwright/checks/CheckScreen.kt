package org.shimwright.checks

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.CheckItem
import org.shimwright.core.CheckState
import org.shimwright.core.MakerRange
import org.shimwright.core.SetupCheck
import org.shimwright.core.VerdictGiven
import org.shimwright.core.Workshop
import org.shimwright.core.outsideMakerRange
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.frame.args
import org.shimwright.kit.Column
import org.shimwright.kit.Entry
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Palette
import org.shimwright.kit.Reading
import org.shimwright.kit.Units
import org.shimwright.kit.Weight
import org.shimwright.kit.action
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.caution
import org.shimwright.kit.checkWord
import org.shimwright.kit.field
import org.shimwright.kit.note
import org.shimwright.kit.typed
import org.shimwright.kit.units
import org.shimwright.kit.wrong
import org.shimwright.verdict.anew
import org.shimwright.verdict.recorded

/** One check: what to look for, what was measured, whether it is right. */
data class CheckStep(
    val check: SetupCheck,
    val maker: MakerRange,
    val number: Int,
    val of: Int,
    val units: Units,
    val wrong: Set<String>,
    val nowMs: Long,
)

class CheckScreen(host: Host, args: Bundle, kept: Bundle) : Screen<CheckStep>(host, args, kept) {
    private val bowId = args.getLong(Arg.BOW)
    private val maker = MakerPart(kept, ::refresh)
    private val item = CheckItem.entries.find { it.name == args.getString(Arg.CHECK) } ?: CheckItem.entries.first()

    override fun build(workshop: Workshop, kept: Bundle): CheckStep {
        val page = workshop.bowPage(bowId)
        val index = page.checks.indexOfFirst { it.item == item }
        return CheckStep(
            page.checks[index],
            page.bow.makerRange(item),
            index + 1,
            page.checks.size,
            workshop.units(),
            kept.wrong,
            host.nowMs(),
        )
    }

    override fun draw(page: Page, state: CheckStep) {
        val context = page.context
        val figures = Figures(context, state.units)
        page.head(context.getString(R.string.checks), context.getString(R.string.step_of, state.number, state.of))
        page.body.card {
            answer(context.getString(checkWord(item)))
            body(context.getString(lookFor(item)))
            state.check.reopened?.let { note(context.reopenedWords(it)) }
            if (state.check.state != CheckState.OPEN) note(lastAnswer(context, state, figures))
        }
        cautionOf(item)?.let { page.body.caution(context.getString(R.string.caution), context.getString(it)) }
        measured(page.body, state, figures)
        if (item == CheckItem.CAM_TIMING) LateCam(kept, NOTE, ::refresh).ask(page.body, state.check.note)
        page.body.field(context.getString(R.string.note), NOTE, kept) {
            first = state.check.note
            entry = Entry.LINES
        }
        page.bar {
            action(context.getString(R.string.check_failed), Weight.DANGER) { answer(state, CheckState.FAILED) }
            action(context.getString(R.string.check_ok), Weight.MAIN) { answer(state, CheckState.OK) }
        }
    }

    private fun lastAnswer(context: android.content.Context, state: CheckStep, figures: Figures): String = context.getString(
        R.string.two_facts,
        context.stateWord(state.check.state),
        state.check.atMs?.let {
            figures.since(it, state.nowMs)
        }.orEmpty(),
    )

    private fun measured(body: Column, state: CheckStep, figures: Figures) {
        if (unitOf(item) == null) return
        val context = body.context
        body.field(context.getString(R.string.measured), MEASURED, kept) {
            first = state.check.measured?.let { figures.measuredField(item, it) }.orEmpty()
            takes(item, figures, context)
            if (MEASURED in state.wrong) wrong = context.getString(R.string.figure_unread)
        }
        outside(body, state, figures)
        maker.ask(body, state, figures)
    }

    private fun outside(body: Column, state: CheckStep, figures: Figures) {
        val measured = state.check.measured ?: return
        if (!outsideMakerRange(state.maker, measured)) return
        val context = body.context
        val wants = Palette.of(context).wants
        body.card(edge = wants) { body(context.getString(R.string.outside_maker, measuredWords(item, measured, figures))) }
    }

    private fun answer(state: CheckStep, verdict: CheckState) {
        val reading = Reading(state.units)
        val measured = value(state, reading)
        val stated = maker.read(state, reading)
        kept.wrong = reading.wrong
        if (reading.wrong.isNotEmpty()) {
            refresh()
            return
        }
        val check = SetupCheck(item, verdict, measured, kept.typed(NOTE, state.check.note), null)
        host.ask({ answered(it, state, stated, check) }) { after ->
            when {
                after.contradicted -> seeAnew()
                after.given != null -> host.recorded(bowId, after.given)
                after.next == null -> host.back()
                else -> goOn(after.next)
            }
        }
    }

    /**
     * What comes after an answer: the [next] open check, or the verdict [given] anew where it waited for this one. Neither
     * after a failed check; an "OK" that the bow maker's figure has [contradicted] stays on the page, which says so.
     */
    private class After(val next: SetupCheck?, val given: VerdictGiven?, val contradicted: Boolean)

    /** Worker: writes the answer; after the last open check, the verdict that waited for them is judged anew. */
    private fun answered(workshop: Workshop, state: CheckStep, stated: MakerRange, check: SetupCheck): After {
        if (stated != state.maker) workshop.saveMakerRange(bowId, stated, host.nowMs())
        workshop.answerCheck(bowId, check, host.nowMs())
        val checks = workshop.bowPage(bowId).checks
        if (checks.any { it.item == item && it.state == CheckState.FAILED }) {
            return After(null, null, contradicted = check.state == CheckState.OK)
        }
        val next = checks.firstOrNull { it.state == CheckState.OPEN }
        val clear = checks.all { it.state == CheckState.OK }
        return After(next, if (clear) workshop.anew(bowId, host.nowMs()) else null, contradicted = false)
    }

    private fun value(state: CheckStep, reading: Reading): Double? = when {
        !kept.containsKey(MEASURED) -> state.check.measured
        else -> reading.measured(item, MEASURED, kept.typed(MEASURED))
    }

    /** What was typed is on record, and the page shows it from there. */
    private fun seeAnew() {
        host.drafts.drop(Route.CHECK, args)
        kept.clear()
        refresh()
    }

    private fun goOn(next: SetupCheck) = host.swapFor(Route.CHECK, args(Arg.BOW to bowId, Arg.CHECK to next.item.name))

    private companion object {
        const val MEASURED = "measured"
        const val NOTE = "note"
    }
}
