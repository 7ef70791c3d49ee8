package org.shimwright.rack

import android.os.Bundle
import android.view.View
import android.widget.LinearLayout
import android.widget.ListView
import android.widget.TextView
import org.shimwright.R
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.frame.Ticket
import org.shimwright.frame.Wishes
import org.shimwright.frame.args
import org.shimwright.kit.Abreast
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Flow
import org.shimwright.kit.Page
import org.shimwright.kit.Space
import org.shimwright.kit.Type
import org.shimwright.kit.Weight
import org.shimwright.kit.action
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.button
import org.shimwright.kit.card
import org.shimwright.kit.choose
import org.shimwright.kit.counted
import org.shimwright.kit.dp
import org.shimwright.kit.search
import org.shimwright.kit.strong
import org.shimwright.kit.typed
import org.shimwright.kit.words

/** The list of bows: what is fitted, since when, and what each waits for. */
class RackScreen(host: Host, args: Bundle, kept: Bundle) : Screen<RackState>(host, args, kept) {
    private var looking: Ticket? = null

    /** A picture that another app shared and that still lacks its bow. */
    private val shared = args.getString(Arg.PHOTO)

    /** A trial that was saved with the wrong bow and looks for the right one. */
    private val stray = if (args.containsKey(Arg.TRIAL)) args.getLong(Arg.TRIAL) else null

    override fun build(workshop: Workshop, kept: Bundle) = rackShown(workshop, kept.typed(SEARCH), sieve(kept), host.nowMs())

    private fun sieve(kept: Bundle) = kept.getString(SIEVE)?.let(Sieve::valueOf) ?: Sieve.ALL

    override fun draw(page: Page, state: RackState) {
        val count = page.head(page.context.getString(R.string.rack), if (state.empty) null else counted(page, state))
        camp(page)
        // A sieve that lets nothing through any more was left for the whole rack: it does not come back by itself.
        if (state.sieve == Sieve.ALL) kept.remove(SIEVE)
        if (state.empty) empty(page, state) else list(page, state, count)
    }

    /** One tap from day to dark and back, where the eyes are. */
    private fun camp(page: Page) {
        val context = page.context
        val wishes = Wishes.of(context)
        val spoken = context.getString(if (wishes.camp) R.string.camp_red_off else R.string.camp_red_on)
        page.corner(context.getString(if (wishes.camp) R.string.camp_off_sign else R.string.camp_on_sign), spoken) {
            wishes.camp = !wishes.camp
            host.restyle()
        }
    }

    private fun empty(page: Page, state: RackState) {
        val context = page.context
        val kit = state.kits > 0
        page.body.card {
            answer(context.getString(R.string.rack_empty))
            body(context.getString(R.string.rack_steps))
        }
        step(page.body, R.string.rack_step_kit, R.string.rack_step_kit_how, kit)
        step(page.body, R.string.rack_step_bow, R.string.rack_step_bow_how, false)
        step(page.body, R.string.rack_step_shots, R.string.rack_step_shots_how, false)
        page.bar {
            bench()
            val (words, route) = if (kit) R.string.add_bow to Route.DETAILS else R.string.add_kit to Route.KIT
            action(context.getString(words), Weight.MAIN) { host.go(route) }
        }
    }

    private fun step(body: Column, title: Int, how: Int, done: Boolean) = body.card {
        val name = context.getString(title)
        strong(if (done) context.getString(R.string.step_ticked, name) else name)
        body(context.getString(how))
    }

    private fun list(page: Page, state: RackState, count: TextView?) {
        val context = page.context
        val adapter = RackAdapter(context, Figures(context, state.units)) { open(it) }
        val none = context.words(Type.BODY, context.getString(R.string.rack_none)).apply { setPadding(dp(20), dp(12), dp(20), dp(12)) }
        val found = Column(context, 0)
        val list = ListView(context).apply {
            divider = null
            this.adapter = adapter
            clipToPadding = false
            setPadding(0, 0, 0, dp(4))
        }
        if (shared != null) page.pin(context.words(Type.STRONG, context.getString(R.string.shared_which_bow)))
        if (stray != null) page.pin(context.words(Type.STRONG, context.getString(R.string.stray_which_bow)))
        page.pin(context.search(context.getString(R.string.rack_search), SEARCH, kept) { look(it, adapter, count, none, page) })
        page.pin(sieves(page, state))
        if (state.allOff) page.pin(context.words(Type.STRONG, context.getString(R.string.rack_all_off)))
        found.put(none)
        found.addView(list, LinearLayout.LayoutParams(LinearLayout.LayoutParams.MATCH_PARENT, 0, 1f))
        page.fill(found)
        show(state, adapter, count, none, page)
        page.bar {
            bench()
            action(context.getString(R.string.add_bow), Weight.MAIN) { host.go(Route.DETAILS) }
        }
    }

    /** Only the bows of one kind; a kind that nobody has is not offered. */
    private fun sieves(page: Page, state: RackState): View {
        val flow = Flow(page.context, Space.SMALL)
        for (sieve in Sieve.entries) {
            val count = state.counts[sieve]
            if (count == 0 && sieve != state.sieve) continue
            val word = page.context.getString(sieveWord(sieve))
            val label = if (count == null) word else page.context.getString(R.string.sieve_count, word, count)
            val button = page.context.button(label) {
                kept.putString(SIEVE, sieve.name)
                refresh()
            }
            button.minHeight = page.dp(Space.TARGET)
            button.minimumHeight = page.dp(Space.TARGET)
            flow.addView(button.apply { choose(sieve == state.sieve) })
        }
        return flow
    }

    private fun sieveWord(sieve: Sieve) = when (sieve) {
        Sieve.ALL -> R.string.sieve_all
        Sieve.HALF_DONE -> R.string.sieve_half_done
        Sieve.TO_DO -> R.string.sieve_to_do
        Sieve.SETTLED -> R.string.sieve_settled
        Sieve.OFF -> R.string.off_the_rack
    }

    private fun Abreast.bench() = action(context.getString(R.string.bench)) { host.go(Route.BENCH) }

    private fun open(bowId: Long) {
        if (stray != null) {
            moveTrial(stray, bowId)
            return
        }
        host.go(Route.BOW, args(Arg.BOW to bowId))
        if (shared != null) host.go(Route.SHOOT, args(Arg.BOW to bowId, Arg.PHOTO to shared))
    }

    private fun moveTrial(trialId: Long, bowId: Long) = host.ask({ shop ->
        val before = shop.trial(trialId)
        shop.correctTrial(trialId, bowId, before.shot)
        before
    }) { before ->
        host.back()
        host.offerUndo(R.string.trial_moved) {
            host.ask({ it.correctTrial(trialId, before.bowId, before.shot) }) { host.refreshShown() }
        }
    }

    /** Searches as the user types: only the last word typed matters, so an older search is given up. */
    private fun look(typed: String, adapter: RackAdapter, count: TextView?, none: TextView, page: Page) {
        looking?.cancel()
        val sieve = sieve(kept)
        looking = host.ask({ rackShown(it, typed, sieve, host.nowMs()) }) { found ->
            hold(found)
            show(found, adapter, count, none, page)
        }
    }

    private fun show(state: RackState, adapter: RackAdapter, count: TextView?, none: TextView, page: Page) {
        adapter.show(state)
        count?.text = counted(page, state)
        none.visibility = if (state.lines.isEmpty()) View.VISIBLE else View.GONE
    }

    private fun counted(page: Page, state: RackState) = page.context.counted(R.plurals.bows, state.lines.size)

    private companion object {
        const val SEARCH = "search"
        const val SIEVE = "sieve"
    }
}
