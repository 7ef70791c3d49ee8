package org.shimwright.rack

import android.os.Bundle
import android.widget.ListView
import android.widget.TextView
import org.shimwright.R
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.frame.Ticket
import org.shimwright.frame.args
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Type
import org.shimwright.kit.Weight
import org.shimwright.kit.action
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.dp
import org.shimwright.kit.search
import org.shimwright.kit.typed
import org.shimwright.kit.words

/** The list of bows: what is fitted, since when, and what each waits for. */
class RackScreen(host: Host, args: Bundle, kept: Bundle) : Screen<RackState>(host, args, kept) {
    private var looking: Ticket? = null

    /** A picture that another app shared and that still lacks its bow. */
    private val shared = args.getString(Arg.PHOTO)

    override fun build(workshop: Workshop, kept: Bundle) = rackState(workshop, kept.typed(SEARCH), host.nowMs())

    override fun draw(page: Page, state: RackState) {
        if (state.lines.isEmpty() && state.search.isBlank()) empty(page, state) else list(page, state)
    }

    private fun empty(page: Page, state: RackState) {
        val context = page.context
        page.head(context.getString(R.string.rack))
        page.body.card {
            answer(context.getString(R.string.rack_empty))
            body(context.getString(if (state.kits == 0) R.string.rack_empty_kit else R.string.rack_empty_bow))
        }
        page.bar {
            bench()
            if (state.kits == 0) {
                action(context.getString(R.string.add_kit), Weight.MAIN) { host.go(Route.KIT) }
            } else {
                action(context.getString(R.string.add_bow), Weight.MAIN) { host.go(Route.DETAILS) }
            }
        }
    }

    private fun list(page: Page, state: RackState) {
        val context = page.context
        val count = page.head(context.getString(R.string.rack), counted(page, state))
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
        page.pin(context.search(context.getString(R.string.rack_search), SEARCH, kept) { look(it, adapter, count, none, page) })
        found.put(none)
        found.addView(list, android.widget.LinearLayout.LayoutParams(-1, 0, 1f))
        page.fill(found)
        show(state, adapter, count, none, page)
        page.bar {
            bench()
            action(context.getString(R.string.add_bow), Weight.MAIN) { host.go(Route.DETAILS) }
        }
    }

    private fun org.shimwright.kit.Abreast.bench() = action(context.getString(R.string.bench)) { host.go(Route.BENCH) }

    private fun open(bowId: Long) {
        host.go(Route.BOW, args(Arg.BOW to bowId))
        if (shared != null) host.go(Route.SHOOT, args(Arg.BOW to bowId, Arg.PHOTO to shared))
    }

    /** Searches as the user types: only the last word typed matters, so an older search is given up. */
    private fun look(typed: String, adapter: RackAdapter, count: TextView?, none: TextView, page: Page) {
        looking?.cancel()
        looking = host.ask({ rackState(it, typed, host.nowMs()) }) { found ->
            hold(found)
            show(found, adapter, count, none, page)
        }
    }

    private fun show(state: RackState, adapter: RackAdapter, count: TextView?, none: TextView, page: Page) {
        adapter.show(state)
        count?.text = counted(page, state)
        none.visibility = if (state.lines.isEmpty()) android.view.View.VISIBLE else android.view.View.GONE
    }

    private fun counted(page: Page, state: RackState) =
        page.context.resources.getQuantityString(R.plurals.bows, state.lines.size, state.lines.size)

    private companion object {
        const val SEARCH = "search"
    }
}
