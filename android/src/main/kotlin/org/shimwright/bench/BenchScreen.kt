package org.shimwright.bench

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.Workshop
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.kit.Page
import org.shimwright.kit.door

/** What belongs to the workshop and not to one bow. */
data class BenchState(val kits: Int)

class BenchScreen(host: Host, args: Bundle, kept: Bundle) : Screen<BenchState>(host, args, kept) {
    override fun build(workshop: Workshop, kept: Bundle) = BenchState(workshop.kits().size)

    override fun draw(page: Page, state: BenchState) {
        val context = page.context
        val kits = context.resources.getQuantityString(R.plurals.kits_count, state.kits, state.kits)
        page.head(context.getString(R.string.bench))
        page.body.door(context.getString(R.string.kits), kits) { host.go(Route.KITS) }
        page.body.door(context.getString(R.string.settings), context.getString(R.string.settings_note)) { host.go(Route.SETTINGS) }
        page.body.door(context.getString(R.string.about), context.getString(R.string.about_note)) { host.go(Route.ABOUT) }
    }
}
