package org.shimwright.swap

import org.shimwright.R
import org.shimwright.core.settlingShots
import org.shimwright.kit.Column
import org.shimwright.kit.Palette
import org.shimwright.kit.action
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.checkWord
import org.shimwright.kit.counted
import org.shimwright.kit.note
import org.shimwright.kit.strong

/** Every step of the guide in order: what is done, what is due, what comes. */
internal fun Column.overview(state: SwapState) {
    val due = state.number - 1
    state.swap?.steps.orEmpty().forEachIndexed { index, step ->
        val title = context.getString(R.string.numbered, index + 1, context.stepTitle(step))
        when {
            index < due -> note(context.getString(R.string.step_done, title))
            index == due -> card(edge = Palette.of(context).brass) { strong(context.getString(R.string.step_now, title)) }
            else -> body(title)
        }
    }
}

/** What the swap called into question, and what it takes before that can be judged. */
internal fun Column.lookAgain(state: SwapState, open: () -> Unit) {
    val again = state.again.map { context.getString(checkWord(it.item)) }
    val shots = settlingShots().toInt()
    card(edge = Palette.of(context).wants) {
        strong(context.getString(R.string.look_again))
        body(context.counted(R.plurals.settle, shots))
        body(context.getString(R.string.look_again_at, again.joinToString()))
        body(context.getString(R.string.sight_again))
        action(context.getString(R.string.checks), press = open)
    }
}
