package org.shimwright.about

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.Workshop
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.kit.Page
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.caution
import org.shimwright.kit.door
import org.shimwright.kit.title

/** What the app does, what can hurt, and how it computes. It needs nothing from the workshop, so it shows even without one. */
class AboutScreen(host: Host, args: Bundle, kept: Bundle) : Screen<Unit>(host, args, kept) {
    override fun build(workshop: Workshop, kept: Bundle) = Unit

    override fun draw(page: Page, state: Unit) {
        val context = page.context
        page.head(context.getString(R.string.about), context.getString(R.string.app))
        page.body.card {
            answer(context.getString(R.string.about_job))
            body(context.getString(R.string.about_job_words))
        }
        page.body.caution(context.getString(R.string.about_cautions), context.getString(R.string.about_cautions_words))
        for ((heading, words) in CHAPTERS) {
            page.body.card {
                title(context.getString(heading))
                body(context.getString(words))
            }
        }
        page.body.door(context.getString(R.string.licences), context.getString(R.string.licences_note)) { host.go(Route.LICENCES) }
        page.main(context.getString(R.string.understood)) { host.back() }
    }

    private companion object {
        val CHAPTERS = listOf(
            R.string.about_measuring to R.string.about_measuring_words,
            R.string.about_deciding to R.string.about_deciding_words,
            R.string.about_signs to R.string.about_signs_words,
            R.string.about_private to R.string.about_private_words,
        )
    }
}
