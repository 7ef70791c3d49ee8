package org.shimwright.share

import android.content.Context
import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.Sheet
import org.shimwright.core.Trial
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Screen
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Units
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.door
import org.shimwright.kit.units

data class ShareState(val bow: String, val trials: List<Trial>, val units: Units)

/** What of a bow can be handed to another app: it is lent that one file, to be read alone. */
class ShareScreen(host: Host, args: Bundle, kept: Bundle) : Screen<ShareState>(host, args, kept) {
    private val bowId = args.getLong(Arg.BOW)

    override fun build(workshop: Workshop, kept: Bundle) =
        ShareState(workshop.bowPage(bowId).bow.details.name, workshop.trials(bowId), workshop.units())

    override fun draw(page: Page, state: ShareState) {
        val context = page.context
        page.head(context.getString(R.string.share), state.bow)
        page.body.card {
            answer(context.getString(R.string.share_what))
            body(context.getString(R.string.share_how))
        }
        val words = SheetWords(context, Figures(context, state.units), state.trials)
        val paper = paperOf(context.resources.configuration.locales[0].country)
        page.body.door(context.getString(R.string.share_pdf), context.getString(R.string.share_pdf_note)) {
            send(context, R.string.share_pdf_name, state.bow) { shop -> shop.sheet { pdf(asks().map(words::of), paper) } }
        }
        page.body.door(context.getString(R.string.share_picture), context.getString(R.string.share_picture_note)) {
            send(context, R.string.share_picture_name, state.bow) { shop -> shop.sheet { png(asks().map(words::of), WIDTH_PX) } }
        }
        page.body.door(context.getString(R.string.share_arrows), context.getString(R.string.share_arrows_note)) {
            send(context, R.string.share_arrows_name, state.bow) { it.arrowsCsv(bowId).encodeToByteArray() }
        }
        page.body.door(context.getString(R.string.share_trials), context.getString(R.string.share_trials_note)) {
            send(context, R.string.share_trials_name, state.bow) { it.trialsCsv(bowId).encodeToByteArray() }
        }
    }

    private fun Workshop.sheet(draw: Sheet.() -> ByteArray): ByteArray = tuneSheet(bowId, host.nowMs()).use(draw)

    private fun send(context: Context, name: Int, bow: String, make: (Workshop) -> ByteArray) =
        host.send(context.getString(R.string.share), context.getString(name, bow, day(host.nowMs())), make)

    private companion object {
        /** 150 dots an inch across A4. */
        const val WIDTH_PX = 1240u
    }
}
