package org.shimwright.photo

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.ArrowKind
import org.shimwright.core.PointPx
import org.shimwright.core.Pointing
import org.shimwright.core.tapSdPx
import org.shimwright.kit.Column
import org.shimwright.kit.Entry
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Weight
import org.shimwright.kit.action
import org.shimwright.kit.actions
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.choice
import org.shimwright.kit.door
import org.shimwright.kit.field
import org.shimwright.kit.note
import org.shimwright.kit.section
import org.shimwright.kit.strong
import org.shimwright.shoot.kindShaped
import kotlin.math.hypot

/** The second half of a photograph: marks by tapping, dragging or steps, each said plainly whether it was snapped. */
internal class MarksPart(private val kept: Bundle, private val refresh: () -> Unit, private val save: (PhotoState.OnBench) -> Unit) {
    private val marks = Marks(kept)

    fun draw(page: Page, state: PhotoState.OnBench) {
        val context = page.context
        val title = if (state.paper) R.string.tears else R.string.holes
        val note = if (state.paper) R.string.read_of else R.string.snapped_of
        page.head(context.getString(title), if (state.seen.isEmpty()) null else context.getString(note, state.found, state.seen.size))
        page.picture(photograph(page, state))
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
            override fun tap(at: PointPx, perMm: Double) = tapped(state, at, perMm)

            override fun drop(index: Int, at: PointPx, perMm: Double) {
                change(state, index) { it.copy(at = at, sdPx = tapSdPx(Pointing.MAGNIFIER, perMm), nock = null, byHand = false) }
            }

            override fun looked(at: FloatArray) = kept.putFloatArray(PhotoKey.VIEW, at)
        }
        val layer = Layer(
            lines = state.outline,
            movable = state.seen.map { it.impact?.px ?: it.mark.at },
            marks = state.seen,
            faint = state.proposals.orEmpty().map { it.px },
            chosen = state.chosen,
            names = state.seen.indices.map { page.context.markShort(state.seen, it) },
        )
        return PhotoView(page.context, state.picture, layer, hands).apply {
            lookAt(kept.getFloatArray(PhotoKey.VIEW))
            contentDescription = resources.getQuantityString(R.plurals.photo_spoken_marks, state.seen.size, state.seen.size)
        }
    }

    /** A tap on a proposal takes it; anywhere else it makes a mark of the kind whose turn it is. */
    private fun tapped(state: PhotoState.OnBench, at: PointPx, perMm: Double) {
        val near = state.proposals.orEmpty().map { it.px }.minByOrNull { hypot(it.xPx - at.xPx, it.yPx - at.yPx) }
        val taken = near?.takeIf { hypot(it.xPx - at.xPx, it.yPx - at.yPx) < TAKE_MM * perMm }
        val mark = if (taken != null) {
            Mark(state.kind, taken, tapSdPx(Pointing.MAGNIFIER, perMm))
        } else {
            Mark(state.kind, at, tapSdPx(Pointing.FINGER, perMm))
        }
        add(state, listOf(mark))
    }

    private fun add(state: PhotoState.OnBench, fresh: List<Mark>) {
        val all = marks.all + fresh
        marks.set(all)
        kept.putString(PhotoKey.KIND, state.shot.next(all.map { it.kind }, state.kind).name)
        kept.remove(PhotoKey.CHOSEN)
        refresh()
    }

    private fun change(state: PhotoState.OnBench, index: Int, how: (Mark) -> Mark) {
        marks.set(state.seen.mapIndexed { at, seen -> if (at == index) how(seen.mark) else seen.mark })
        kept.putInt(PhotoKey.CHOSEN, index)
        refresh()
    }

    private fun kinds(body: Column, state: PhotoState.OnBench) {
        val context = body.context
        val offered = if (state.paper) ArrowKind.entries - ArrowKind.BROADHEAD else ArrowKind.entries
        body.choice(context.getString(R.string.next_tap), offered.map { it to context.kindShaped(it) }, state.kind) {
            kept.putString(PhotoKey.KIND, it.name)
            refresh()
        }
        if (state.seen.isEmpty()) body.note(context.getString(if (state.paper) R.string.tap_tears else R.string.tap_holes))
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
            if (state.paper) byHand(state, index) else number(state, index)
            actions {
                action(context.getString(R.string.other_kind)) { change(state, index) { it.copy(kind = after(state, it.kind)) } }
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

    private fun Column.number(state: PhotoState.OnBench, index: Int) {
        val key = NUMBER + index
        if (!kept.containsKey(key)) state.seen[index].mark.number?.let { kept.putString(key, it.toString()) }
        field(context.getString(R.string.arrow_number), key, kept) { entry = Entry.COUNT }
        action(context.getString(R.string.keep_number)) {
            val number = kept.getString(key)?.trim()?.toIntOrNull()?.takeIf { it in NUMBERS }
            kept.remove(key)
            change(state, index) { it.copy(number = number) }
        }
    }

    private fun remove(state: PhotoState.OnBench, index: Int) {
        marks.set(state.seen.map { it.mark }.filterIndexed { at, _ -> at != index })
        kept.remove(PhotoKey.CHOSEN)
        refresh()
    }

    private fun suggest(body: Column, state: PhotoState.OnBench) {
        val context = body.context
        val found = state.proposals
        when {
            found == null -> body.action(context.getString(R.string.suggest)) {
                kept.putBoolean(PhotoKey.PROPOSE, true)
                refresh()
            }

            found.isEmpty() -> body.note(context.getString(R.string.suggest_none))

            else -> {
                body.note(context.resources.getQuantityString(R.plurals.suggested, found.size, found.size))
                body.action(context.resources.getQuantityString(R.plurals.take_suggested, found.size, found.size)) {
                    add(state, found.map { Mark(state.kind, it.px, STEP_SD_PX) })
                }
            }
        }
    }

    private fun shaft(body: Column, state: PhotoState.OnBench) {
        val context = body.context
        val figures = Figures(context, state.units)
        body.field(context.getString(R.string.shaft_diameter), PhotoKey.SHAFT, kept) {
            first = figures.lengthField(state.shaftMm)
            entry = Entry.FIGURE
            unit = figures.lengthUnit
        }
        body.action(context.getString(R.string.read_again)) { refresh() }
    }

    private fun list(body: Column, state: PhotoState.OnBench) {
        if (state.seen.isEmpty()) return
        val context = body.context
        val figures = Figures(context, state.units)
        body.section(context.getString(R.string.all_marks))
        state.seen.forEachIndexed { index, seen ->
            body.door(context.markName(state.seen, index), context.outcome(seen, figures)) {
                kept.putInt(PhotoKey.CHOSEN, index)
                refresh()
            }
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
            kept.remove(PhotoKey.CHOSEN)
            refresh()
        }
    }

    private fun bar(page: Page, state: PhotoState.OnBench) = page.bar {
        action(context.getString(R.string.undo)) { step { marks.undo() } }.isEnabled = state.canUndo
        action(context.getString(R.string.redo)) { step { marks.redo() } }.isEnabled = state.canRedo
        if (state.seen.isNotEmpty() && state.unread.isEmpty()) action(context.getString(R.string.save), Weight.MAIN) { save(state) }
    }

    private fun step(how: () -> Unit) {
        how()
        kept.remove(PhotoKey.CHOSEN)
        refresh()
    }

    private companion object {
        const val NUMBER = "number"
        const val STEP_MM = 0.5
        const val TAKE_MM = 5.0

        /** How exactly a mark stands that was moved by steps or taken from the core, photograph px. */
        const val STEP_SD_PX = 2.0
        val NUMBERS = 1..999
    }
}
