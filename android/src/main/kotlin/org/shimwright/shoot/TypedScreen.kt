package org.shimwright.shoot

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.ArrowKind
import org.shimwright.core.LengthUnit
import org.shimwright.core.PointMm
import org.shimwright.core.Surface
import org.shimwright.core.TrialImpact
import org.shimwright.core.TrialTear
import org.shimwright.core.Workshop
import org.shimwright.frame.Host
import org.shimwright.frame.Screen
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Reading
import org.shimwright.kit.Signs
import org.shimwright.kit.Units
import org.shimwright.kit.Weight
import org.shimwright.kit.action
import org.shimwright.kit.actions
import org.shimwright.kit.card
import org.shimwright.kit.choice
import org.shimwright.kit.field
import org.shimwright.kit.length
import org.shimwright.kit.note
import org.shimwright.kit.sideways
import org.shimwright.kit.strong
import org.shimwright.kit.typed
import org.shimwright.kit.units
import org.shimwright.kit.wrong
import org.shimwright.verdict.record
import org.shimwright.verdict.recorded

/** A trial without a photograph: each arrow typed, or tapped on a drawn face. */
data class TypedState(
    val bow: String,
    val kinds: List<ArrowKind>,
    val kind: ArrowKind,
    val halfMm: Double,
    val units: Units,
    val wrong: Set<String>,
)

class TypedScreen(host: Host, args: Bundle, kept: Bundle) : Screen<TypedState>(host, args, kept) {
    private val shot = Shot.of(args)
    private val face = shot.surface == Surface.FACE

    override fun build(workshop: Workshop, kept: Bundle): TypedState {
        val kinds = lines(kept)
        return TypedState(
            bow = workshop.bowPage(shot.bowId).bow.details.name,
            kinds = kinds,
            kind = kept.getString(KIND)?.let(ArrowKind::valueOf) ?: shot.next(kinds, shot.kinds.first()),
            halfMm = kept.getDouble(HALF, halves(workshop.units()).first()),
            units = workshop.units(),
            wrong = kept.wrong,
        )
    }

    private fun lines(kept: Bundle) = kept.getStringArrayList(LINES).orEmpty().map(ArrowKind::valueOf)

    override fun draw(page: Page, state: TypedState) {
        val context = page.context
        val figures = Figures(context, state.units)
        page.head(context.getString(if (face) R.string.typed_holes else R.string.typed_tears), state.bow)
        if (face) drawn(page, state)
        page.body.note(context.getString(if (face) R.string.typed_holes_how else R.string.typed_tears_how))
        state.kinds.indices.forEach { line(page.body, state, it, figures) }
        val kinds = if (face) ArrowKind.entries else ArrowKind.entries - ArrowKind.BROADHEAD
        page.body.choice(context.getString(R.string.next_tap), kinds.map { it to context.kindShaped(it) }, state.kind) {
            kept.putString(KIND, it.name)
            refresh()
        }
        page.body.action(context.getString(if (face) R.string.add_arrow else R.string.add_tear)) { add(state, null) }
        if (state.kinds.isEmpty()) page.hint(context.getString(if (face) R.string.typed_none else R.string.typed_none_tears))
        page.main(context.getString(R.string.save)) { save(state) }.isEnabled = state.kinds.isNotEmpty()
    }

    private fun drawn(page: Page, state: TypedState) {
        val context = page.context
        val figures = Figures(context, state.units)
        val arrows = state.kinds.mapIndexedNotNull { index, kind -> place(index, state)?.let { kind to it } }
        val drawing = DrawnFace(context, state.halfMm, arrows) { add(state, it) }
        if (sideways(context)) page.picture(drawing) else page.body.put(drawing)
        page.body.choice(context.getString(R.string.drawn_reach), halves(state.units).map { it to figures.length(it) }, state.halfMm) {
            kept.putDouble(HALF, it)
            refresh()
        }
    }

    private fun add(state: TypedState, at: PointMm?) {
        val all = state.kinds + state.kind
        keep(all)
        if (at != null) {
            val figures = Reading(state.units)
            kept.putString(X + all.lastIndex, figures.written(at.xMm))
            kept.putString(Y + all.lastIndex, figures.written(at.yMm))
        }
        kept.putString(KIND, shot.next(all, state.kind).name)
        refresh()
    }

    private fun keep(kinds: List<ArrowKind>) = kept.putStringArrayList(LINES, ArrayList(kinds.map { it.name }))

    private fun line(body: Column, state: TypedState, index: Int, figures: Figures) {
        val kind = state.kinds[index]
        val number = state.kinds.take(index + 1).count { it == kind }
        body.card {
            strong(context.getString(R.string.mark_name, context.kindShaped(kind), context.getString(R.string.bare_count, number)))
            val sideways = Signs(context.getString(R.string.left), context.getString(R.string.right))
            offset(X + index, if (face) R.string.offset_right else R.string.tear_right, sideways, state, figures)
            val upright = Signs(context.getString(R.string.low), context.getString(R.string.high))
            offset(Y + index, if (face) R.string.offset_up else R.string.tear_up, upright, state, figures)
            actions { action(context.getString(R.string.remove_mark), Weight.DANGER) { remove(state, index) } }
        }
    }

    private fun Column.offset(key: String, word: Int, which: Signs, state: TypedState, figures: Figures) =
        field(context.getString(word), key, kept) {
            length(figures)
            signs = which
            if (key in state.wrong) wrong = context.getString(R.string.offset_needed)
        }

    private fun remove(state: TypedState, index: Int) {
        for (at in index until state.kinds.lastIndex) {
            kept.putString(X + at, kept.typed(X + (at + 1)))
            kept.putString(Y + at, kept.typed(Y + (at + 1)))
        }
        kept.remove(X + state.kinds.lastIndex)
        kept.remove(Y + state.kinds.lastIndex)
        keep(state.kinds.filterIndexed { at, _ -> at != index })
        refresh()
    }

    private fun place(index: Int, state: TypedState): PointMm? = place(index, Reading(state.units))

    private fun place(index: Int, reading: Reading): PointMm? {
        val x = reading.signed(X + index, kept.typed(X + index))
        val y = reading.signed(Y + index, kept.typed(Y + index))
        return if (x == null || y == null) null else PointMm(x, y)
    }

    private fun save(state: TypedState) {
        val reading = Reading(state.units)
        val places = state.kinds.indices.map { place(it, reading) }
        kept.wrong = reading.wrong
        if (reading.wrong.isNotEmpty()) {
            refresh()
            return
        }
        val read = state.kinds.zip(places.filterNotNull())
        val impacts = if (face) read.map { (kind, at) -> TrialImpact(kind, at, TYPED_SD_MM, null, false, null, null) } else emptyList()
        val tears = if (face) emptyList() else read.map { (kind, at) -> TrialTear(kind, at, TYPED_SD_MM, null, null) }
        val draft = shot.empty().copy(impacts = impacts, tears = tears)
        host.ask({ it.record(shot.bowId, draft, host.nowMs()) }) { host.recorded(shot.bowId, it) }
    }

    private companion object {
        const val LINES = "lines"
        const val KIND = "kind"
        const val HALF = "half"
        const val X = "x"
        const val Y = "y"

        /** A rule laid on the face by eye: common practice, no source. */
        const val TYPED_SD_MM = 2.0

        /** Round in the workshop's unit, mm. */
        fun halves(units: Units) = (1..3).map { it * if (units.lengths == LengthUnit.INCH) EIGHT_INCHES_MM else 200.0 }
        const val EIGHT_INCHES_MM = 203.2
    }
}
