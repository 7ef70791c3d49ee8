package org.shimwright.trial

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.Exclusion
import org.shimwright.core.Scene
import org.shimwright.core.Surface
import org.shimwright.core.Trial
import org.shimwright.core.TrialImpact
import org.shimwright.core.TrialTear
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Screen
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Units
import org.shimwright.kit.action
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.choice
import org.shimwright.kit.fittingWords
import org.shimwright.kit.kindWord
import org.shimwright.kit.note
import org.shimwright.kit.scene
import org.shimwright.kit.section
import org.shimwright.kit.strong
import org.shimwright.kit.units
import org.shimwright.verdict.judge

/** One trial as it was read; [open] is the arrow whose fate is being decided. */
data class TrialState(val trial: Trial, val bow: String, val scene: Scene, val open: Int?, val units: Units, val nowMs: Long) {
    val shot get() = trial.shot
}

/** What was shot once: every arrow with its place, and a way to leave one out and say why. */
class TrialScreen(host: Host, args: Bundle, kept: Bundle) : Screen<TrialState>(host, args, kept) {
    private val trialId = args.getLong(Arg.TRIAL)

    override fun build(workshop: Workshop, kept: Bundle): TrialState {
        val trial = workshop.trial(trialId)
        val page = workshop.bowPage(trial.bowId)
        val open = if (kept.containsKey(OPEN)) kept.getInt(OPEN) else null
        val scene = workshop.trialScene(trialId)
        return TrialState(trial, page.bow.details.name, scene, open, workshop.units(), host.nowMs())
    }

    override fun draw(page: Page, state: TrialState) {
        val context = page.context
        val figures = Figures(context, state.units)
        page.head(state.bow, figures.since(state.trial.atMs, state.nowMs))
        page.body.card {
            val what = if (state.shot.surface == Surface.FACE) R.string.shot_face else R.string.shot_paper
            strong(context.getString(what, figures.distance(state.shot.distanceM)))
            note(context.fittingWords(state.trial.fitting))
            scene(state.scene, figures, context.getString(R.string.trial_spoken))
            if (state.shot.note.isNotBlank()) body(state.shot.note)
        }
        page.body.section(context.getString(R.string.trial_arrows))
        state.shot.impacts.forEachIndexed { index, impact -> impact(page.body, state, index, impact, figures) }
        state.shot.tears.forEach { tear(page.body, it, figures) }
        page.bar { action(context.getString(R.string.ask_anew)) { host.judge(state.trial.bowId) } }
    }

    private fun impact(body: Column, state: TrialState, index: Int, impact: TrialImpact, figures: Figures) {
        body.card {
            val kind = context.getString(kindWord(impact.kind))
            val number = impact.arrowNumber ?: (index + 1)
            strong(context.getString(if (impact.arrowNumber == null) R.string.arrow_nth else R.string.arrow_of_kind, kind, number))
            body(figures.offset(impact.at.xMm, impact.at.yMm, SDS_95 * impact.sdMm))
            if (!impact.snapped) note(context.getString(R.string.placed_by_hand))
            impact.excluded?.let { note(context.getString(R.string.left_out, context.getString(exclusionWord(it)))) }
            fate(state, index, impact)
        }
    }

    private fun Column.fate(state: TrialState, index: Int, impact: TrialImpact) {
        if (impact.excluded != null) {
            action(context.getString(R.string.take_in_again)) { decide(index, null) }
        } else if (state.open == index) {
            choice(
                context.getString(R.string.why_left_out),
                Exclusion.entries.map {
                    it to context.getString(exclusionWord(it))
                },
                null,
            ) { decide(index, it) }
        } else {
            action(context.getString(R.string.leave_out)) {
                kept.putInt(OPEN, index)
                refresh()
            }
        }
    }

    private fun decide(index: Int, reason: Exclusion?) {
        kept.remove(OPEN)
        host.ask({ it.excludeImpact(trialId, index.toUInt(), reason) }) { refresh() }
    }

    private fun tear(body: Column, tear: TrialTear, figures: Figures) {
        body.card {
            strong(context.getString(kindWord(tear.kind)))
            body(figures.offset(tear.tear.xMm, tear.tear.yMm, SDS_95 * tear.sdMm))
            note(context.getString(R.string.tear_sense))
        }
    }

    private fun exclusionWord(reason: Exclusion): Int = when (reason) {
        Exclusion.BAD_SHOT -> R.string.out_bad_shot
        Exclusion.DAMAGED_ARROW -> R.string.out_damaged
        Exclusion.CONTACT -> R.string.out_contact
        Exclusion.WRONG_MARK -> R.string.out_wrong_mark
    }

    private companion object {
        const val OPEN = "open"
        const val SDS_95 = 1.96
    }
}
