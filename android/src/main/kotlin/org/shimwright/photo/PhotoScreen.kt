package org.shimwright.photo

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.PhotoRef
import org.shimwright.core.PointMm
import org.shimwright.core.TrialDraft
import org.shimwright.core.TrialImpact
import org.shimwright.core.TrialTear
import org.shimwright.core.Workshop
import org.shimwright.core.WorkshopException
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Screen
import org.shimwright.frame.trouble
import org.shimwright.frame.troubleOf
import org.shimwright.kit.Page
import org.shimwright.shoot.Shot
import org.shimwright.verdict.record
import org.shimwright.verdict.recorded
import java.io.IOException

/** A photograph of what was shot: first what in it is of known size, then the marks, then the trial. */
class PhotoScreen(host: Host, args: Bundle, kept: Bundle) : Screen<PhotoState>(host, args, kept) {
    private val shot = Shot.of(args)
    private val name = args.getString(Arg.PHOTO).orEmpty()
    private val known = KnownPart(kept, ::refresh)
    private val marks = MarksPart(kept, ::refresh, ::save)

    /** Made and used on the worker alone. */
    private var bench: PhotoBench? = null

    override fun build(workshop: Workshop, kept: Bundle): PhotoState = try {
        onBench(workshop, opened(workshop), shot, kept)
    } catch (refused: WorkshopException.Photo) {
        PhotoState.Refused(refused)
    } catch (unreadable: IOException) {
        PhotoState.Refused(unreadable)
    }

    private fun opened(workshop: Workshop) = bench ?: PhotoBench(workshop, host.photos.file(name)).also { bench = it }

    override fun draw(page: Page, state: PhotoState) = when (state) {
        is PhotoState.Refused -> refused(page, state)
        is PhotoState.OnBench -> if (state.marking) marks.draw(page, state) else known.draw(page, state)
    }

    private fun refused(page: Page, state: PhotoState.Refused) {
        page.head(page.context.getString(R.string.photo))
        page.body.trouble(page.context.troubleOf(state.why), null)
        page.main(page.context.getString(R.string.photo_other)) {
            host.photos.drop(name)
            host.back()
        }
    }

    private fun save(state: PhotoState.OnBench) {
        host.ask({ workshop ->
            val bench = opened(workshop)
            workshop.rememberLens(bench.session, host.nowMs())
            workshop.record(shot.bowId, trial(bench, state), host.nowMs())
        }) { host.recorded(shot.bowId, it) }
    }

    private fun trial(bench: PhotoBench, state: PhotoState.OnBench): TrialDraft = shot.empty().let {
        TrialDraft(
            surface = it.surface,
            distanceM = it.distanceM,
            arrowSetupId = it.arrowSetupId,
            impacts = state.seen.mapNotNull { seen -> seen.asImpact() },
            tears = state.seen.mapNotNull { seen -> seen.asTear() },
            photo = PhotoRef(name, bench.session.widthPx(), bench.session.heightPx()),
            plane = bench.session.planeRecord(),
            note = it.note,
        )
    }
}

private fun Seen.asImpact(): TrialImpact? = impact?.let {
    TrialImpact(mark.kind, PointMm(it.xMm, it.yMm), it.sdMm, it.px, it.snapped, mark.number, null)
}

private fun Seen.asTear(): TrialTear? = tear?.takeIf { it.accepted }?.let {
    TrialTear(mark.kind, PointMm(it.xMm, it.yMm), it.sdMm, null)
}
