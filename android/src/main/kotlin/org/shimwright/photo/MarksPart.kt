package org.shimwright.photo

import android.os.Bundle
import android.view.HapticFeedbackConstants
import android.view.View
import org.shimwright.R
import org.shimwright.core.ArrowKind
import org.shimwright.core.PointPx
import org.shimwright.core.Pointing
import org.shimwright.core.tapSdPx
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Palette
import org.shimwright.kit.Weight
import org.shimwright.kit.action
import org.shimwright.kit.actions
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.choice
import org.shimwright.kit.counted
import org.shimwright.kit.door
import org.shimwright.kit.field
import org.shimwright.kit.kindWord
import org.shimwright.kit.length
import org.shimwright.kit.note
import org.shimwright.kit.section
import org.shimwright.kit.strong
import org.shimwright.shoot.kindShaped
import kotlin.math.hypot

/** The second half of a photograph: marks by tapping, dragging or steps, each said plainly whether it was snapped. */
internal class MarksPart(private val kept: Bundle, private val refresh: () -> Unit, private val save: (PhotoState.OnBench) -> Unit) {
    private val marks = Marks(kept)
    private val number = ArrowNumber(kept, marks, refresh)

    fun draw(page: Page, state: PhotoState.OnBench) {
        val context = page.context
        val title = if (state.paper) R.string.tears else R.string.holes
        val note = if (state.paper) R.string.read_of else R.string.snapped_of
        page.head(context.getString(title), if (state.seen.isEmpty()) null else context.getString(note, state.found, state.seen.size))
        val photograph = page.picture(photograph(page, state))
        heard(photograph, state)
        question(page.body, state)
        kinds(page.body, state)
        val chosen = state.chosen?.takeIf { it in state.seen.indices }
        if (chosen != null) edit(page.body, state, chosen)
        if (state.paper) shaft(page.body, state) else suggest(page.body, state)
        list(page.body, state)
        scale(page.body, state)
        bar(page, state)
    }

    private fun photograph(page: Page, state: PhotoState.OnBench): PhotoView {
        val hands = object : Hands {
            override fun tap(at: PointPx, perMm: Double, exact: Boolean) = tapped(state, at, perMm, exact)

            override fun pick(index: Int) = choose(index)

            override fun drop(index: Int, at: PointPx, perMm: Double) {
                change(state, index) { it.copy(at = at, sdPx = tapSdPx(Pointing.MAGNIFIER, perMm), nock = null, byHand = false) }
            }

            override fun looked(at: FloatArray) = kept.putFloatArray(PhotoKey.VIEW_OF_MARKS, at)
        }
        val layer = Layer(
            lines = state.outline + state.standing,
            movable = state.seen.map { it.impact?.px ?: it.mark.at },
            marks = state.seen,
            faint = if (state.full) emptyList() else state.proposals.orEmpty().map { it.px },
            chosen = state.chosen,
            names = names(page, state),
        )
        return PhotoView(page.context, state.picture, layer, hands).apply {
            lookAt(kept.getFloatArray(PhotoKey.VIEW_OF_MARKS))
            contentDescription = context.counted(R.plurals.photo_spoken_marks, state.seen.size)
        }
    }

    /** A new mark is felt and heard: found or not, without looking. */
    private fun heard(view: View, state: PhotoState.OnBench) {
        val before = kept.getInt(HEARD)
        kept.putInt(HEARD, state.seen.size)
        if (state.seen.size != before + 1) return
        val last = state.seen.last()
        view.performHapticFeedback(if (last.found) HapticFeedbackConstants.CONTEXT_CLICK else HapticFeedbackConstants.LONG_PRESS)
        view.announceForAccessibility(view.context.outcome(last, Figures(view.context, state.units)))
    }

    private fun names(page: Page, state: PhotoState.OnBench): List<String> {
        val grouping = state.grouping
        return state.seen.indices.map { index ->
            when {
                !state.seen[index].mark.open -> page.context.markBadge(state.seen, index)
                grouping == null -> page.context.getString(R.string.mark_open)
                else -> page.context.getString(if (index in grouping.inA) R.string.group_a else R.string.group_b)
            }
        }
    }

    /** Nothing is counted that nobody has said: which of two groups is which, or that all are of one kind. */
    private fun question(body: Column, state: PhotoState.OnBench) {
        if (state.open.isEmpty()) return
        val grouping = state.grouping
        val kinds = ArrowKind.entries.filter { state.shot.counts.getValue(it) > 0 }
        body.card(edge = Palette.of(body.context).brass) {
            when {
                grouping != null -> groups(state, grouping)
                kinds.size == 1 && state.open.size == state.planned -> all(state, kinds.single())
                else -> short(state)
            }
            action(context.getString(R.string.mark_myself)) { keepOnly(state) }
        }
    }

    private fun Column.groups(state: PhotoState.OnBench, grouping: Grouping) {
        if (grouping.sizesTell) {
            val (first, second) = context.getString(kindWord(grouping.first)) to context.getString(kindWord(grouping.second))
            strong(context.getString(R.string.groups_by_size, first, holes(grouping.inA), second, holes(grouping.inB)))
            action(context.getString(R.string.groups_right), Weight.MAIN) { tell(state, grouping.inA, grouping) }
            return
        }
        val which = if (grouping.second == ArrowKind.BARE) R.string.which_group_bare else R.string.which_group_broadhead
        strong(context.getString(which))
        actions {
            action(context.getString(R.string.it_is_a), Weight.MAIN) { tell(state, grouping.inB, grouping) }
            action(context.getString(R.string.it_is_b), Weight.MAIN) { tell(state, grouping.inA, grouping) }
        }
    }

    private fun Column.holes(group: Set<Int>) = context.counted(R.plurals.hole_count, group.size)

    private fun Column.all(state: PhotoState.OnBench, kind: ArrowKind) {
        strong(context.counted(R.plurals.all_of_kind, state.open.size, context.getString(kindWord(kind))))
        action(context.getString(R.string.groups_right), Weight.MAIN) { say(state) { it.copy(kind = kind, open = false) } }
    }

    /** Too few or too many holes, or more than two kinds: what to do about it. */
    private fun Column.short(state: PhotoState.OnBench) {
        val found = context.counted(R.plurals.holes_found, state.open.size)
        strong(context.getString(R.string.holes_found_of, found, context.counted(R.plurals.arrows_shot, state.planned)))
        body(context.getString(if (state.open.size < state.planned) R.string.holes_missing else R.string.holes_too_many))
    }

    /** The marks of [first] are of the grouping's first kind, the others of its second. */
    private fun tell(state: PhotoState.OnBench, first: Set<Int>, grouping: Grouping) {
        marks.set(
            told(state).mapIndexed { index, mark ->
                mark.copy(kind = if (index in first) grouping.first else grouping.second, open = false)
            },
        )
        unchoose()
        refresh()
    }

    /** The marks as they stand, with the numbers typed since they were drawn; before any are kept, those that were found. */
    private fun told(state: PhotoState.OnBench) = marks.all.ifEmpty { state.seen.map { it.mark } }

    private fun say(state: PhotoState.OnBench, how: (Mark) -> Mark) {
        marks.set(told(state).map(how))
        refresh()
    }

    /** Takes the marks away of which nobody has said anything; the holes stay proposed, to be taken one by one. */
    private fun keepOnly(state: PhotoState.OnBench) {
        marks.set(told(state).filterNot { it.open })
        kept.putBoolean(PhotoKey.PROPOSE, true)
        unchoose()
        refresh()
    }

    private fun choose(index: Int) {
        unchoose()
        kept.putInt(PhotoKey.CHOSEN, index)
        refresh()
    }

    /** A tap on a proposal takes it; anywhere else it makes a mark of the kind whose turn it is, while some are missing. */
    private fun tapped(state: PhotoState.OnBench, at: PointPx, perMm: Double, exact: Boolean) {
        if (state.full) return refresh()
        val near = state.proposals.orEmpty().map { it.px }.minByOrNull { hypot(it.xPx - at.xPx, it.yPx - at.yPx) }
        val taken = near?.takeIf { hypot(it.xPx - at.xPx, it.yPx - at.yPx) < TAKE_MM * perMm }
        val mark = if (taken != null) {
            Mark(state.kind, taken, tapSdPx(Pointing.MAGNIFIER, perMm))
        } else {
            Mark(state.kind, at, tapSdPx(if (exact) Pointing.MAGNIFIER else Pointing.FINGER, perMm))
        }
        add(state, listOf(if (state.open.isEmpty()) mark else mark.copy(open = true)))
    }

    private fun add(state: PhotoState.OnBench, fresh: List<Mark>) {
        val all = marks.all + fresh
        marks.set(all)
        kept.putString(PhotoKey.KIND, state.shot.next(all.map { it.kind }, state.kind).name)
        unchoose()
        refresh()
    }

    private fun change(state: PhotoState.OnBench, index: Int, how: (Mark) -> Mark) {
        marks.set(told(state).mapIndexed { at, mark -> if (at == index) how(mark) else mark })
        if (kept.getInt(PhotoKey.CHOSEN, -1) != index) unchoose()
        kept.putInt(PhotoKey.CHOSEN, index)
        refresh()
    }

    private fun kinds(body: Column, state: PhotoState.OnBench) {
        if (state.open.isNotEmpty()) return
        val context = body.context
        val offered = if (state.paper) ArrowKind.entries - ArrowKind.BROADHEAD else ArrowKind.entries
        body.choice(context.getString(R.string.next_tap), offered.map { it to context.kindShaped(it) }, state.kind) {
            kept.putString(PhotoKey.KIND, it.name)
            refresh()
        }
        if (state.seen.isEmpty()) body.note(context.getString(if (state.paper) R.string.tap_tears else R.string.tap_holes))
        if (state.full) {
            body.note(context.counted(R.plurals.all_marked, state.planned))
            body.action(context.getString(R.string.mark_one_more)) {
                kept.putInt(PhotoKey.EXTRA, kept.getInt(PhotoKey.EXTRA) + 1)
                refresh()
            }
        }
    }

    private fun edit(body: Column, state: PhotoState.OnBench, index: Int) {
        val seen = state.seen[index]
        val step = STEP_MM * (state.facts?.pxPerMm ?: 1.0)
        body.card {
            strong(context.getString(R.string.mark_chosen, context.markName(state.seen, index)))
            body(context.outcome(seen, Figures(context, state.units)))
            nudges { x, y ->
                val from = seen.impact?.px ?: seen.mark.at
                val at = PointPx(from.xPx + x * step, from.yPx + y * step)
                change(state, index) { it.copy(at = at, sdPx = STEP_SD_PX, nock = null, byHand = !state.paper) }
            }
            if (seen.mark.byHand) action(context.getString(R.string.snap_again)) { change(state, index) { it.copy(byHand = false) } }
            if (state.paper) byHand(state, index) else number.ask(this, index, seen.mark.number)
            actions {
                val other = after(state, seen.mark.kind)
                action(context.getString(R.string.change_to_kind, context.kindShaped(other))) {
                    change(state, index) { it.copy(kind = other, open = false) }
                }
                action(context.getString(R.string.remove_mark), Weight.DANGER) { remove(state, index) }
            }
        }
    }

    private fun after(state: PhotoState.OnBench, kind: ArrowKind): ArrowKind {
        val kinds = if (state.paper) ArrowKind.entries - ArrowKind.BROADHEAD else ArrowKind.entries
        return kinds[(kinds.indexOf(kind) + 1) % kinds.size]
    }

    /** Tears too ragged to be read: the person moves the other end, too. */
    private fun Column.byHand(state: PhotoState.OnBench, index: Int) {
        val mark = state.seen[index].mark
        val nock = mark.nock
        val step = STEP_MM * (state.facts?.pxPerMm ?: 1.0)
        if (nock == null) {
            note(context.getString(R.string.both_ends_how))
            action(context.getString(R.string.both_ends)) {
                change(state, index) { it.copy(nock = PointPx(it.at.xPx - 10 * step, it.at.yPx), sdPx = STEP_SD_PX) }
            }
            return
        }
        strong(context.getString(R.string.nock_end))
        nudges { x, y -> change(state, index) { it.copy(nock = PointPx(nock.xPx + x * step, nock.yPx + y * step)) } }
        action(context.getString(R.string.read_itself)) { change(state, index) { it.copy(nock = null) } }
    }

    /** No mark is chosen any more; what was typed for it is with it, or was none. */
    fun unchoose() {
        kept.remove(PhotoKey.CHOSEN)
        number.forget()
    }

    private fun remove(state: PhotoState.OnBench, index: Int) {
        marks.set(told(state).filterIndexed { at, _ -> at != index })
        unchoose()
        refresh()
    }

    private fun suggest(body: Column, state: PhotoState.OnBench) {
        val context = body.context
        val found = state.proposals
        val standing = state.standing.size
        if (standing > 0) body.note(context.counted(R.plurals.arrows_standing, standing))
        when {
            found == null -> body.action(context.getString(R.string.suggest)) {
                kept.putBoolean(PhotoKey.PROPOSE, true)
                refresh()
            }

            found.isEmpty() -> body.note(context.getString(R.string.suggest_none))

            // No tap takes a further one then.
            state.full -> Unit

            else -> {
                body.note(context.counted(R.plurals.suggested, found.size))
                // Of more than are missing nobody has said yet which are arrows'.
                if (found.size <= state.planned - state.seen.size) {
                    body.action(context.counted(R.plurals.take_suggested, found.size)) {
                        add(state, found.map { Mark(state.kind, it.px, STEP_SD_PX) })
                    }
                }
            }
        }
    }

    private fun shaft(body: Column, state: PhotoState.OnBench) {
        val context = body.context
        val figures = Figures(context, state.units)
        body.field(context.getString(R.string.shaft_diameter), PhotoKey.SHAFT, kept) {
            first = figures.lengthField(state.shaftMm)
            length(figures)
            if (PhotoKey.SHAFT in state.unreadable) wrong = context.getString(R.string.figure_unread)
        }
        body.action(context.getString(R.string.read_again)) { refresh() }
    }

    private fun list(body: Column, state: PhotoState.OnBench) {
        if (state.seen.isEmpty()) return
        val context = body.context
        val figures = Figures(context, state.units)
        body.section(context.getString(R.string.all_marks))
        state.seen.forEachIndexed { index, seen ->
            val name = if (seen.mark.open) context.getString(R.string.mark_of_open) else context.markName(state.seen, index)
            body.door(name, context.outcome(seen, figures)) { choose(index) }
        }
    }

    private fun scale(body: Column, state: PhotoState.OnBench) {
        val context = body.context
        val facts = state.facts ?: return
        val figures = Figures(context, state.units)
        val found = context.getString(foundWord(state.known.kind))
        body.door(
            context.getString(R.string.known_title),
            context.getString(R.string.two_facts, found, figures.atMost(facts.residualMm)),
        ) {
            kept.putBoolean(PhotoKey.MARKING, false)
            unchoose()
            refresh()
        }
    }

    /** The button that saves is always there, and what keeps it from saving is said beside it. */
    private fun bar(page: Page, state: PhotoState.OnBench) {
        val hindered = hindrance(page, state)
        if (hindered != null) page.hint(hindered)
        page.bar {
            action(context.getString(R.string.undo)) { step { marks.undo() } }.isEnabled = state.canUndo
            action(context.getString(R.string.redo)) { step { marks.redo() } }.isEnabled = state.canRedo
            action(context.getString(R.string.save), Weight.MAIN) { save(state) }.isEnabled = hindered == null
        }
    }

    private fun hindrance(page: Page, state: PhotoState.OnBench): String? = when {
        state.seen.isEmpty() -> page.context.getString(if (state.paper) R.string.nothing_marked_tears else R.string.nothing_marked)
        state.open.isNotEmpty() -> page.context.getString(R.string.kinds_open)
        state.unread.isNotEmpty() -> page.context.counted(R.plurals.marks_unread, state.unread.size)
        else -> null
    }

    private fun step(how: () -> Unit) {
        how()
        unchoose()
        refresh()
    }

    private companion object {
        const val HEARD = "heard"
        const val STEP_MM = 0.5
        const val TAKE_MM = 5.0

        /** How exactly a mark stands that was moved by steps or taken from the core, photograph px. */
        const val STEP_SD_PX = 2.0
    }
}
