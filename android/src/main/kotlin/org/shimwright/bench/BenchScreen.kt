package org.shimwright.bench

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.Workshop
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.keep.lastBackup
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Units
import org.shimwright.kit.counted
import org.shimwright.kit.door
import org.shimwright.kit.units

/** What belongs to the workshop and not to one bow. */
data class BenchState(val kits: Int, val lastMs: Long?, val units: Units, val nowMs: Long)

class BenchScreen(host: Host, args: Bundle, kept: Bundle) : Screen<BenchState>(host, args, kept) {
    override fun build(workshop: Workshop, kept: Bundle) =
        BenchState(workshop.kits().size, host.wishes.lastBackupMs, workshop.units(), host.nowMs())

    override fun draw(page: Page, state: BenchState) {
        val context = page.context
        val kits = context.counted(R.plurals.kits_count, state.kits)
        page.head(context.getString(R.string.bench))
        page.body.door(context.getString(R.string.kits), kits) { host.go(Route.KITS) }
        val last = context.lastBackup(state.lastMs, Figures(context, state.units), state.nowMs)
        page.body.door(context.getString(R.string.keep), last) { host.go(Route.KEEP) }
        page.body.door(context.getString(R.string.settings), context.getString(R.string.settings_note)) { host.go(Route.SETTINGS) }
        page.body.door(context.getString(R.string.about), context.getString(R.string.about_note)) { host.go(Route.ABOUT) }
    }
}
