package org.shimwright.trial

import android.graphics.Bitmap
import android.graphics.BitmapFactory
import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.ArrowKind
import org.shimwright.core.Exclusion
import org.shimwright.core.Scene
import org.shimwright.core.Surface
import org.shimwright.core.Trial
import org.shimwright.core.TrialDraft
import org.shimwright.core.TrialImpact
import org.shimwright.core.TrialTear
import org.shimwright.core.Workshop
import org.shimwright.core.WorkshopException
import org.shimwright.core.photoThumbnail
import org.shimwright.core.plusMinus
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.frame.args
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Palette
import org.shimwright.kit.Units
import org.shimwright.kit.Weight
import org.shimwright.kit.action
import org.shimwright.kit.actions
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.choice
import org.shimwright.kit.door
import org.shimwright.kit.fittingWords
import org.shimwright.kit.kindWord
import org.shimwright.kit.note
import org.shimwright.kit.scene
import org.shimwright.kit.section
import org.shimwright.kit.strong
import org.shimwright.kit.units
import org.shimwright.photo.measuredAgain
import org.shimwright.shoot.kindShaped
import org.shimwright.verdict.judge

/** One trial as it was read; [open] is the mark whose fate is being decided. */
data class TrialState(
    val trial: Trial,
    val bow: String,
    val scene: Scene,
    val small: Bitmap?,
    val open: String?,
    val units: Units,
    val nowMs: Long,
) {
    val shot get() = trial.shot
}

/** What was shot once: every arrow with its place, its photograph, and every way to put it right. */
class TrialScreen(host: Host, args: Bundle, kept: Bundle) : Screen<TrialState>(host, args, kept) {
    private val trialId = args.getLong(Arg.TRIAL)

    override fun build(workshop: Workshop, kept: Bundle): TrialState {
        val trial = workshop.trial(trialId)
        val page = workshop.bowPage(trial.bowId)
        val scene = workshop.trialScene(trialId)
        return TrialState(trial, page.bow.details.name, scene, small(trial), kept.getString(OPEN), workshop.units(), host.nowMs())
    }

    /** Its photograph, small; none where its file is gone. */
    private fun small(trial: Trial): Bitmap? = try {
        trial.shot.photo?.let {
            photoThumbnail(host.photos.folder, it.file, SMALL_PX)
        }?.let { BitmapFactory.decodeByteArray(it, 0, it.size) }
    } catch (expectedWhenGone: WorkshopException) {
        null
    }

    override fun draw(page: Page, state: TrialState) {
        val context = page.context
        val figures = Figures(context, state.units)
        val what = if (state.shot.surface == Surface.FACE) R.string.shot_face else R.string.shot_paper
        page.head(context.getString(what, figures.distance(state.shot.distanceM)), state.bow)
        struck(page.body, state)
        page.body.card {
            strong(figures.since(state.trial.atMs, state.nowMs))
            note(context.fittingWords(state.trial.fitting))
            scene(state.scene, figures, context.getString(R.string.trial_spoken))
            if (state.shot.note.isNotBlank()) body(state.shot.note)
        }
        photograph(page.body, state)
        page.body.section(context.getString(R.string.trial_arrows))
        state.shot.impacts.forEachIndexed { index, impact -> impact(page.body, state, index, impact, figures) }
        state.shot.tears.forEachIndexed { index, tear -> tear(page.body, state, index, tear, figures) }
        repair(page.body, state)
        page.bar { action(context.getString(R.string.ask_anew)) { host.judge(state.trial.bowId) } }
    }

    private fun struck(body: Column, state: TrialState) {
        if (state.trial.struckMs == null) return
        body.card(edge = Palette.of(body.context).wants) {
            strong(context.getString(R.string.trial_struck), Palette.of(context).wants)
            action(context.getString(R.string.trial_unstrike)) { strike(false) }
        }
    }

    private fun photograph(body: Column, state: TrialState) {
        val photo = state.shot.photo ?: return
        val context = body.context
        body.door(context.getString(R.string.trial_photo), context.getString(R.string.trial_photo_note), state.small) {
            host.go(Route.PICTURE, args(Arg.TRIAL to trialId))
        }
        body.door(context.getString(R.string.measure_again), context.getString(R.string.measure_again_note)) {
            val (args, kept) = measuredAgain(state.trial, photo)
            host.go(Route.PHOTO, args, kept)
        }
    }

    private fun impact(body: Column, state: TrialState, index: Int, impact: TrialImpact, figures: Figures) {
        body.card {
            val kind = context.getString(kindWord(impact.kind))
            val number = impact.arrowNumber ?: (index + 1)
            strong(context.getString(if (impact.arrowNumber == null) R.string.arrow_nth else R.string.arrow_of_kind, kind, number))
            body(figures.offset(impact.at.xMm, impact.at.yMm, plusMinus(impact.sdMm)))
            if (!impact.snapped) note(context.getString(R.string.placed_by_hand))
            val other = ArrowKind.entries.run { get((indexOf(impact.kind) + 1) % size) }
            fate(state, IMPACT + index, impact.excluded, { excludeImpact(trialId, index.toUInt(), it) }, other) {
                correct(state, state.shot.copy(impacts = state.shot.impacts.swapped(index, impact.copy(kind = other))))
            }
        }
    }

    private fun tear(body: Column, state: TrialState, index: Int, tear: TrialTear, figures: Figures) {
        body.card {
            strong(context.getString(R.string.arrow_nth, context.getString(kindWord(tear.kind)), index + 1))
            body(figures.offset(tear.tear.xMm, tear.tear.yMm, plusMinus(tear.sdMm)))
            note(context.getString(R.string.tear_sense))
            val other = if (tear.kind == ArrowKind.BARE) ArrowKind.FLETCHED else ArrowKind.BARE
            fate(state, TEAR + index, tear.excluded, { excludeTear(trialId, index.toUInt(), it) }, other) {
                correct(state, state.shot.copy(tears = state.shot.tears.swapped(index, tear.copy(kind = other))))
            }
        }
    }

    private fun <T> List<T>.swapped(index: Int, fresh: T) = mapIndexed { at, one -> if (at == index) fresh else one }

    /** Left out with a reason, taken in again, or [turn]ed into one of the [other] kind. */
    private fun Column.fate(
        state: TrialState,
        key: String,
        out: Exclusion?,
        exclude: Workshop.(Exclusion?) -> Unit,
        other: ArrowKind,
        turn: () -> Unit,
    ) {
        out?.let { note(context.getString(R.string.left_out, context.getString(exclusionWord(it)))) }
        when {
            out != null -> action(context.getString(R.string.take_in_again)) { decide(exclude, null) }

            state.open == key -> {
                val reasons = Exclusion.entries.map { it to context.getString(exclusionWord(it)) }
                choice(context.getString(R.string.why_left_out), reasons, null) { decide(exclude, it) }
            }

            else -> actions {
                action(context.getString(R.string.change_to_kind, context.kindShaped(other)), press = turn)
                action(context.getString(R.string.leave_out)) { ask(key) }
            }
        }
    }

    private fun ask(key: String) {
        kept.putString(OPEN, key)
        refresh()
    }

    private fun decide(exclude: Workshop.(Exclusion?) -> Unit, reason: Exclusion?) {
        kept.remove(OPEN)
        host.ask({ it.exclude(reason) }) {
            refresh()
            if (reason != null) host.offerUndo(R.string.arrow_left_out) { decide(exclude, null) }
        }
    }

    private fun repair(body: Column, state: TrialState) {
        val context = body.context
        body.section(context.getString(R.string.trial_repair))
        body.door(context.getString(R.string.trial_correct), context.getString(R.string.trial_correct_note)) {
            host.go(Route.CORRECT, args(Arg.TRIAL to trialId))
        }
        body.door(context.getString(R.string.trial_move), context.getString(R.string.trial_move_note)) {
            host.go(Route.RACK, args(Arg.TRIAL to trialId))
        }
        if (state.trial.struckMs == null) {
            body.action(context.getString(R.string.trial_strike), Weight.DANGER) { strike(true) }
        }
    }

    private fun strike(out: Boolean) {
        host.ask({ it.strikeTrial(trialId, out, host.nowMs()) }) {
            refresh()
            if (out) host.offerUndo(R.string.trial_was_struck) { strike(false) }
        }
    }

    private fun correct(state: TrialState, shot: TrialDraft) {
        val before = state.trial
        host.ask({ it.correctTrial(trialId, before.bowId, shot) }) {
            refresh()
            host.offerUndo(R.string.trial_corrected) {
                host.ask({ it.correctTrial(trialId, before.bowId, before.shot) }) { host.refreshShown() }
            }
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
        const val IMPACT = "impact"
        const val TEAR = "tear"

        /** Sharp where a small picture is shown on a phone of the finest screen. */
        const val SMALL_PX = 256u
    }
}
