package org.shimwright.verdict

import android.content.Context
import android.os.Bundle
import org.shimwright.R
import org.shimwright.checks.cautionOf
import org.shimwright.core.Adjustment
import org.shimwright.core.Call
import org.shimwright.core.ChangeKind
import org.shimwright.core.CheckItem
import org.shimwright.core.Choice
import org.shimwright.core.Fitting
import org.shimwright.core.FittingReason
import org.shimwright.core.Knob
import org.shimwright.core.Probe
import org.shimwright.core.SplitReading
import org.shimwright.core.Trim
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Question
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.frame.args
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Palette
import org.shimwright.kit.SceneView
import org.shimwright.kit.action
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.caution
import org.shimwright.kit.counted
import org.shimwright.kit.door
import org.shimwright.kit.fittingWords
import org.shimwright.kit.note
import org.shimwright.kit.plate
import org.shimwright.kit.pressable
import org.shimwright.kit.scene
import org.shimwright.kit.section
import org.shimwright.kit.sideways
import org.shimwright.kit.strong

/** What to do next with a bow: the answer, the picture that proves it, the spacers, and why. */
class VerdictScreen(host: Host, args: Bundle, kept: Bundle) : Screen<VerdictState>(host, args, kept) {
    private val bowId = args.getLong(Arg.BOW)
    private val verdictId = args.getLong(Arg.VERDICT)

    override fun build(workshop: Workshop, kept: Bundle) = verdictState(workshop, verdictId, kept.getBoolean(CHANCES), host.nowMs())

    override fun draw(page: Page, state: VerdictState) {
        val figures = Figures(page.context, state.units)
        val words = CallWords(page.context, figures, state.trials, state.nowMs)
        page.head(page.context.getString(R.string.verdict), dateLine(page, state, figures))
        if (!state.page.stands) {
            page.body.card {
                body(context.getString(if (state.page.newest) R.string.verdict_bow_changed else R.string.verdict_older))
            }
        }
        first(page.body, state, figures, words)
        state.call.caution()?.let { page.body.caution(page.context.getString(R.string.caution), page.context.getString(it)) }
        proof(page, state, words)
        spacers(page.body, state, figures)
        why(page.body, state, figures, words)
        otherwise(page.body, state, figures)
        instead(page.body, state, figures, words)
        others(page.body, state, figures)
        bar(page, state)
    }

    /** The bow, when it was given, and what was shot for it. */
    private fun dateLine(page: Page, state: VerdictState, figures: Figures): CharSequence {
        val given = page.context.getString(
            R.string.two_facts,
            state.page.bow.bow.details.name,
            figures.since(state.page.given.atMs, state.nowMs),
        )
        val split = state.verdict.splits.firstOrNull() ?: return given
        return page.context.getString(R.string.two_facts, given, page.context.shot(split, figures))
    }

    /** Arrows beside those they are held against; paper is torn without any. */
    private fun Context.shot(split: SplitReading, figures: Figures): String {
        val distance = figures.distance(split.distanceM)
        val arrows = split.probeArrows.toInt()
        if (split.kind == Probe.PAPER) return getString(R.string.two_facts, distance, counted(R.plurals.shot_tears, arrows))
        return getString(R.string.verdict_shot, distance, arrows, split.referenceArrows.toInt())
    }

    private fun first(body: Column, state: VerdictState, figures: Figures, words: CallWords) {
        body.card {
            answer(words.answer(state.call, state.page.ending))
            for (line in context.decision(state, figures, words)) body(line)
            if (state.page.proof != null && state.page.forecasts) note(context.getString(R.string.verdict_green))
        }
    }

    private fun proof(page: Page, state: VerdictState, words: CallWords) {
        val scene = state.page.proof ?: return
        val context = page.context
        val figures = Figures(context, state.units)
        val spoken = state.verdict.splits.joinToString(" ") { words.lands(it, state.severalDistances) }
        // A wide window shows the picture whole, beside the answer.
        if (sideways(context)) {
            val palette = Palette.of(context)
            page.picture(SceneView(context, scene, figures, spoken)).background = context.plate(palette.card, palette.card)
        } else {
            page.body.card { scene(scene, figures, spoken) }
        }
    }

    private fun spacers(body: Column, state: VerdictState, figures: Figures) {
        val scene = state.page.change ?: return
        val to = (state.call as? Call.Fit)?.fitting ?: return
        val from = state.then ?: return
        val context = body.context
        body.card {
            scene(scene, figures, context.getString(R.string.change_spoken, context.fittingWords(from), context.fittingWords(to)))
            state.page.movesMm?.let { note(figures.camMove(it)) }
        }
        body.caution(context.getString(R.string.caution), context.getString(R.string.verdict_press))
    }

    private fun why(body: Column, state: VerdictState, figures: Figures, words: CallWords) {
        val context = body.context
        val reasons = ReasonWords(context, figures, words, state.paperShot, state.chances)
        body.section(context.getString(R.string.verdict_why))
        body.card {
            // What was shot stands above; here only with the figure behind it.
            state.verdict.reasons.filter { state.chances || !it.hasChance }.forEach { body(reasons.of(it)) }
            if (state.verdict.reasons.any { it.hasChance }) action(context.getString(chancesWord(state))) { showChances(!state.chances) }
        }
    }

    private fun chancesWord(state: VerdictState) = if (state.chances) R.string.chances_hide else R.string.chances_show

    private fun showChances(on: Boolean) {
        kept.putBoolean(CHANCES, on)
        refresh()
    }

    private fun otherwise(body: Column, state: VerdictState, figures: Figures) {
        val context = body.context
        body.section(context.getString(R.string.verdict_otherwise))
        body.card { context.otherwise(state, figures).forEach { body(it) } }
    }

    /** What else could be done next, and how far behind it is. */
    private fun instead(body: Column, state: VerdictState, figures: Figures, words: CallWords) {
        val context = body.context
        if (state.verdict.alternatives.isEmpty()) return
        body.section(context.getString(R.string.verdict_instead))
        for (other in state.verdict.alternatives) {
            val (said, behind) = words.answer(other.call) to context.getString(R.string.choice_behind, figures.size(other.behindMm))
            val press = taken(context, other.call, state)
            if (press != null) {
                body.door(said, behind, press = press)
            } else {
                body.card {
                    strong(said)
                    note(behind)
                }
            }
        }
    }

    private fun others(body: Column, state: VerdictState, figures: Figures) {
        val choices = state.page.others.take(RUNNERS_UP)
        if (choices.isEmpty()) return
        body.section(body.context.getString(R.string.verdict_others))
        for (choice in choices) choice(body, choice, state, figures)
    }

    private fun choice(body: Column, choice: Choice, state: VerdictState, figures: Figures) {
        val context = body.context
        val said = if (choice.fitting == state.then) context.getString(R.string.as_it_is) else context.fittingWords(choice.fitting)
        val expect = context.getString(R.string.choice_expect, figures.roughly(choice.xMm), figures.chance(choice.withinTolerance))
        val axles = choice.axlesOpened.toInt().takeIf { it > 0 }?.let { context.counted(R.plurals.axles_to_open, it) }
        val press = fitting(context, choice.fitting, state)
        val card = body.card {
            strong(said)
            body(expect)
            axles?.let(::note)
        }
        if (press != null) card.pressable(listOfNotNull(said, expect, axles).joinToString(), press)
    }

    /** What a press on something else that could be done does; nothing once the bow has changed. */
    private fun taken(context: Context, call: Call, state: VerdictState): (() -> Unit)? = when {
        !state.page.stands -> null
        call is Call.Fit -> fitting(context, call.fitting, state)
        call is Call.ShootMore -> ::shoot
        call is Call.Trim -> moved(call.knob, call.trim).second
        else -> null
    }

    /** The technician may know better: any fitting that was weighed can be swapped to with the guide, as their own choice. */
    private fun fitting(context: Context, to: Fitting, state: VerdictState): (() -> Unit)? {
        if (!state.page.stands || to == state.then || state.page.bow.swap != null) return null
        val question = Question(R.string.fit_this, R.string.fit_this_words, R.string.start_swap, context.fittingWords(to))
        return { host.confirm(question) { start(to, FittingReason.OWN_CHOICE, null) } }
    }

    private fun bar(page: Page, state: VerdictState) {
        val context = page.context
        val call = state.call
        if (!state.page.stands) {
            page.main(context.getString(R.string.ask_anew)) { host.judge(bowId) }
            return
        }
        val (act, press) = next(state)
        page.main(context.getString(act), press)
        if (call.wantsArrows()) return
        page.bar {
            if (call is Call.Fit || call is Call.Trim) action(context.getString(R.string.leave_it)) { host.backTo(Route.BOW) }
            action(context.getString(R.string.shoot_more)) { shoot() }
        }
    }

    /** What can hurt in what it asks for; a swap has its own, beside its drawing. */
    private fun Call.caution(): Int? = when (this) {
        is Call.AdjustFirst -> (what as? Adjustment.Check)?.takeIf { it.failed }?.let { cautionOf(it.check) }
        is Call.ShootMore -> R.string.caution_broadheads.takeIf { arrows.broadhead > 0u }
        else -> null
    }

    private fun Call.wantsArrows() = this is Call.ShootMore || (this is Call.AdjustFirst && what is Adjustment.ConfirmSwap)

    /** The one thing to do now: its words and what a press does. */
    private fun next(state: VerdictState): Pair<Int, () -> Unit> = when (val call = state.call) {
        is Call.Fit -> R.string.start_swap to { start(call.fitting, FittingReason.VERDICT, verdictId) }
        is Call.Trim -> moved(call.knob, call.trim)
        is Call.ShootMore -> R.string.shoot_now to { shoot() }
        Call.Stop -> done()
        Call.SpacersCannot -> if (state.page.leavesIt) done() else seeTheChecks()
        is Call.AdjustFirst -> adjust(call.what)
    }

    private fun seeTheChecks(): Pair<Int, () -> Unit> = R.string.see_the_checks to { host.go(Route.CHECKS, args(Arg.BOW to bowId)) }

    private fun done(): Pair<Int, () -> Unit> = R.string.verdict_done to { host.backTo(Route.BOW) }

    /** A move that was made is written down, and then shot. */
    private fun moved(knob: Knob, trim: Trim): Pair<Int, () -> Unit> {
        val (words, kind) = when (knob) {
            Knob.REST -> R.string.rest_is_moved to ChangeKind.REST_MOVED
            Knob.NOCK -> R.string.nock_is_moved to ChangeKind.NOCK_MOVED
        }
        return words to { host.go(Route.CHANGE, args(Arg.BOW to bowId, Arg.CHANGE to kind.name, Arg.MOVE to trim.moveMm)) }
    }

    private fun adjust(what: Adjustment): Pair<Int, () -> Unit> = when (what) {
        is Adjustment.Check -> R.string.see_the_check to { check(what.check) }
        is Adjustment.Spine -> R.string.see_the_check to { check(CheckItem.ARROW_SPINE) }
        is Adjustment.Arrow -> R.string.see_the_trial to { host.go(Route.TRIAL, args(Arg.TRIAL to what.trial)) }
        is Adjustment.Contradiction -> R.string.see_the_trial to { host.go(Route.TRIAL, args(Arg.TRIAL to what.trial)) }
        is Adjustment.Contact -> R.string.see_the_check to { check(CheckItem.VANE_CLEARANCE) }
        is Adjustment.CamsApart -> R.string.see_the_fitting to { host.backTo(Route.BOW) }
        is Adjustment.ConfirmSwap -> R.string.shoot_now to { shoot() }
        is Adjustment.Vertical -> moved(Knob.NOCK, what.trim)
    }

    private fun check(item: CheckItem) = host.go(Route.CHECK, args(Arg.BOW to bowId, Arg.CHECK to item.name))

    private fun shoot() = host.go(Route.SHOOT, args(Arg.BOW to bowId))

    private fun start(to: Fitting, why: FittingReason, verdict: Long?) {
        host.ask({ it.startSwap(bowId, to, why, verdict, host.nowMs()) }) {
            host.swapFor(Route.SWAP, args(Arg.BOW to bowId))
        }
    }

    private companion object {
        const val RUNNERS_UP = 3
        const val CHANCES = "chances"
    }
}
