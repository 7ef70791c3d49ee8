package org.shimwright.bow

import android.content.Context
import android.os.Bundle
import org.shimwright.R
import org.shimwright.checks.damage
import org.shimwright.core.BowPage
import org.shimwright.core.CheckState
import org.shimwright.core.FittingRecord
import org.shimwright.core.Scene
import org.shimwright.core.Waits
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Draft
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.frame.args
import org.shimwright.keep.contested
import org.shimwright.keep.unreadRows
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Palette
import org.shimwright.kit.SceneView
import org.shimwright.kit.Units
import org.shimwright.kit.action
import org.shimwright.kit.actions
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.caution
import org.shimwright.kit.chip
import org.shimwright.kit.counted
import org.shimwright.kit.door
import org.shimwright.kit.fact
import org.shimwright.kit.fittingWords
import org.shimwright.kit.isDone
import org.shimwright.kit.note
import org.shimwright.kit.scene
import org.shimwright.kit.sideways
import org.shimwright.kit.strong
import org.shimwright.kit.units
import org.shimwright.kit.waitsTone
import org.shimwright.kit.waitsWords
import org.shimwright.verdict.judge

/** One bow: what is fitted, why, and what to do next. */
data class BowState(
    val page: BowPage,
    val scene: Scene?,
    val drafts: List<Draft>,
    val units: Units,
    /** The distance that the workshop's tolerance holds at, m. */
    val toleranceAtM: Double,
    val nowMs: Long,
) {
    val id get() = page.bow.id
    val open get() = page.checks.count { it.state == CheckState.OPEN }
    val failed get() = page.checks.count { it.state == CheckState.FAILED }

    /** Whether nobody has shot it here yet, nor looked it over: damage must be found before it is drawn. */
    val checksFirst get() = page.lastTrial == null && open > 0
}

class BowScreen(host: Host, args: Bundle, kept: Bundle) : Screen<BowState>(host, args, kept) {
    private val bowId = args.getLong(Arg.BOW)

    override fun build(workshop: Workshop, kept: Bundle): BowState {
        val page = workshop.bowPage(bowId)
        val scene = page.fitted?.takeIf { page.contested.isEmpty() }?.let { workshop.fittingScene(it.kitId, it.fitting) }
        val at = workshop.settings().toleranceDistanceM
        return BowState(page, scene, host.drafts.ofBow(bowId), workshop.units(), at, host.nowMs())
    }

    override fun draw(page: Page, state: BowState) {
        val context = page.context
        val figures = Figures(context, state.units)
        page.head(state.page.bow.details.name, context.ownerLine(state))
        val words = state.page.fitted?.let { context.fittingWords(it.fitting) }
        val beside = state.scene?.takeIf { sideways(context) }
        // A wide window shows the drawing whole, beside the words.
        if (beside != null) page.picture(SceneView(context, beside, figures, context.getString(R.string.drawing_of, words)))
        halfDone(page.body, state)
        page.body.damage(state.page.checks)
        state.drafts.forEach { draft(page.body, it, state, figures) }
        page.body.contested(state.page.contested, figures, state.nowMs) { fitting ->
            host.ask({ it.recordFitting(bowId, fitting, host.nowMs()) }) { refresh() }
        }
        page.body.unreadRows(state.page.unread) { host.go(Route.KEEP) }
        fitted(page.body, state, figures)
        doors(page.body, state)
        facts(page.body, state, figures)
        main(page, state)
    }

    /** A bow that lies open on the press must not pass for a finished one. */
    private fun halfDone(body: Column, state: BowState) {
        val waits = state.page.waits as? Waits.SwapHalfDone ?: return
        val context = body.context
        body.caution(
            context.getString(R.string.open_on_press),
            context.getString(R.string.open_on_press_words, waits.confirmed.toInt(), waits.steps.toInt()),
        )
    }

    private fun draft(body: Column, draft: Draft, state: BowState, figures: Figures) = body.card(edge = Palette.of(body.context).brass) {
        val words = if (draft.route == Route.PHOTO) R.string.draft_photo else R.string.draft_typed
        strong(context.getString(words, figures.since(draft.atMs, state.nowMs)))
        actions {
            action(context.getString(R.string.draft_drop)) { drop(draft) }
            action(context.getString(R.string.draft_go_on)) { host.go(draft.route, draft.args) }
        }
    }

    private fun drop(draft: Draft) {
        host.drafts.drop(draft.route, draft.args)
        refresh()
        host.offerUndo(R.string.draft_dropped) {
            host.drafts.keep(draft)
            refresh()
        }
    }

    private fun fitted(body: Column, state: BowState, figures: Figures) {
        val entry = state.page.fitted
        body.card {
            if (entry == null) {
                answer(context.getString(R.string.bow_nothing_known))
                body(context.getString(R.string.bow_nothing_known_how))
            } else {
                known(entry, state, figures)
            }
            // What it waits for hangs on what is fitted.
            if (state.page.contested.isNotEmpty() && state.page.swap == null) return@card
            put(
                org.shimwright.kit.Flow(context).apply {
                    addView(context.chip(context.waitsWords(state.page.waits), waitsTone(state.page.waits)))
                },
            )
        }
    }

    private fun Column.known(entry: FittingRecord, state: BowState, figures: Figures) {
        if (state.page.contested.isNotEmpty()) {
            // The newest entry is no better than the others before someone has looked.
            answer(context.getString(R.string.contested_unsure))
            return
        }
        val words = context.fittingWords(entry.fitting)
        answer(words)
        note(context.why(entry, figures, state.nowMs))
        if (!sideways(context)) state.scene?.let { scene(it, figures, context.getString(R.string.drawing_of, words)) }
        state.page.arrangement?.let { offset(it, figures) }
    }

    private fun doors(body: Column, state: BowState) {
        val context = body.context
        val about = args(Arg.BOW to state.id)
        if (state.checksFirst) checks(body, state, about)
        val shoots = state.page.waits.let { it == Waits.Trial || it is Waits.Arrows || it.isDone }
        if (state.page.fitted != null && state.page.swap == null && !shoots) {
            body.door(context.getString(R.string.shoot), context.getString(R.string.shoot_note)) { host.go(Route.SHOOT, about) }
        }
        val verdict = state.page.lastVerdict
        if (verdict != null) {
            val shown = args(Arg.BOW to state.id, Arg.VERDICT to verdict.id)
            val since = Figures(context, state.units).since(verdict.atMs, state.nowMs)
            val note = if (state.page.verdictStands) since else context.getString(R.string.verdict_stale_note, since)
            body.door(context.getString(R.string.verdict_last), note) { host.go(Route.VERDICT, shown) }
        }
        if (state.page.fitted != null) {
            body.door(context.getString(R.string.history), context.getString(R.string.history_note)) { host.go(Route.HISTORY, about) }
        }
        if (state.page.lastTrial != null) {
            body.door(context.getString(R.string.share), context.getString(R.string.share_note)) { host.go(Route.SHARE, about) }
        }
        setUpDoors(body, state, about)
    }

    private fun checks(body: Column, state: BowState, about: Bundle) {
        val context = body.context
        body.door(context.getString(R.string.checks), context.checksLine(state)) { host.go(Route.CHECKS, about) }
    }

    /** What is entered about the bow besides shots. */
    private fun setUpDoors(body: Column, state: BowState, about: Bundle) {
        val context = body.context
        if (!state.checksFirst) checks(body, state, about)
        body.door(context.getString(R.string.arrows), context.arrowsNote(state)) { host.go(Route.ARROWS, about) }
        body.door(context.getString(R.string.change), context.getString(R.string.change_note)) { host.go(Route.CHANGE, about) }
        if (state.page.kit != null && state.page.swap == null) {
            val title = if (state.page.fitted == null) R.string.say_fitted else R.string.correct_fitted
            body.door(context.getString(title), context.getString(R.string.say_fitted_note)) { host.go(Route.FITTED, about) }
        }
        if (state.page.kit != null) {
            body.door(context.getString(R.string.remember), context.getString(R.string.remember_note)) { host.go(Route.REMEMBER, about) }
        }
        body.door(context.getString(R.string.details), state.page.kit?.kit?.name) { host.go(Route.DETAILS, about) }
    }

    private fun facts(body: Column, state: BowState, figures: Figures) {
        val bow = state.page.bow.details
        body.card {
            fact(context.getString(R.string.axle_to_axle), figures.length(bow.axleToAxleMm))
            bow.braceHeightMm?.let { fact(context.getString(R.string.brace_height), figures.length(it)) }
            bow.drawWeightN?.let { fact(context.getString(R.string.draw_weight), figures.weight(it)) }
            bow.drawLengthMm?.let { fact(context.getString(R.string.draw_length), figures.length(it)) }
            fact(context.getString(R.string.rest_place), figures.restPlace(state.page.setup.restMm))
            fact(context.getString(R.string.nock_place), figures.nockPlace(state.page.setup.nockMm))
            bow.toleranceMm?.let { fact(context.getString(R.string.tolerance), context.tolerance(it, state, figures)) }
            if (bow.notes.isNotBlank()) note(bow.notes)
        }
        val off = state.page.bow.archivedMs != null
        body.door(context(body, if (off) R.string.put_on_rack else R.string.take_off_rack)) { rackOrNot(!off, state) }
    }

    private fun context(body: Column, words: Int) = body.context.getString(words)

    private fun rackOrNot(off: Boolean, state: BowState) {
        host.ask({ it.archiveBow(state.id, off, host.nowMs()) }) {
            host.backTo(Route.RACK)
            if (off) host.offerUndo(R.string.taken_off_rack) { rackOrNot(false, state) }
        }
    }

    private fun seeVerdict(state: BowState) {
        state.page.lastVerdict?.let { host.go(Route.VERDICT, args(Arg.BOW to state.id, Arg.VERDICT to it.id)) }
    }

    private fun main(page: Page, state: BowState) {
        val about = args(Arg.BOW to state.id)
        if (state.page.contested.isNotEmpty() && state.page.swap == null) {
            page.main(page.context.getString(R.string.contested_other)) { host.go(Route.FITTED, about) }
            return
        }
        val (words, press) = when (val waits = state.page.waits) {
            is Waits.SwapHalfDone -> R.string.go_on_swap to { host.go(Route.SWAP, about) }
            is Waits.FailedCheck -> R.string.see_check to { host.go(Route.CHECK, args(Arg.BOW to state.id, Arg.CHECK to waits.item.name)) }
            Waits.Kit -> R.string.choose_kit to { host.go(Route.DETAILS, about) }
            Waits.Fitting -> R.string.say_fitted to { host.go(Route.FITTED, about) }
            Waits.Trial, is Waits.Arrows, Waits.Left, Waits.Nothing -> R.string.shoot to { host.go(Route.SHOOT, about) }
            Waits.Verdict -> R.string.ask_verdict to { host.judge(state.id) }
            Waits.Swap, Waits.Trim, Waits.Elsewhere, Waits.Adjustment -> R.string.see_verdict to { seeVerdict(state) }
        }
        page.main(page.context.getString(words), press)
    }
}

private fun Context.ownerLine(state: BowState): String {
    val bow = state.page.bow.details
    val hand = getString(if (bow.hand == org.shimwright.core.Hand.RIGHT) R.string.right_hand else R.string.left_hand)
    return if (bow.owner.isBlank()) hand else getString(R.string.two_facts, hand, bow.owner)
}

/** A tolerance means nothing without its distance: the bow's own, or the workshop's. */
private fun Context.tolerance(mm: Double, state: BowState, figures: Figures): String {
    val distanceM = state.page.bow.details.toleranceDistanceM ?: state.toleranceAtM
    return getString(R.string.size_at_distance, figures.length(mm), figures.distance(distanceM))
}

private fun Context.arrowsNote(state: BowState): String =
    state.page.arrowSetups.filter { it.archivedMs == null }.joinToString { it.name }.ifEmpty { getString(R.string.arrows_note) }

private fun Context.checksLine(state: BowState): String = when {
    state.failed > 0 -> counted(R.plurals.checks_failed, state.failed)
    state.checksFirst -> getString(R.string.checks_before_shots, counted(R.plurals.checks_open, state.open))
    state.open > 0 -> counted(R.plurals.checks_open, state.open)
    else -> getString(R.string.checks_right)
}
