package org.shimwright.keep

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.BackupTaken
import org.shimwright.core.Bow
import org.shimwright.core.Holding
import org.shimwright.core.Unread
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
import org.shimwright.kit.Units
import org.shimwright.kit.action
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.caution
import org.shimwright.kit.counted
import org.shimwright.kit.fact
import org.shimwright.kit.strong
import org.shimwright.kit.units

/** How another workshop came in place. The names are written into saved state: rename none. */
enum class How { RESTORED, MERGED, PUT_BACK }

data class TakenState(val here: Holding, val contested: List<Bow>, val unread: List<Unread>, val units: Units, val nowMs: Long)

/** What came of a restore or a merge, what a person must settle now, and the way back. */
class TakenScreen(host: Host, args: Bundle, kept: Bundle) : Screen<TakenState>(host, args, kept) {
    private val how = args.getString(HOW)?.let(How::valueOf) ?: How.RESTORED

    /** The workshop as it was, which can be put back. */
    private val replaced = args.getString(REPLACED)

    override fun build(workshop: Workshop, kept: Bundle) =
        TakenState(workshop.holding(), workshop.contestedBows(), workshop.unread(), workshop.units(), host.nowMs())

    override fun draw(page: Page, state: TakenState) {
        val context = page.context
        val figures = Figures(context, state.units)
        page.head(context.getString(if (how == How.MERGED) R.string.merge else R.string.restore))
        // What a bow must not be shot before stands over everything that went well.
        page.body.contestedBows(state.contested) { host.go(Route.BOW, args(Arg.BOW to it)) }
        page.body.card {
            answer(said(this, figures, state))
            counts(state, figures)
        }
        val missing = args.getLong(MISSING).toInt()
        if (missing > 0) {
            val words = context.counted(R.plurals.taken_missing, missing)
            page.body.caution(words, context.getString(R.string.taken_missing_how))
        }
        page.body.unreadRows(state.unread)
        if (how == How.MERGED) otherWay(page.body)
        if (replaced != null) back(page.body, replaced)
        page.main(context.getString(R.string.to_rack)) { host.backTo(Route.RACK) }
    }

    private fun said(card: Column, figures: Figures, state: TakenState): String = when (how) {
        How.RESTORED -> card.context.getString(R.string.taken_restored, figures.since(args.getLong(MADE), state.nowMs))
        How.MERGED -> card.context.getString(R.string.taken_merged, figures.since(args.getLong(MADE), state.nowMs))
        How.PUT_BACK -> card.context.getString(R.string.taken_put_back)
    }

    /** What is here now; after a merge also how much of it is new. */
    private fun Column.counts(state: TakenState, figures: Figures) {
        val before = args.getLongArray(BEFORE)?.takeIf { how == How.MERGED }
        for ((index, count) in state.here.counts.withIndex()) {
            val now = count.second.toLong()
            val fresh = before?.getOrNull(index)?.let { now - it } ?: 0
            val words = if (fresh > 0) context.getString(R.string.now_new, figures.count(now), figures.count(fresh)) else figures.count(now)
            fact(context.getString(count.first), words)
        }
        val added = args.getLong(ADDED)
        if (how != How.PUT_BACK) fact(context.getString(R.string.taken_photos), figures.count(added))
    }

    /** A merge takes in, but gives nothing: the other phone still lacks what was here. */
    private fun otherWay(body: Column) = body.card {
        strong(context.getString(R.string.merge_other_way))
        body(context.getString(R.string.merge_other_way_how))
        action(context.getString(R.string.backup)) { host.go(Route.BACKUP) }
    }

    private fun back(body: Column, replaced: String) = body.card {
        strong(context.getString(R.string.replaced_kept))
        body(context.getString(R.string.replaced_kept_how))
        action(context.getString(R.string.replaced_back)) { host.putFileBack(replaced) }
    }

    internal companion object {
        const val HOW = "how"
        const val MADE = "made"
        const val ADDED = "added"
        const val MISSING = "missing"
        const val REPLACED = "replaced"
        const val BEFORE = "before"
    }
}

/** What [TakenScreen] is to say; [before] is what was here. */
internal fun takenArgs(how: How, taken: BackupTaken, before: Holding?): Bundle = args(
    TakenScreen.HOW to how.name,
    TakenScreen.MADE to taken.madeMs,
    TakenScreen.ADDED to taken.photosAdded.toLong(),
    TakenScreen.MISSING to taken.photosMissing.toLong(),
).apply {
    taken.replaced?.let { putString(TakenScreen.REPLACED, it) }
    before?.let { putLongArray(TakenScreen.BEFORE, it.counts.map { count -> count.second.toLong() }.toLongArray()) }
}

/** Puts a workshop that was replaced back, after a question; what is here now is kept in its stead. */
internal fun Host.putFileBack(replaced: String) {
    confirm(Question(R.string.replaced_question, R.string.replaced_question_words, R.string.replaced_back)) {
        settle({ shop ->
            wishes.generation += 1
            shop.putFileBack(replaced)
        }) { outcome ->
            outcome.onSuccess { kept ->
                val said = args(TakenScreen.HOW to How.PUT_BACK.name)
                kept?.let { said.putString(TakenScreen.REPLACED, it) }
                startOver(Route.TAKEN, said)
            }.onFailure { trouble(it) }
        }
    }
}
