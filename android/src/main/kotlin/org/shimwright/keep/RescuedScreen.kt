package org.shimwright.keep

import android.content.Context
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
import org.shimwright.kit.counted
import org.shimwright.kit.fact
import org.shimwright.kit.units

data class RescuedState(val contested: List<Bow>, val unread: List<Unread>, val units: Units)

/** What was saved of a damaged workshop, and what is missing. */
class RescuedScreen(host: Host, args: Bundle, kept: Bundle) : Screen<RescuedState>(host, args, kept) {
    override fun build(workshop: Workshop, kept: Bundle) = RescuedState(workshop.contestedBows(), workshop.unread(), workshop.units())

    override fun draw(page: Page, state: RescuedState) {
        val context = page.context
        val figures = Figures(context, state.units)
        val told = TABLES.mapNotNull { (table, words) -> count(table)?.let { words to it } }
        page.head(context.getString(R.string.rescue))
        page.body.card {
            answer(context.inAll(told.sumOf { (_, count) -> count.missing }, told.any { (_, count) -> count.atLeast }))
            body(context.getString(R.string.rescued_how))
            for ((words, count) in told) {
                val rest = figures.count(count.saved)
                val said = count.words?.let { context.getString(it, rest, figures.count(count.missing)) }
                fact(context.getString(words), said ?: rest)
            }
        }
        page.body.contestedBows(state.contested) { host.go(Route.BOW, args(Arg.BOW to it)) }
        page.body.unreadRows(state.unread)
        page.bar { action(context.getString(R.string.merge_backup)) { host.go(Route.MERGE) } }
        page.main(context.getString(R.string.to_rack)) { host.backTo(Route.RACK) }
    }

    private fun Context.inAll(missing: Long, atLeast: Boolean): String {
        val words = if (atLeast) R.plurals.rescued_missing_least else R.plurals.rescued_missing
        return when {
            missing > 0 -> counted(words, missing.toInt())
            else -> getString(if (atLeast) R.string.rescued_unsure else R.string.rescued_all)
        }
    }

    private fun count(table: String): Count? = args.getLongArray(table)?.let { (saved, missing, least) ->
        Count(saved, missing, least != 0L)
    }

    /** What was saved of a table, what is missing, and whether more may be. */
    private class Count(val saved: Long, val missing: Long, val atLeast: Boolean) {
        /** What is said beside the saved ones; null where nothing is to be said. */
        val words
            get() = when {
                missing > 0 -> if (atLeast) R.string.saved_lost_least else R.string.saved_lost
                else -> R.string.saved_unsure.takeIf { atLeast }
            }
    }
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
    for (one in tables) {
        putLongArray(one.table, longArrayOf(one.saved.toLong(), one.missing.toLong(), if (one.atLeast) 1 else 0))
    }
}
