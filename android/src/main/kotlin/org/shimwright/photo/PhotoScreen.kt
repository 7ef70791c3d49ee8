package org.shimwright.photo

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.PhotoRef
import org.shimwright.core.PointMm
import org.shimwright.core.TrialDraft
import org.shimwright.core.TrialImpact
import org.shimwright.core.TrialTear
import org.shimwright.core.VerdictGiven
import org.shimwright.core.Workshop
import org.shimwright.core.WorkshopException
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Screen
import org.shimwright.frame.trouble
import org.shimwright.frame.troubleOf
import org.shimwright.kit.Page
import org.shimwright.shoot.Shot
import org.shimwright.verdict.anew
import org.shimwright.verdict.record
import org.shimwright.verdict.recorded
import java.io.IOException

/** A photograph of what was shot: first what in it is of known size, then the marks, then the trial. */
class PhotoScreen(host: Host, args: Bundle, kept: Bundle) : Screen<PhotoState>(host, args, kept) {
    private val shot = Shot.of(args)
    private val name = args.getString(Arg.PHOTO).orEmpty()

    /** The trial that this photograph already made, when it is measured again. */
    private val again = if (args.containsKey(Arg.TRIAL)) args.getLong(Arg.TRIAL) else null
    private val known = KnownPart(kept, ::refresh)
    private val marks = MarksPart(kept, ::refresh, ::save)

    init {
        if (args.containsKey(Arg.ROLL) && !kept.containsKey(Known.ROLL)) kept.putDouble(Known.ROLL, args.getDouble(Arg.ROLL))
    }

    /** Made and used on the worker alone. */
    private var bench: PhotoBench? = null

    override fun build(workshop: Workshop, kept: Bundle): PhotoState = try {
        onBench(workshop, opened(workshop), shot, kept)
    } catch (refused: WorkshopException.Photo) {
        PhotoState.Refused(refused)
    } catch (unreadable: IOException) {
        PhotoState.Refused(unreadable)
    }

    /** From the marks back to what is of known size, and only from there out of the photograph. One that cannot be used is no draft. */
    override fun onBack(): Boolean {
        val state = shown
        if (state is PhotoState.Refused) {
            giveUp()
            return true
        }
        if ((state as? PhotoState.OnBench)?.marking != true) return false
        kept.putBoolean(PhotoKey.MARKING, false)
        marks.unchoose()
        refresh()
        return true
    }

    private fun opened(workshop: Workshop) = bench ?: PhotoBench(workshop, host.photos.file(name)).also { bench = it }

    override fun draw(page: Page, state: PhotoState) = when (state) {
        is PhotoState.Refused -> refused(page, state)

        is PhotoState.OnBench -> {
            take(state)
            if (state.marking) marks.draw(page, state) else known.draw(page, state)
        }
    }

    /** What was found by itself is from now on what was said, so that the person can correct it and nothing is looked for twice. */
    private fun take(state: PhotoState.OnBench) {
        val looked = state.looked
        if (looked != null && !kept.containsKey(Known.KIND)) {
            keep(kept, looked.reference)
            kept.putBoolean(PhotoKey.MARKING, looked.sure)
        }
        if (state.adopted != null && !kept.getBoolean(PhotoKey.ASKED)) {
            kept.putBoolean(PhotoKey.ASKED, true)
            if (state.adopted.isNotEmpty()) Marks(kept).set(state.adopted)
        }
    }

    private fun refused(page: Page, state: PhotoState.Refused) {
        page.head(page.context.getString(R.string.photo))
        page.body.trouble(page.context.troubleOf(state.why), null)
        page.main(page.context.getString(R.string.photo_other)) { giveUp() }
    }

    private fun giveUp() {
        if (again == null) host.photos.drop(name)
        host.back()
    }

    private fun save(state: PhotoState.OnBench) {
        // A number may have been typed since the marks were drawn.
        val numbers = Marks(kept).all.map { it.number }
        host.ask({ workshop ->
            val bench = opened(workshop)
            workshop.rememberLens(bench.session, host.nowMs())
            recorded(workshop, trial(bench, state, numbers))
        }) { host.recorded(shot.bowId, it) }
    }

    /** Worker: a photograph measured again corrects its trial; a fresh one makes a trial. Either way the bow is judged by it. */
    private fun recorded(workshop: Workshop, trial: TrialDraft): VerdictGiven? {
        val again = again ?: return workshop.record(shot.bowId, trial, host.nowMs())
        workshop.correctTrial(again, shot.bowId, trial.copy(note = workshop.trial(again).shot.note))
        return workshop.anew(shot.bowId, host.nowMs())
    }

    private fun trial(bench: PhotoBench, state: PhotoState.OnBench, numbers: List<Int?>): TrialDraft = shot.empty().copy(
        impacts = state.seen.mapIndexedNotNull { index, seen -> seen.asImpact(numbers.getOrNull(index)) },
        tears = state.seen.mapNotNull { seen -> seen.asTear() },
        photo = PhotoRef(name, bench.session.widthPx(), bench.session.heightPx()),
        plane = bench.session.planeRecord(),
    )
}

private fun Seen.asImpact(number: Int?): TrialImpact? = impact?.let {
    TrialImpact(mark.kind, PointMm(it.xMm, it.yMm), it.sdMm, it.px, it.snapped, number, null)
}

private fun Seen.asTear(): TrialTear? = tear?.takeIf { it.accepted }?.let {
    TrialTear(mark.kind, PointMm(it.xMm, it.yMm), it.sdMm, it.pointPx, null)
}
