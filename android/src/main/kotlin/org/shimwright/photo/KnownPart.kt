package org.shimwright.photo

import android.content.Context
import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.PlaneFacts
import org.shimwright.core.PointPx
import org.shimwright.frame.trouble
import org.shimwright.frame.troubleOf
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Palette
import org.shimwright.kit.Weight
import org.shimwright.kit.action
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.choice
import org.shimwright.kit.field
import org.shimwright.kit.length
import org.shimwright.kit.note
import org.shimwright.kit.section
import org.shimwright.kit.strong
import org.shimwright.kit.tick

/** The first half of a photograph: what in it is of known size, and whether the core found it. */
internal class KnownPart(private val kept: Bundle, private val refresh: () -> Unit) {
    fun draw(page: Page, state: PhotoState.OnBench) {
        val context = page.context
        page.head(context.getString(R.string.known_title), context.getString(R.string.photo_step_one))
        page.picture(photograph(page, state))
        found(page.body, state)
        what(page.body, state)
        places(page.body, state)
        if (state.facts == null) return
        page.main(context.getString(if (state.paper) R.string.mark_tears else R.string.mark_holes)) {
            kept.putBoolean(PhotoKey.MARKING, true)
            kept.remove(PhotoKey.CHOSEN)
            refresh()
        }
    }

    private fun photograph(page: Page, state: PhotoState.OnBench): PhotoView {
        val hands = object : Hands {
            override fun tap(at: PointPx, perMm: Double, exact: Boolean) {
                if (!state.known.kind.corners) move(state, state.chosen ?: 0, at)
            }

            override fun pick(index: Int) {
                kept.putInt(PhotoKey.CHOSEN, index)
                refresh()
            }

            override fun drop(index: Int, at: PointPx, perMm: Double) = move(state, index, at)

            override fun looked(at: FloatArray) = kept.putFloatArray(PhotoKey.VIEW, at)
        }
        // Points mean nothing before it is said of what they are.
        val layer = Layer(state.outline, if (state.nothing) emptyList() else state.points, chosen = state.chosen)
        return PhotoView(page.context, state.picture, layer, hands).apply {
            lookAt(kept.getFloatArray(PhotoKey.VIEW))
            contentDescription = context.getString(if (state.facts == null) R.string.photo_spoken_open else R.string.photo_spoken_found)
        }
    }

    private fun move(state: PhotoState.OnBench, index: Int, to: PointPx) = correct(state) {
        Known.keep(kept, state.points.mapIndexed { at, point -> if (at == index) to else point })
    }

    /** What was found by itself counts as said once a person changes anything of it. */
    private fun correct(state: PhotoState.OnBench, change: () -> Unit) {
        state.looked?.let { keep(kept, it.reference) }
        change()
        refresh()
    }

    private fun found(body: Column, state: PhotoState.OnBench) {
        val facts = state.facts
        val problem = state.problem
        when {
            facts != null -> facts(body, state, facts)

            state.nothing -> body.card {
                strong(context.getString(R.string.known_nothing), Palette.of(context).wants)
                body(context.getString(R.string.known_nothing_how))
            }

            problem != null -> body.trouble(body.context.troubleOf(problem), null)

            else -> body.card {
                strong(context.getString(R.string.known_open))
                body(context.getString(openWord(state.known.kind)))
            }
        }
    }

    private fun facts(body: Column, state: PhotoState.OnBench, facts: PlaneFacts) {
        val figures = Figures(body.context, state.units)
        body.card {
            strong(foundName(context, state.known), Palette.of(context).settled)
            body(context.getString(R.string.known_fits, figures.atMost(facts.residualMm)))
            facts.warnings.forEach { note(context.warning(it, figures)) }
        }
    }

    /** "A4 found": what it is, where its size has a name. */
    private fun foundName(context: Context, known: Known): String = when {
        known.kind == KnownKind.SHEET && known.sheet != SheetSize.OWN -> context.getString(
            R.string.found_named,
            context.getString(known.sheet.word),
        )

        known.kind == KnownKind.FACE -> context.getString(R.string.found_named_face, context.getString(known.face.word))

        else -> context.getString(foundWord(known.kind))
    }

    private fun what(body: Column, state: PhotoState.OnBench) {
        val context = body.context
        val known = state.known
        val chosen = if (state.nothing) null else known.kind
        body.choice(context.getString(R.string.known_question), KnownKind.entries.map { it to context.getString(it.word) }, chosen) {
            kept.putString(Known.KIND, it.name)
            // Corners that were placed and do not fit may only have been given the wrong name.
            val stay = it.corners && known.kind.corners && state.facts == null
            if (!stay) Known.keep(kept, if (it.corners) emptyList() else known.fresh(it, state.picture))
            kept.remove(PhotoKey.CHOSEN)
            refresh()
        }
        if (state.nothing) return
        when (known.kind) {
            KnownKind.SHEET -> sheet(body, state)
            KnownKind.CARD -> if (known.points.isNotEmpty()) lies(body, state)
            KnownKind.MARKS -> size(body, state)
            KnownKind.FACE -> face(body, state)
            KnownKind.POINTS -> length(body, state, Known.APART, R.string.known_apart)
        }
    }

    private fun Known.fresh(kind: KnownKind, picture: Picture) = copy(kind = kind, points = emptyList()).first(picture)

    private fun sheet(body: Column, state: PhotoState.OnBench) {
        val context = body.context
        val sizes = SheetSize.entries.map { it to context.getString(it.word) }
        body.choice(context.getString(R.string.sheet_size), sizes, state.known.sheet) {
            kept.putString(Known.KIND, KnownKind.SHEET.name)
            kept.putString(Known.SHEET, it.name)
            refresh()
        }
        if (state.known.sheet == SheetSize.OWN) {
            size(body, state)
        } else if (state.known.points.isNotEmpty()) {
            lies(body, state)
        }
    }

    private fun lies(body: Column, state: PhotoState.OnBench) {
        val context = body.context
        val ways = listOf(false to context.getString(R.string.sheet_upright), true to context.getString(R.string.sheet_across))
        body.choice(context.getString(R.string.sheet_lies), ways, state.known.across) {
            correct(state) { kept.putBoolean(Known.ACROSS, it) }
        }
    }

    private fun size(body: Column, state: PhotoState.OnBench) {
        length(body, state, Known.WIDE, R.string.known_wide)
        length(body, state, Known.HIGH, R.string.known_high)
    }

    private fun length(body: Column, state: PhotoState.OnBench, key: String, word: Int) {
        val figures = Figures(body.context, state.units)
        body.field(body.context.getString(word), key, kept) {
            length(figures)
            if (key in state.unreadable) wrong = body.context.getString(R.string.figure_unread)
        }
        if (key != Known.WIDE) body.action(body.context.getString(R.string.known_look)) { refresh() }
    }

    private fun face(body: Column, state: PhotoState.OnBench) {
        val context = body.context
        val faces = FaceSize.entries.map { it to context.getString(it.word) }
        body.note(context.getString(R.string.face_centre_how))
        for (group in faces.chunked(4)) {
            val title = if (group.first().first == FaceSize.TARGET_40) R.string.face_target else R.string.face_field
            body.choice(context.getString(title), group, state.known.face) {
                correct(state) { kept.putString(Known.FACE, it.name) }
            }
        }
        if (state.known.roll != null && !state.known.upright) body.note(context.getString(R.string.face_up_felt))
        body.tick(context.getString(R.string.face_upright), state.known.upright) {
            correct(state) {
                kept.putBoolean(Known.UPRIGHT, it)
                val up = state.known.copy(upright = true).first(state.picture).drop(1)
                Known.keep(kept, (state.points.take(1) + up).take(if (it) 3 else 1))
            }
        }
    }

    /** The same as dragging, for keys, switches and screen readers. */
    private fun places(body: Column, state: PhotoState.OnBench) {
        if (state.nothing) return
        val context = body.context
        body.section(context.getString(R.string.points_by_steps))
        val names = state.points.indices.map { it to context.pointName(state.known.kind, it) }
        body.choice(context.getString(R.string.point_to_move), names, state.chosen) {
            kept.putInt(PhotoKey.CHOSEN, it)
            refresh()
        }
        val chosen = state.chosen?.takeIf { it in state.points.indices } ?: return
        val step = state.picture.width / STEPS
        body.nudges { x, y -> move(state, chosen, state.points[chosen].let { PointPx(it.xPx + x * step, it.yPx + y * step) }) }
        if (state.known.points.isNotEmpty() && state.known.kind.corners) {
            body.action(context.getString(R.string.find_itself), Weight.PLAIN) {
                Known.keep(kept, emptyList())
                refresh()
            }
        }
    }

    private companion object {
        /** A step of the buttons is this share of the picture's width: small beside what the core searches. */
        const val STEPS = 400.0
    }
}
