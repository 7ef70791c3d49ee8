package org.shimwright.checks

import android.content.Context
import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.Bow
import org.shimwright.core.CheckState
import org.shimwright.core.Reopened
import org.shimwright.core.SetupCheck
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Question
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.frame.args
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Flow
import org.shimwright.kit.Page
import org.shimwright.kit.Tone
import org.shimwright.kit.Type
import org.shimwright.kit.Units
import org.shimwright.kit.Weight
import org.shimwright.kit.action
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.checkWord
import org.shimwright.kit.chip
import org.shimwright.kit.note
import org.shimwright.kit.pressCard
import org.shimwright.kit.units
import org.shimwright.kit.words
import org.shimwright.verdict.anew
import org.shimwright.verdict.recorded

/** What must be right on a bow before any tuning, in the order the trade works. */
data class ChecksState(val bow: Bow, val checks: List<SetupCheck>, val units: Units, val nowMs: Long) {
    val open get() = checks.filter { it.state == CheckState.OPEN }
}

class ChecksScreen(host: Host, args: Bundle, kept: Bundle) : Screen<ChecksState>(host, args, kept) {
    private val bowId = args.getLong(Arg.BOW)

    override fun build(workshop: Workshop, kept: Bundle): ChecksState {
        val page = workshop.bowPage(bowId)
        return ChecksState(page.bow, page.checks, workshop.units(), host.nowMs())
    }

    override fun draw(page: Page, state: ChecksState) {
        val context = page.context
        val figures = Figures(context, state.units)
        page.head(context.getString(R.string.checks), state.bow.details.name)
        page.body.note(context.getString(R.string.checks_why))
        if (state.checks.any { it.reopened is Reopened.Swap }) page.body.card { body(context.afterSwap()) }
        state.checks.forEachIndexed { index, check -> line(page.body, index + 1, check, state, figures) }
        val next = state.open.firstOrNull() ?: return
        page.bar {
            action(context.getString(R.string.all_right)) { passAll() }
            action(context.getString(R.string.next_check), Weight.MAIN) { open(next) }
        }
    }

    private fun passAll() = host.confirm(Question(R.string.all_right, R.string.all_right_words, R.string.all_right)) {
        host.ask({
            it.passOpenChecks(bowId, host.nowMs())
            it.anew(bowId, host.nowMs())
        }) { given -> if (given == null) host.back() else host.recorded(bowId, given) }
    }

    private fun open(check: SetupCheck) = host.go(Route.CHECK, args(Arg.BOW to bowId, Arg.CHECK to check.item.name))

    private fun line(body: Column, number: Int, check: SetupCheck, state: ChecksState, figures: Figures) {
        val context = body.context
        val name = context.getString(R.string.numbered, number, context.getString(checkWord(check.item)))
        val said = context.stateWord(check.state)
        val since = check.atMs?.let { figures.since(it, state.nowMs) }
        val measured = check.measured?.let { measuredWords(check.item, it, figures) }
        val maker = context.makerWords(state.bow.makerRange(check.item), figures)
        val facts = listOfNotNull(check.reopened?.let(context::reopenedWords), measured, maker, since, check.note.ifBlank { null })
        body.pressCard((listOf(name, said) + facts).joinToString(), { open(check) }) {
            val top = Flow(context, spread = true)
            top.addView(context.words(Type.STRONG, name))
            top.addView(context.chip(said, stateTone(check.state)))
            put(top)
            if (facts.isNotEmpty()) note(facts.joinToString())
        }
    }
}

internal fun Context.stateWord(state: CheckState): String = getString(
    when (state) {
        CheckState.OPEN -> R.string.check_open
        CheckState.OK -> R.string.check_ok
        CheckState.FAILED -> R.string.check_failed
    },
)

private fun stateTone(state: CheckState): Tone = when (state) {
    CheckState.OPEN -> Tone.NEUTRAL
    CheckState.OK -> Tone.SETTLED
    CheckState.FAILED -> Tone.DANGER
}
