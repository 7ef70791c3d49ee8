package org.shimwright.keep

import android.content.Context
import org.shimwright.R
import org.shimwright.bow.why
import org.shimwright.core.Bow
import org.shimwright.core.Fitting
import org.shimwright.core.FittingRecord
import org.shimwright.core.Thing
import org.shimwright.core.Unread
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Palette
import org.shimwright.kit.action
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.caution
import org.shimwright.kit.counted
import org.shimwright.kit.door
import org.shimwright.kit.fittingWords
import org.shimwright.kit.note
import org.shimwright.kit.strong

/** Two phones recorded different fittings of one bow: both stand, until someone has looked and says which is in it. */
internal fun Column.contested(entries: List<FittingRecord>, figures: Figures, nowMs: Long, settle: (Fitting) -> Unit) {
    if (entries.isEmpty()) return
    val wants = Palette.of(context).wants
    card(edge = wants) {
        strong(context.getString(R.string.contested), wants)
        body(context.getString(R.string.contested_how))
        for (entry in entries) {
            strong(context.fittingWords(entry.fitting))
            note(context.why(entry, figures, nowMs))
            action(context.getString(R.string.contested_this)) { settle(entry.fitting) }
        }
    }
}

/** The bows of which that is so, each a door to its page. */
internal fun Column.contestedBows(bows: List<Bow>, open: (Long) -> Unit) {
    if (bows.isEmpty()) return
    caution(context.counted(R.plurals.contested_bows, bows.size), context.getString(R.string.contested_how))
    for (bow in bows) door(bow.details.name, bow.details.owner.ifBlank { null }) { open(bow.id) }
}

/** What is on record and cannot be read. */
internal fun Column.unreadRows(rows: List<Unread>, more: (() -> Unit)? = null) {
    if (rows.isEmpty()) return
    card(edge = Palette.of(context).wants) {
        strong(context.counted(R.plurals.unread_rows, rows.size), Palette.of(context).wants)
        note(context.things(rows))
        body(context.getString(R.string.unread_how))
        if (more != null) action(context.getString(R.string.keep), press = more)
    }
}

private fun Context.things(rows: List<Unread>): String = rows.groupingBy { it.thing }.eachCount().entries.sortedBy { it.key }
    .joinToString { (thing, count) -> getString(R.string.thing_count, getString(word(thing)), count) }

private fun word(thing: Thing): Int = when (thing) {
    Thing.BOW -> R.string.held_bows
    Thing.KIT -> R.string.held_kits
    Thing.ARROW_SETUP -> R.string.held_arrows
    Thing.FITTING -> R.string.held_fittings
    Thing.TRIAL -> R.string.held_trials
    Thing.VERDICT -> R.string.held_verdicts
    Thing.SWAP -> R.string.held_swaps
    Thing.CHECK -> R.string.held_checks
    Thing.CHANGE -> R.string.held_changes
}
