package org.shimwright.trial

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.ArrowSetupRecord
import org.shimwright.core.Trial
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Screen
import org.shimwright.kit.Entry
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Reading
import org.shimwright.kit.Units
import org.shimwright.kit.choice
import org.shimwright.kit.distance
import org.shimwright.kit.field
import org.shimwright.kit.typed
import org.shimwright.kit.units

/** What a trial says about how it was shot; [arrowsId] as chosen here or recorded. */
data class CorrectState(
    val trial: Trial,
    val bow: String,
    val arrows: List<ArrowSetupRecord>,
    val arrowsId: Long?,
    val units: Units,
    val unread: Boolean,
)

/** Puts right what was entered wrongly before the shots were measured: the distance, the arrows, the note. */
class CorrectScreen(host: Host, args: Bundle, kept: Bundle) : Screen<CorrectState>(host, args, kept) {
    private val trialId = args.getLong(Arg.TRIAL)

    override fun build(workshop: Workshop, kept: Bundle): CorrectState {
        val trial = workshop.trial(trialId)
        val page = workshop.bowPage(trial.bowId)
        val arrows = page.arrowSetups.filter { it.archivedMs == null || it.id == trial.shot.arrowSetupId }
        val arrowsId = if (kept.containsKey(ARROWS)) kept.getLong(ARROWS) else trial.shot.arrowSetupId
        return CorrectState(trial, page.bow.details.name, arrows, arrowsId, workshop.units(), kept.getBoolean(UNREAD))
    }

    override fun draw(page: Page, state: CorrectState) {
        val context = page.context
        val figures = Figures(context, state.units)
        page.head(context.getString(R.string.trial_correct), state.bow)
        page.body.field(context.getString(R.string.shoot_distance), DISTANCE, kept) {
            distance(figures)
            first = figures.distanceField(state.trial.shot.distanceM)
            if (state.unread) wrong = context.getString(R.string.distance_needed)
        }
        if (state.arrows.isNotEmpty()) {
            page.body.choice(context.getString(R.string.shoot_which_arrows), state.arrows.map { it.id to it.name }, state.arrowsId) {
                kept.putLong(ARROWS, it)
                refresh()
            }
        }
        page.body.field(context.getString(R.string.note), NOTE, kept) {
            first = state.trial.shot.note
            entry = Entry.LINES
        }
        page.main(context.getString(R.string.save)) { save(state) }
    }

    private fun save(state: CorrectState) {
        val shot = state.trial.shot
        val reading = Reading(state.units)
        // What was not touched keeps its exact value.
        val distance = if (kept.containsKey(DISTANCE)) reading.distance(DISTANCE, kept.typed(DISTANCE)) else shot.distanceM
        kept.putBoolean(UNREAD, distance == null)
        if (distance == null) return refresh()
        val right = shot.copy(distanceM = distance, arrowSetupId = state.arrowsId, note = kept.typed(NOTE, shot.note))
        host.ask({ it.correctTrial(trialId, state.trial.bowId, right) }) {
            host.back()
            host.offerUndo(R.string.trial_corrected) {
                host.ask({ it.correctTrial(trialId, state.trial.bowId, shot) }) { host.refreshShown() }
            }
        }
    }

    private companion object {
        const val DISTANCE = "distance"
        const val ARROWS = "arrows"
        const val NOTE = "note"
        const val UNREAD = "unread"
    }
}
