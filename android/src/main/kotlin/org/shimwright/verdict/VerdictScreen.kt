package org.shimwright.verdict

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.Adjustment
import org.shimwright.core.Call
import org.shimwright.core.Choice
import org.shimwright.core.FittingReason
import org.shimwright.core.Predicted
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.frame.args
import org.shimwright.kit.Abreast
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Weight
import org.shimwright.kit.action
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.caution
import org.shimwright.kit.chips
import org.shimwright.kit.emphasised
import org.shimwright.kit.fittingWords
import org.shimwright.kit.note
import org.shimwright.kit.scene
import org.shimwright.kit.section
import org.shimwright.kit.strong

/** What to do next with a bow: the answer, the picture that proves it, the spacers, and why. */
class VerdictScreen(host: Host, args: Bundle, kept: Bundle) : Screen<VerdictState>(host, args, kept) {
    private val bowId = args.getLong(Arg.BOW)
    private val verdictId = args.getLong(Arg.VERDICT)

    override fun build(workshop: Workshop, kept: Bundle) = verdictState(workshop, verdictId, host.nowMs())

    override fun draw(page: Page, state: VerdictState) {
        val figures = Figures(page.context, state.units)
        val words = CallWords(page.context, figures, state.trials)
        page.head(state.bow.bow.details.name, shotLine(page, state, figures))
        if (!state.stands) {
            page.body.card {
                body(context.getString(if (state.newest) R.string.verdict_bow_changed else R.string.verdict_older))
            }
        }
        first(page.body, state, figures, words)
        proof(page.body, state, words)
        spacers(page.body, state, figures)
        why(page.body, state, figures, words)
        otherwise(page.body, state, figures)
        others(page.body, state, figures)
        bar(page, state)
    }

    private fun shotLine(page: Page, state: VerdictState, figures: Figures): CharSequence {
        val split = state.verdict.splits.firstOrNull() ?: return figures.since(state.given.atMs, state.nowMs)
        return page.context.getString(
            R.string.verdict_shot,
            figures.distance(split.distanceM),
            split.probeArrows.toInt(),
            split.referenceArrows.toInt(),
        )
    }

    private fun first(body: Column, state: VerdictState, figures: Figures, words: CallWords) {
        val context = body.context
        body.card {
            answer(words.answer(state.call))
            words.details(state.call).forEach { body(it) }
            for (split in state.verdict.splits) {
                body(emphasised(words.lands(split), figures.side(split.xMm, SDS_95 * split.sdXMm).first))
            }
            if (state.verdict.splits.isEmpty()) return@card
            val predicted = state.verdict.predicted
            if (state.call is Call.Fit) {
                val (amount, spread) = figures.side(predicted.xMm, (predicted.high95Mm - predicted.low95Mm) / 2)
                body(emphasised(context.getString(R.string.verdict_expect, amount, spread), amount))
            }
            if (state.call is Call.Fit || state.call is Call.Keep) chips(*facts(body, state, figures, predicted))
            note(context.getString(R.string.verdict_interval))
        }
    }

    private fun facts(body: Column, state: VerdictState, figures: Figures, predicted: Predicted): Array<CharSequence> {
        val context = body.context
        val seen = if (state.verdict.response.seenOnThisBow) R.string.chip_seen else R.string.chip_not_seen
        val inside = context.getString(R.string.chip_inside, figures.chance(predicted.withinTolerance), figures.size(state.toleranceMm))
        return arrayOf(inside, context.getString(seen))
    }

    private fun proof(body: Column, state: VerdictState, words: CallWords) {
        val scene = state.scene ?: return
        val spoken = state.verdict.splits.joinToString(" ") { words.lands(it) }
        body.card { scene(scene, Figures(context, state.units), spoken) }
    }

    private fun spacers(body: Column, state: VerdictState, figures: Figures) {
        val scene = state.change ?: return
        val to = (state.call as? Call.Fit)?.fitting ?: return
        val from = state.then ?: return
        val context = body.context
        body.card {
            scene(scene, figures, context.getString(R.string.change_spoken, context.fittingWords(from), context.fittingWords(to)))
            val moves = moved(state)
            if (moves != null) note(figures.camMove(moves))
        }
        body.caution(context.getString(R.string.caution), context.getString(R.string.verdict_press))
    }

    /** How far the fitting moves the nock plane, mm. */
    private fun moved(state: VerdictState): Double? {
        val before = state.verdict.options.find { it.fitting == state.then } ?: return null
        return state.chosen?.let { it.offsetMm - before.offsetMm }
    }

    private fun why(body: Column, state: VerdictState, figures: Figures, words: CallWords) {
        val context = body.context
        body.section(context.getString(R.string.verdict_why))
        val reasons = ReasonWords(context, figures, words)
        body.card { state.reasons.forEach { body(reasons.of(it)) } }
    }

    private fun otherwise(body: Column, state: VerdictState, figures: Figures) {
        val context = body.context
        body.section(context.getString(R.string.verdict_otherwise))
        body.card { context.otherwise(state, figures).forEach { body(it) } }
    }

    private fun others(body: Column, state: VerdictState, figures: Figures) {
        val choices = state.others(RUNNERS_UP)
        if (choices.isEmpty()) return
        body.section(body.context.getString(R.string.verdict_others))
        for (choice in choices) body.card { choice(choice, state, figures) }
    }

    private fun Column.choice(choice: Choice, state: VerdictState, figures: Figures) {
        strong(if (choice.fitting == state.then) context.getString(R.string.as_it_is) else context.fittingWords(choice.fitting))
        val (amount, spread) = figures.side(choice.xMm, SDS_95 * choice.sdMm)
        body(context.getString(R.string.choice_expect, amount, spread, figures.chance(choice.withinTolerance)))
        val axles = choice.axlesOpened.toInt()
        if (axles > 0) note(context.resources.getQuantityString(R.plurals.axles_to_open, axles, axles))
        val behind = state.chosen?.let { choice.lossMm - it.lossMm } ?: return
        if (behind > 0) note(context.getString(R.string.choice_behind, figures.size(behind)))
    }

    private fun bar(page: Page, state: VerdictState) {
        val context = page.context
        val about = args(Arg.BOW to bowId)
        val call = state.call
        if (!state.stands) {
            page.main(context.getString(R.string.ask_anew)) { host.judge(bowId) }
            return
        }
        if (call is Call.Fit) page.main(context.getString(R.string.start_swap)) { start(call) }
        page.bar {
            when (call) {
                is Call.Fit -> {
                    action(context.getString(R.string.leave_it)) { host.backTo(Route.BOW) }
                    shoot(Weight.PLAIN)
                }

                is Call.Keep -> {
                    shoot(Weight.PLAIN)
                    action(context.getString(R.string.keep_it), Weight.MAIN) { host.backTo(Route.BOW) }
                }

                is Call.ShootMore -> shoot(Weight.MAIN)

                is Call.AdjustFirst -> {
                    shoot(Weight.PLAIN)
                    action(context.getString(adjustWord(call.what)), Weight.MAIN) { adjust(call.what, about) }
                }
            }
        }
    }

    private fun Abreast.shoot(weight: Weight) {
        action(context.getString(R.string.shoot_more), weight) { host.go(Route.SHOOT, args(Arg.BOW to bowId)) }
    }

    private fun start(call: Call.Fit) {
        host.ask({ it.startSwap(bowId, call.fitting, FittingReason.VERDICT, verdictId, host.nowMs()) }) {
            host.swapFor(Route.SWAP, args(Arg.BOW to bowId))
        }
    }

    private fun adjustWord(what: Adjustment): Int = when (what) {
        is Adjustment.FailedCheck, is Adjustment.OpenCheck -> R.string.see_the_check
        is Adjustment.Arrow, is Adjustment.Contradiction, is Adjustment.Clearance -> R.string.see_the_trial
        is Adjustment.NockingPoint, is Adjustment.Spine -> R.string.say_changed
    }

    private fun adjust(what: Adjustment, about: Bundle) = when (what) {
        is Adjustment.FailedCheck -> host.go(Route.CHECK, args(Arg.BOW to bowId, Arg.CHECK to what.check.name))
        is Adjustment.OpenCheck -> host.go(Route.CHECK, args(Arg.BOW to bowId, Arg.CHECK to what.check.name))
        is Adjustment.Arrow -> host.go(Route.TRIAL, args(Arg.TRIAL to what.trial))
        is Adjustment.Contradiction -> host.go(Route.TRIAL, args(Arg.TRIAL to what.trial))
        is Adjustment.Clearance -> host.go(Route.TRIAL, args(Arg.TRIAL to what.trial))
        is Adjustment.NockingPoint, is Adjustment.Spine -> host.go(Route.CHANGE, about)
    }

    private companion object {
        const val RUNNERS_UP = 3
    }
}
