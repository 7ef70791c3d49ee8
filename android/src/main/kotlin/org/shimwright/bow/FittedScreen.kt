package org.shimwright.bow

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.Axle
import org.shimwright.core.BowPage
import org.shimwright.core.Scene
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Units
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.fittingWords
import org.shimwright.kit.scene
import org.shimwright.kit.units

/** What the user says is in the bow, and how that looks. */
data class FittedState(val page: BowPage, val top: Chosen, val bottom: Chosen, val scene: Scene?, val units: Units) {
    val fitting get() = fitting(top, bottom)
}

/** Says what is fitted in a bow without the guide: when it is taken in, or when the work was done elsewhere. */
class FittedScreen(host: Host, args: Bundle, kept: Bundle) : Screen<FittedState>(host, args, kept) {
    private val bowId = args.getLong(Arg.BOW)
    private val seats = Seats(kept, ::refresh)

    override fun build(workshop: Workshop, kept: Bundle): FittedState {
        val page = workshop.bowPage(bowId)
        val before = page.fitted?.fitting
        val top = seats.chosen(kept, Axle.TOP, page.kit, before?.top)
        val bottom = seats.chosen(kept, Axle.BOTTOM, page.kit, before?.bottom)
        val fitting = fitting(top, bottom)
        val scene = page.kit?.let { kit -> fitting?.let { workshop.fittingScene(kit.id, it) } }
        return FittedState(page, top, bottom, scene, workshop.units())
    }

    override fun draw(page: Page, state: FittedState) {
        val context = page.context
        val figures = Figures(context, state.units)
        page.head(context.getString(R.string.say_fitted), state.page.bow.details.name)
        page.body.card {
            val fitting = state.fitting
            answer(fitting?.let(context::fittingWords) ?: context.getString(R.string.fitted_question))
            if (fitting == null) body(context.getString(R.string.fitted_question_how))
            state.scene?.let { scene(it, figures, fitting?.let(context::fittingWords)) }
        }
        seats.ask(page.body, state.page.kit, state.top, state.bottom, figures)
        page.missing(context.seatsMissing(state.top, state.bottom))
        page.main(context.getString(R.string.save)) { save(state) }.isEnabled = state.fitting != null
    }

    private fun save(state: FittedState) {
        val fitting = state.fitting ?: return
        host.ask({ it.recordFitting(bowId, fitting, host.nowMs()) }) { host.backTo(Route.BOW) }
    }
}
