package org.shimwright.swap

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.Found
import org.shimwright.core.Purpose
import org.shimwright.core.Step
import org.shimwright.core.StepKind
import org.shimwright.core.SwapPage
import org.shimwright.core.Workshop
import org.shimwright.core.WorkshopException
import org.shimwright.core.wantsResolve
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.frame.args
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Lock
import org.shimwright.kit.Page
import org.shimwright.kit.Palette
import org.shimwright.kit.Type
import org.shimwright.kit.Weight
import org.shimwright.kit.action
import org.shimwright.kit.answer
import org.shimwright.kit.axleWord
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.fittingWords
import org.shimwright.kit.hold
import org.shimwright.kit.progress
import org.shimwright.kit.scene
import org.shimwright.kit.seatWords
import org.shimwright.kit.sideways
import org.shimwright.kit.strong
import org.shimwright.kit.words

/** The guide through a swap: one step at a time, cautions first, the phone kept awake. */
class SwapScreen(host: Host, args: Bundle, kept: Bundle) : Screen<SwapState>(host, args, kept) {
    private val bowId = args.getLong(Arg.BOW)
    private val lock = Lock(LOCK_MS)
    private val found = FoundInside(kept, lock, ::refresh, ::tell)

    override val keepsAwake = true

    override fun build(workshop: Workshop, kept: Bundle) = swapState(workshop, bowId, kept)

    override fun draw(page: Page, state: SwapState) {
        val step = state.step
        page.part = state.part
        when {
            step == null -> over(page, state)
            state.answering == Answering.STOPPING -> stopping(page, state)
            state.answering == Answering.OVERVIEW -> overview(page, state)
            else -> step(page, state, step)
        }
    }

    /** Back is a step back, never a way past stopping: from the first step it asks whether to stop. */
    override fun onBack(): Boolean {
        val state = shown ?: return false
        when {
            state.step == null -> host.backTo(Route.BOW)
            state.answering != Answering.NOT -> stop(Answering.NOT)
            state.number > 1 -> answer { it.swapBack(bowId, host.nowMs()) }
            else -> stop(Answering.STOPPING)
        }
        return true
    }

    private fun step(page: Page, state: SwapState, step: Step) {
        val context = page.context
        val figures = Figures(context, state.units)
        page.head(state.bow.bow.details.name, where(context, state, step))
        page.pin(context.progress(state.number - 1, state.of))
        correction(page.body, state)
        cautions(page.body, step)
        page.body.card {
            answer(context.stepTitle(step))
            put(context.words(Type.STEP, context.stepWords(step, state, figures)))
            state.scene?.let { scene(it, figures, spoken(context, state, step), LOW_DP.takeIf { sideways(context) }) }
        }
        if (step.kind == StepKind.CONFIRM_FOUND) found.ask(page.body, state, figures)
        bar(page, state, step)
    }

    /** The drawing of a step in words: the seat it is about, or the whole change. */
    private fun spoken(context: android.content.Context, state: SwapState, step: Step): String? = step.seat?.let(context::seatWords)
        ?: state.swap?.progress?.swap?.let {
            context.getString(R.string.change_spoken, context.fittingWords(it.origin), context.fittingWords(it.target))
        }

    private fun where(context: android.content.Context, state: SwapState, step: Step): String {
        val count = context.getString(R.string.step_of, state.number, state.of)
        return step.axle?.let { context.getString(R.string.two_facts, context.axleWord(it), count) } ?: count
    }

    /** After something else was found than the record said, the guide closes the bow up as it was. */
    private fun correction(body: Column, state: SwapState) {
        val purpose = state.swap?.progress?.swap?.purpose
        val fitted = state.swap?.fitted ?: return
        if (purpose == Purpose.FIT) return
        body.card(edge = Palette.of(body.context).brass) {
            strong(context.getString(if (purpose == Purpose.CLOSE_UP) R.string.record_corrected else R.string.putting_back))
            val words = if (purpose == Purpose.CLOSE_UP) R.string.record_corrected_words else R.string.putting_back_words
            body(context.getString(words, context.fittingWords(fitted.fitting)))
        }
    }

    private fun cautions(body: Column, step: Step) {
        if (step.cautions.isEmpty()) return
        val wants = Palette.of(body.context).wants
        body.card(edge = wants) {
            strong(context.getString(R.string.caution), wants)
            step.cautions.forEach { body(context.getString(cautionWord(it))) }
        }
    }

    private fun bar(page: Page, state: SwapState, step: Step) {
        val context = page.context
        if (step.kind == StepKind.CONFIRM_FOUND) found.answers(page, state) else confirm(page, step)
        page.bar {
            if (state.number > 1) action(context.getString(R.string.step_back)) { answer { it.swapBack(bowId, host.nowMs()) } }
            action(context.getString(R.string.all_steps)) { stop(Answering.OVERVIEW) }
            action(context.getString(R.string.stop_here)) { stop(Answering.STOPPING) }
        }
    }

    private fun confirm(page: Page, step: Step) {
        val word = page.context.getString(doneWord(step.kind))
        val done = { lock.pass { answer { it.swapDone(bowId, host.nowMs()) } } }
        if (wantsResolve(step.kind)) {
            val held = page.context.getString(R.string.hold_to, word)
            page.hold(held, held, done)
        } else {
            page.main(word, done)
        }
    }

    private fun overview(page: Page, state: SwapState) {
        val context = page.context
        page.head(state.bow.bow.details.name, context.getString(R.string.step_of, state.number, state.of))
        page.body.overview(state)
        page.main(context.getString(R.string.back_to_step)) { stop(Answering.NOT) }
    }

    /** A volume key confirms a step with gloves on; not one that asks for a resting finger, or for an answer. */
    override fun onNext(): Boolean {
        val kind = shown?.step?.kind ?: return false
        val plain = shown?.answering == Answering.NOT && kind != StepKind.CONFIRM_FOUND && !wantsResolve(kind)
        if (plain) lock.pass { answer { it.swapDone(bowId, host.nowMs()) } }
        return true
    }

    private fun stopping(page: Page, state: SwapState) {
        val context = page.context
        page.head(state.bow.bow.details.name, context.getString(R.string.step_of, state.number, state.of))
        page.body.card {
            answer(context.getString(R.string.stop_question))
            put(context.words(Type.STEP, context.getString(R.string.stop_words)))
        }
        page.body.action(context.getString(R.string.go_on_later)) { later() }
        page.body.action(context.getString(R.string.put_back_now), Weight.DANGER) { answer { it.undoSwap(bowId, host.nowMs()) } }
        page.main(context.getString(R.string.go_on_now)) { stop(Answering.NOT) }
    }

    private fun later() {
        kept.remove(SwapKey.ANSWERING)
        host.backTo(Route.BOW)
    }

    private fun stop(answering: Answering) {
        kept.putString(SwapKey.ANSWERING, answering.name)
        refresh()
    }

    private fun over(page: Page, state: SwapState) {
        val context = page.context
        val figures = Figures(context, state.units)
        page.head(state.bow.bow.details.name)
        page.body.card {
            answer(context.getString(R.string.swap_over))
            state.bow.fitted?.let { put(context.words(Type.STEP, context.getString(R.string.now_in, context.fittingWords(it.fitting)))) }
            state.scene?.let { scene(it, figures, state.bow.fitted?.let { entry -> context.fittingWords(entry.fitting) }) }
        }
        if (state.again.isNotEmpty()) page.body.lookAgain(state) { host.go(Route.CHECKS, args(Arg.BOW to bowId)) }
        page.body.card { body(context.getString(R.string.swap_over_next)) }
        page.main(context.getString(R.string.to_the_bow)) { host.backTo(Route.BOW) }
    }

    /** Two pieces that are no pair are not an error of the app but news: they show on the page, with what belongs to each. */
    private fun tell(what: Found) {
        lock.close()
        host.ask({ workshop ->
            try {
                workshop.swapFound(bowId, what, host.nowMs())
                null
            } catch (mixed: WorkshopException.MixedPair) {
                mixed
            }
        }) { mixed ->
            if (mixed == null) kept.clear() else keepMixed(mixed)
            lock.close()
            refresh()
        }
    }

    private fun keepMixed(mixed: WorkshopException.MixedPair) {
        kept.putString(SwapKey.ANSWERING, Answering.MIXED.name)
        kept.putDouble(SwapKey.LEFT_MM, mixed.leftMm)
        kept.putDouble(SwapKey.RIGHT_MM, mixed.rightMm)
    }

    /** Takes a step through the core; what was half answered is forgotten once the core has taken it. */
    private fun answer(step: (Workshop) -> SwapPage) {
        lock.close()
        host.ask(step) {
            kept.clear()
            lock.close()
            refresh()
        }
    }

    private companion object {
        /** How high a drawing may be where the window is low, dp: its figures must be seen without scrolling. */
        const val LOW_DP = 170

        /** Longer than the gap of a double tap (300 ms by the system), shorter than reading a step. */
        const val LOCK_MS = 700L
    }
}
