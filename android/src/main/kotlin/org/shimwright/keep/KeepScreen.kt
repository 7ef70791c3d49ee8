package org.shimwright.keep

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.Bow
import org.shimwright.core.PhotoUsage
import org.shimwright.core.Unread
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.frame.args
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Units
import org.shimwright.kit.door
import org.shimwright.kit.units

data class KeepState(
    val lastMs: Long?,
    val photos: PhotoUsage,
    val contested: List<Bow>,
    val unread: List<Unread>,
    val units: Units,
    val nowMs: Long,
)

/** What keeps the record safe, and what in it wants a person's eye. */
class KeepScreen(host: Host, args: Bundle, kept: Bundle) : Screen<KeepState>(host, args, kept) {
    override fun build(workshop: Workshop, kept: Bundle) = KeepState(
        lastMs = host.wishes.lastBackupMs,
        photos = workshop.photoUsage(host.photos.folder),
        contested = workshop.contestedBows(),
        unread = workshop.unread(),
        units = workshop.units(),
        nowMs = host.nowMs(),
    )

    override fun draw(page: Page, state: KeepState) {
        val context = page.context
        val figures = Figures(context, state.units)
        page.head(context.getString(R.string.keep))
        page.body.contestedBows(state.contested) { host.go(Route.BOW, args(Arg.BOW to it)) }
        page.body.unreadRows(state.unread)
        val last = context.lastBackup(state.lastMs, figures, state.nowMs)
        page.body.door(context.getString(R.string.backup), last) { host.go(Route.BACKUP) }
        page.body.door(context.getString(R.string.restore), context.getString(R.string.restore_note)) { host.go(Route.RESTORE) }
        page.body.door(context.getString(R.string.merge), context.getString(R.string.merge_note)) { host.go(Route.MERGE) }
        val room = context.getString(R.string.storage_note, context.photosSize(state.photos.photos, state.photos.bytes, figures))
        page.body.door(context.getString(R.string.storage), room) { host.go(Route.STORAGE) }
    }
}
