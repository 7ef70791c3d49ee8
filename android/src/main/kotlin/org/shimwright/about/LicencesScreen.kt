package org.shimwright.about

import android.content.res.Resources
import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.Workshop
import org.shimwright.frame.Host
import org.shimwright.frame.Screen
import org.shimwright.kit.Page
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.note
import org.shimwright.kit.title

/** What others wrote that is packed with the app; the texts are in the language of the law, not of the phone. */
class LicencesScreen(host: Host, args: Bundle, kept: Bundle) : Screen<Unit>(host, args, kept) {
    override fun build(workshop: Workshop, kept: Bundle) = Unit

    override fun draw(page: Page, state: Unit) {
        page.head(page.context.getString(R.string.licences))
        for (licence in licences(page.resources)) {
            page.body.card {
                title(licence.name)
                note(licence.holders)
                body(licence.text)
            }
        }
    }
}

/** A licence, who is under it, and its text. */
private class Licence(val name: String, val holders: String, val text: String)

/** What android/apk/licences/list wrote: parts with a page break between them, and in each the name, the holders, the text. */
private fun licences(resources: Resources): List<Licence> {
    val all = resources.openRawResource(R.raw.licences).bufferedReader().use { it.readText() }
    return all.split("\u000C\n").map { part ->
        val (name, holders, text) = part.split("\n", limit = 3)
        Licence(name, holders, text.trim())
    }
}
