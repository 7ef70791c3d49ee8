package org.shimwright.bow

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.Axle
import org.shimwright.core.BowPage
import org.shimwright.core.Fitting
import org.shimwright.core.KitRecord
import org.shimwright.core.Scene
import org.shimwright.core.Seat
import org.shimwright.core.Side
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Units
import org.shimwright.kit.answer
import org.shimwright.kit.axleWord
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.choice
import org.shimwright.kit.fittingWords
import org.shimwright.kit.scene
import org.shimwright.kit.section
import org.shimwright.kit.sides
import org.shimwright.kit.units

/** What the user says is in the bow, and how that looks. */
data class FittedState(val page: BowPage, val kit: KitRecord?, val top: Seat?, val bottom: Seat?, val scene: Scene?, val units: Units) {
    val fitting get() = if (top != null && bottom != null) Fitting(top, bottom) else null
}

/** Says what is fitted in a bow without the guide: when it is taken in, or when the work was done elsewhere. */
class FittedScreen(host: Host, args: Bundle, kept: Bundle) : Screen<FittedState>(host, args, kept) {
    private val bowId = args.getLong(Arg.BOW)

    override fun build(workshop: Workshop, kept: Bundle): FittedState {
        val page = workshop.bowPage(bowId)
        val before = page.fitted?.fitting
        val top = seat(kept, Axle.TOP, before?.top)
        val bottom = seat(kept, Axle.BOTTOM, before?.bottom)
        val kit = page.kit
        val scene = if (kit != null && top != null && bottom != null) workshop.fittingScene(kit.id, Fitting(top, bottom)) else null
        return FittedState(page, kit, top, bottom, scene, workshop.units())
    }

    private fun seat(kept: Bundle, axle: Axle, before: Seat?): Seat? {
        val pair = kept.getString(PAIR + axle.name) ?: before?.pair ?: return null
        val side = kept.getString(SIDE + axle.name)?.let(Side::valueOf) ?: before?.thick ?: return null
        return Seat(pair, side)
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
        for (axle in Axle.entries) axle(page.body, axle, state, figures)
        state.fitting?.let { fitting ->
            page.main(context.getString(R.string.save)) {
                host.ask({ it.recordFitting(bowId, fitting, host.nowMs()) }) { host.backTo(Route.BOW) }
            }
        }
    }

    private fun axle(body: Column, axle: Axle, state: FittedState, figures: Figures) {
        val context = body.context
        val seat = if (axle == Axle.TOP) state.top else state.bottom
        body.section(context.axleWord(axle))
        val pairs = state.kit?.kit?.pairs.orEmpty().map { pair ->
            val thin = figures.thicknessBare(pair.thinMeasuredMm ?: pair.thinMm)
            val thick = figures.thicknessBare(pair.thickMeasuredMm ?: pair.thickMm)
            pair.name to context.getString(R.string.pair_line, pair.name, thin, thick)
        }
        body.choice(context.getString(R.string.pair), pairs, kept.getString(PAIR + axle.name) ?: seat?.pair) { pick(PAIR, axle, it) }
        val side = kept.getString(SIDE + axle.name)?.let(Side::valueOf) ?: seat?.thick
        body.sides(side) { pick(SIDE, axle, it.name) }
    }

    /** Most bows carry the same on both axles: the first answer for the top one serves for the bottom one too. */
    private fun pick(what: String, axle: Axle, value: String) {
        kept.putString(what + axle.name, value)
        if (axle == Axle.TOP && !kept.getBoolean(APART)) kept.putString(what + Axle.BOTTOM.name, value)
        if (axle == Axle.BOTTOM) kept.putBoolean(APART, true)
        refresh()
    }

    private companion object {
        const val PAIR = "pair"
        const val SIDE = "side"
        const val APART = "apart"
    }
}
