package org.shimwright.history

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.FittingRecord
import org.shimwright.core.Happening
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Question
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.frame.args
import org.shimwright.keep.unreadRows
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Flow
import org.shimwright.kit.Page
import org.shimwright.kit.SceneView
import org.shimwright.kit.Type
import org.shimwright.kit.action
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.caution
import org.shimwright.kit.door
import org.shimwright.kit.note
import org.shimwright.kit.pressable
import org.shimwright.kit.scene
import org.shimwright.kit.sideways
import org.shimwright.kit.title
import org.shimwright.kit.words

/** The bow's diary: how the split moved, what was foretold, and what can be put back. */
class HistoryScreen(host: Host, args: Bundle, kept: Bundle) : Screen<HistoryState>(host, args, kept) {
    private val bowId = args.getLong(Arg.BOW)

    /** How many times their usual size the chart's letters have; told by the first page, which alone knows. */
    @Volatile
    private var letters = 1f

    override fun build(workshop: Workshop, kept: Bundle) = historyState(workshop, bowId, kept.getBoolean(CHOOSING), host.nowMs(), letters)

    override fun draw(page: Page, state: HistoryState) {
        val context = page.context
        val wanted = context.resources.configuration.fontScale
        if (wanted != letters) {
            letters = wanted
            refresh()
        }
        val figures = Figures(context, state.units)
        page.head(context.getString(if (state.choosing) R.string.put_back_title else R.string.history), state.bow)
        if (state.choosing) {
            page.body.note(context.getString(R.string.put_back_how))
        } else {
            val chart = state.chart?.takeIf { sideways(context) }
            // A wide window shows the chart whole, beside what happened.
            when (chart) {
                null -> chart(page.body, state, figures)
                else -> page.picture(SceneView(context, chart, figures, context.spokenChart(state, figures)))
            }
            track(page.body, state, figures)
            page.body.unreadRows(state.history.unread) { host.go(Route.KEEP) }
            apart(page.body, state)
        }
        val words = HappeningWords(context, figures, state)
        for (happening in state.shown) entry(page.body, happening, words, figures, state)
        if (state.shown.isEmpty()) page.body.card { answer(context.getString(R.string.history_empty)) }
        bar(page, state)
    }

    override fun onBack(): Boolean {
        val choosing = shown?.choosing == true
        if (choosing) choose(false)
        return choosing
    }

    private fun chart(body: Column, state: HistoryState, figures: Figures) {
        val scene = state.chart
        val context = body.context
        body.card {
            title(context.getString(R.string.history_chart))
            if (scene != null) {
                scene(scene, figures, context.spokenChart(state, figures))
                note(context.getString(R.string.history_legend))
            } else {
                body(context.getString(R.string.history_chart_empty))
            }
        }
    }

    private fun apart(body: Column, state: HistoryState) {
        if (!state.contested) return
        body.caution(body.context.getString(R.string.contested), body.context.getString(R.string.contested_how))
        body.door(body.context.getString(R.string.contested_see)) { host.backTo(Route.BOW) }
    }

    private fun track(body: Column, state: HistoryState, figures: Figures) {
        val track = state.history.track
        if (track.predictions == 0u) return
        val count = track.predictions.toInt()
        body.card {
            title(context.getString(R.string.track_title))
            body(context.resources.getQuantityString(R.plurals.track_inside, count, track.in95.toInt(), count))
            note(context.getString(R.string.track_miss, figures.size(track.rmsMissMm)))
        }
    }

    private fun entry(body: Column, happening: Happening, words: HappeningWords, figures: Figures, state: HistoryState) {
        val title = words.title(happening)
        val day = figures.since(happening.atMs(), state.nowMs)
        val notes = words.notes(happening)
        val press = press(happening, state)
        val card = body.card {
            val line = Flow(context, spread = true)
            line.addView(context.words(Type.STRONG, title))
            line.addView(context.words(Type.NOTE, day))
            put(line)
            notes.forEach { note(it) }
        }
        if (press != null) card.pressable((listOf(title, day) + notes).joinToString(), press)
    }

    /** What a press on a line opens; nothing for what there is no more to say about. */
    private fun press(happening: Happening, state: HistoryState): (() -> Unit)? = when (happening) {
        is Happening.Shot -> ({ host.go(Route.TRIAL, args(Arg.TRIAL to happening.trialId)) })
        is Happening.Judged -> ({ host.go(Route.VERDICT, args(Arg.BOW to bowId, Arg.VERDICT to happening.verdictId)) })
        is Happening.Fitted -> if (state.canPutBack(happening.entry)) ({ putBack(happening.entry) }) else null
        is Happening.Changed -> ({ host.go(Route.CHANGE, args(Arg.BOW to bowId, Arg.CHANGED to happening.record.id)) })
    }

    private fun putBack(entry: FittingRecord) {
        val question =
            Question(R.string.put_back, R.string.put_back_words, R.string.start_swap, entry.fitting.top.pair, entry.fitting.bottom.pair)
        host.confirm(question) {
            host.ask({ it.putBack(bowId, entry.id, host.nowMs()) }) { host.swapFor(Route.SWAP, args(Arg.BOW to bowId)) }
        }
    }

    private fun bar(page: Page, state: HistoryState) {
        val context = page.context
        if (state.choosing) {
            page.bar { action(context.getString(R.string.not_now)) { choose(false) } }
        } else if (state.anyToPutBack) {
            page.bar { action(context.getString(R.string.put_back_earlier)) { choose(true) } }
        }
    }

    private fun choose(on: Boolean) {
        kept.putBoolean(CHOOSING, on)
        refresh()
    }

    private companion object {
        const val CHOOSING = "choosing"
    }
}
