package org.shimwright.rack

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.Workshop
import org.shimwright.frame.Host
import org.shimwright.frame.Screen
import org.shimwright.kit.Page
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.card

/** The list of bows: what is fitted, and what each waits for. */
class RackScreen(host: Host, args: Bundle, kept: Bundle) : Screen<Unit>(host, args, kept) {
    override fun build(workshop: Workshop, kept: Bundle) = Unit

    override fun draw(page: Page, state: Unit) {
        val context = page.context
        page.head(context.getString(R.string.rack))
        page.body.card {
            answer(context.getString(R.string.rack_empty))
            body(context.getString(R.string.rack_empty_how))
        }
    }
}
