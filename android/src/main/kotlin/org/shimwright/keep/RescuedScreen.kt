package org.shimwright.keep

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.Bow
import org.shimwright.core.SalvagedTable
import org.shimwright.core.Unread
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.frame.args
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Units
import org.shimwright.kit.action
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.fact
import org.shimwright.kit.units

data class RescuedState(val contested: List<Bow>, val unread: List<Unread>, val units: Units)

/** What was saved of a damaged workshop, and what is missing. */
class RescuedScreen(host: Host, args: Bundle, kept: Bundle) : Screen<RescuedState>(host, args, kept) {
    override fun build(workshop: Workshop, kept: Bundle) = RescuedState(workshop.contestedBows(), workshop.unread(), workshop.units())

    override fun draw(page: Page, state: RescuedState) {
        val context = page.context
        val figures = Figures(context, state.units)
        val missing = TABLES.keys.sumOf { table -> count(table)?.get(1) ?: 0 }
        page.head(context.getString(R.string.rescue))
        page.body.card {
            answer(
                if (missing == 0L) {
                    context.getString(R.string.rescued_all)
                } else {
                    context.resources.getQuantityString(R.plurals.rescued_missing, missing.toInt(), missing.toInt())
                },
            )
            body(context.getString(R.string.rescued_how))
            for ((table, words) in TABLES) {
                val (saved, lost) = count(table) ?: continue
                val rest = figures.count(saved)
                val said = if (lost == 0L) rest else context.getString(R.string.saved_lost, rest, figures.count(lost))
                fact(context.getString(words), said)
            }
        }
        page.body.contestedBows(state.contested) { host.go(Route.BOW, args(Arg.BOW to it)) }
        page.body.unreadRows(state.unread)
        page.bar { action(context.getString(R.string.merge_backup)) { host.go(Route.MERGE) } }
        page.main(context.getString(R.string.to_rack)) { host.backTo(Route.RACK) }
    }

    private fun count(table: String): LongArray? = args.getLongArray(table)
}

/** The tables that people know, in the order of the job, with their words. */
private val TABLES = mapOf(
    "bow" to R.string.held_bows,
    "kit" to R.string.held_kits,
    "arrow_setup" to R.string.held_arrows,
    "fitting" to R.string.held_fittings,
    "trial" to R.string.held_trials,
    "verdict" to R.string.held_verdicts,
    "setup_check" to R.string.held_checks,
    "setup_change" to R.string.held_changes,
    "swap" to R.string.held_swaps,
)

internal fun rescuedArgs(tables: List<SalvagedTable>) = Bundle().apply {
    for (table in tables) putLongArray(table.table, longArrayOf(table.saved.toLong(), table.missing.toLong()))
}
