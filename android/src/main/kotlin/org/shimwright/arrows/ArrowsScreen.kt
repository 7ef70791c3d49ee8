package org.shimwright.arrows

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.ArrowSetupRecord
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.frame.args
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Units
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.door
import org.shimwright.kit.note
import org.shimwright.kit.section
import org.shimwright.kit.units

/** The arrow set-ups of a bow, each with what is worked out of it. */
internal data class ArrowsState(val bow: String, val arrows: List<Pair<ArrowSetupRecord, Worked>>, val units: Units)

internal class ArrowsScreen(host: Host, args: Bundle, kept: Bundle) : Screen<ArrowsState>(host, args, kept) {
    private val bowId = args.getLong(Arg.BOW)

    override fun build(workshop: Workshop, kept: Bundle): ArrowsState {
        val page = workshop.bowPage(bowId)
        val distance = workshop.usualDistance(bowId)
        return ArrowsState(page.bow.details.name, page.arrowSetups.map { it to workshop.workedOut(it.setup, distance) }, workshop.units())
    }

    override fun draw(page: Page, state: ArrowsState) {
        val context = page.context
        val figures = Figures(context, state.units)
        page.head(context.getString(R.string.arrows), state.bow)
        if (state.arrows.isEmpty()) {
            page.body.card {
                answer(context.getString(R.string.arrows_none))
                body(context.getString(R.string.arrows_why))
            }
        } else {
            page.body.note(context.getString(R.string.arrows_why))
        }
        val (used, away) = state.arrows.partition { (record, _) -> record.archivedMs == null }
        doors(page.body, used, figures)
        if (away.isNotEmpty()) page.body.section(context.getString(R.string.arrows_away))
        doors(page.body, away, figures)
        page.main(context.getString(R.string.add_arrows)) { host.go(Route.ARROW, args(Arg.BOW to bowId)) }
    }

    private fun doors(body: Column, arrows: List<Pair<ArrowSetupRecord, Worked>>, figures: Figures) {
        for ((record, worked) in arrows) {
            body.door(record.name, body.context.arrowLine(worked, record.setup, figures)) {
                host.go(Route.ARROW, args(Arg.BOW to bowId, Arg.ARROW to record.id))
            }
        }
    }
}
