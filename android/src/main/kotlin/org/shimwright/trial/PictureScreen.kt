package org.shimwright.trial

import android.content.Context
import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.PointPx
import org.shimwright.core.Trial
import org.shimwright.core.Workshop
import org.shimwright.core.photoToShare
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Screen
import org.shimwright.kit.Page
import org.shimwright.kit.action
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.counted
import org.shimwright.photo.Hands
import org.shimwright.photo.Layer
import org.shimwright.photo.Mark
import org.shimwright.photo.PhotoView
import org.shimwright.photo.Picture
import org.shimwright.photo.Seen
import org.shimwright.share.day
import org.shimwright.share.send
import java.io.IOException

/** The photograph of a trial with its marks; no [picture] where the file is gone. */
data class PictureState(val trial: Trial, val bow: String, val picture: Picture?)

/** A photograph to look at again: what was marked in it stands where it was marked. */
class PictureScreen(host: Host, args: Bundle, kept: Bundle) : Screen<PictureState>(host, args, kept) {
    private val trialId = args.getLong(Arg.TRIAL)

    override fun build(workshop: Workshop, kept: Bundle): PictureState {
        val trial = workshop.trial(trialId)
        val picture = try {
            trial.shot.photo?.let { Picture.of(host.photos.file(it.file)) }
        } catch (expectedWhenGone: IOException) {
            null
        }
        return PictureState(trial, workshop.bowPage(trial.bowId).bow.details.name, picture)
    }

    override fun draw(page: Page, state: PictureState) {
        val context = page.context
        page.head(context.getString(R.string.trial_photo), state.bow)
        val picture = state.picture
        if (picture == null) {
            page.body.card {
                answer(context.getString(R.string.photo_gone))
                body(context.getString(R.string.photo_gone_words))
            }
            return
        }
        val seen = marks(state.trial)
        val layer = Layer(emptyList(), emptyList(), seen, names = seen.indices.map { context.getString(R.string.bare_count, it + 1) })
        val hands = object : Hands {
            override fun tap(at: PointPx, perMm: Double, exact: Boolean) = Unit

            override fun pick(index: Int) = Unit

            override fun drop(index: Int, at: PointPx, perMm: Double) = Unit

            override fun looked(at: FloatArray) = kept.putFloatArray(VIEW, at)
        }
        page.fill(
            PhotoView(context, picture, layer, hands).apply {
                lookAt(kept.getFloatArray(VIEW))
                contentDescription = context.counted(R.plurals.photo_spoken_marks, seen.size)
            },
            narrow = false,
        )
        page.bar { action(context.getString(R.string.share_photo)) { share(context, state) } }
    }

    /** As the core lets it go: the picture alone, without the place and the phone that its file names. */
    private fun share(context: Context, state: PictureState) {
        val photo = state.trial.shot.photo ?: return
        val name = context.getString(R.string.share_photo_name, state.bow, day(state.trial.atMs))
        host.send(context.getString(R.string.share), name) { photoToShare(host.photos.folder, photo.file) }
    }

    private fun marks(trial: Trial): List<Seen> {
        val impacts = trial.shot.impacts.mapNotNull { hit ->
            hit.px?.let {
                Mark(hit.kind, it, 0.0, hit.arrowNumber, byHand = true) to
                    hit.snapped
            }
        }
        val tears = trial.shot.tears.mapNotNull { tear -> tear.px?.let { Mark(tear.kind, it, 0.0) to true } }
        return (impacts + tears).map { (mark, sure) -> Seen(mark, null, null, emptyList(), known = sure) }
    }

    private companion object {
        const val VIEW = "view"
    }
}
