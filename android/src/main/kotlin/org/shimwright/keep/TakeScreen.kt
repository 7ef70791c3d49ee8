package org.shimwright.keep

import android.content.Intent
import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.BackupTaken
import org.shimwright.core.BackupUse
import org.shimwright.core.Held
import org.shimwright.core.Holding
import org.shimwright.core.Progress
import org.shimwright.core.Workshop
import org.shimwright.frame.Host
import org.shimwright.frame.Question
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Units
import org.shimwright.kit.action
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.caution
import org.shimwright.kit.counted
import org.shimwright.kit.fact
import org.shimwright.kit.note
import org.shimwright.kit.units

/** How far the taking of a backup is. */
enum class Taking { CHOOSING, COPYING, LOOKING, READY, TAKING, FINISHING }

data class TakeState(
    val stage: Taking,
    val at: Progress?,
    /** What is in the backup, once it was looked into. */
    val held: Held?,
    val here: Holding,
    /** Screens that were left with something unsaved. */
    val drafts: Int,
    val units: Units,
    val nowMs: Long,
) {
    /** Whether there is anything here that a restore would replace. */
    val anythingHere get() = here.counts.any { it.second > 0u }
}

/** Puts a backup in the place of what is here. */
class RestoreScreen(host: Host, args: Bundle, kept: Bundle) : TakeScreen(BackupUse.RESTORE, host, args, kept)

/** Unites what is here with the backup of another phone. */
class MergeScreen(host: Host, args: Bundle, kept: Bundle) : TakeScreen(BackupUse.MERGE, host, args, kept)

/** Takes a backup: chosen, copied, looked into, and only then, after a question, put in place. */
abstract class TakeScreen(private val used: BackupUse, host: Host, args: Bundle, kept: Bundle) : Screen<TakeState>(host, args, kept) {
    private class Run(val coming: Coming, var stage: Taking, var at: Progress? = null, var held: Held? = null)

    @Volatile private var run: Run? = null
    private val merging get() = used == BackupUse.MERGE

    override val keepsAwake get() = run != null

    override fun build(workshop: Workshop, kept: Bundle): TakeState {
        val now = run
        val stage = now?.stage ?: Taking.CHOOSING
        return TakeState(stage, now?.at, now?.held, workshop.holding(), host.drafts.count, workshop.units(), host.nowMs())
    }

    override fun draw(page: Page, state: TakeState) {
        val context = page.context
        val figures = Figures(context, state.units)
        page.head(context.getString(if (merging) R.string.merge else R.string.restore))
        when (state.stage) {
            Taking.CHOOSING -> choosing(page)
            Taking.READY -> ready(page, state, figures)
            Taking.FINISHING -> page.body.underWay(R.string.take_finishing, null, figures)
            else -> working(page, state, figures)
        }
    }

    private fun choosing(page: Page) {
        page.body.card {
            answer(context.getString(if (merging) R.string.merge_what else R.string.restore_what))
            body(context.getString(if (merging) R.string.merge_how else R.string.restore_how))
        }
        page.main(page.context.getString(R.string.choose_backup)) { host.call(host.documents.pick(), PICK) }
    }

    private fun working(page: Page, state: TakeState, figures: Figures) {
        page.body.underWay(if (state.stage == Taking.TAKING) R.string.take_running else R.string.take_reading, state.at, figures)
        page.bar { action(context.getString(R.string.stop_waiting)) { onStop() } }
    }

    private fun ready(page: Page, state: TakeState, figures: Figures) {
        val context = page.context
        val held = state.held ?: return
        page.body.card {
            answer(context.getString(R.string.take_made, figures.since(held.madeMs, state.nowMs)))
            compared(held.holding, state.here, figures)
        }
        page.body.card { body(context.getString(if (merging) R.string.merge_means else R.string.restore_means)) }
        if (state.drafts > 0) {
            val words = context.counted(R.plurals.take_drafts, state.drafts)
            page.body.caution(words, context.getString(R.string.take_drafts_how))
        }
        page.bar { action(context.getString(R.string.not_now)) { onStop() } }
        page.main(context.getString(if (merging) R.string.merge_now else R.string.restore_now)) { asked(state) }
    }

    private fun Column.compared(there: Holding, here: Holding, figures: Figures) {
        note(context.getString(R.string.take_compared))
        for ((index, count) in there.counts.withIndex()) {
            val mine = figures.count(here.counts[index].second.toLong())
            fact(context.getString(count.first), context.getString(R.string.there_here, figures.count(count.second.toLong()), mine))
        }
    }

    /** What replaces something asks first. */
    private fun asked(state: TakeState) {
        if (!state.anythingHere) {
            take()
        } else if (merging) {
            host.confirm(Question(R.string.merge_question, R.string.merge_question_words, R.string.merge_now)) { take() }
        } else {
            host.confirm(Question(R.string.restore_question, R.string.restore_question_words, R.string.restore_now)) { take() }
        }
    }

    override fun onAnswer(code: Int, answer: Intent?) {
        val document = answer?.data ?: return
        onStop()
        val fresh = Run(Coming(host.documents, document, used), Taking.COPYING)
        run = fresh
        refresh()
        copy(fresh)
    }

    private fun copy(now: Run): Unit = ask(now, { now.coming.copySome() }) { at ->
        now.at = at
        if (at.goesOn) copy(now) else look(now)
    }

    private fun look(now: Run) {
        to(now, Taking.LOOKING)
        ask(now, { now.coming.look(it, host.photos.folder) }) { held ->
            now.held = held
            to(now, Taking.READY)
        }
    }

    private fun take() {
        val now = run ?: return
        to(now, Taking.TAKING)
        bring(now)
    }

    private fun bring(now: Run): Unit = ask(now, { now.coming.takeSome() }) { at ->
        now.at = at
        if (at.goesOn) bring(now) else finish(now)
    }

    private fun to(now: Run, stage: Taking) {
        now.stage = stage
        now.at = null
        refresh()
    }

    /** Runs [work] on the worker; its outcome counts while [now] is still what the user waits for. */
    private fun <T> ask(now: Run, work: (Workshop) -> T, then: (T) -> Unit) {
        host.ask({ shop -> runCatching { work(shop) } }) { outcome ->
            if (now !== run) return@ask
            outcome.onSuccess(then).onFailure { failed(it) }
            if (now === run && now.stage != Taking.READY) refresh()
        }
    }

    /** From here on it is done or not done, whatever the user does meanwhile: numbers kept from before count no longer. */
    private fun finish(now: Run) {
        to(now, Taking.FINISHING)
        val before = shown?.here
        host.settle({ shop ->
            host.wishes.generation += 1
            now.coming.finish(shop)
        }) { outcome ->
            outcome.onSuccess { taken(now, it, before) }.onFailure {
                run = null
                host.settle({ now.coming.end() }) {}
                refresh()
                host.trouble(it)
            }
        }
    }

    private fun taken(now: Run, taken: BackupTaken, before: Holding?) {
        run = null
        host.wishes.setAside = null
        host.settle({ now.coming.end() }) {}
        host.startOver(Route.TAKEN, takenArgs(if (merging) How.MERGED else How.RESTORED, taken, before))
    }

    private fun failed(error: Throwable) {
        onStop()
        host.trouble(error)
    }

    override fun onStop() {
        val now = run ?: return
        if (now.stage == Taking.FINISHING) return
        run = null
        host.settle({ now.coming.end() }) {}
        refresh()
    }

    override fun onBack(): Boolean {
        val working = run != null
        onStop()
        return working
    }

    private companion object {
        const val PICK = 1
    }
}
