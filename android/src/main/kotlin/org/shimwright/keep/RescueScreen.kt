package org.shimwright.keep

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.FileProblem
import org.shimwright.core.SalvagedTable
import org.shimwright.core.Workshop
import org.shimwright.core.WorkshopException
import org.shimwright.core.salvage
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Said
import org.shimwright.frame.Screen
import org.shimwright.kit.Page
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.door
import java.io.File

/** Which file is damaged, and whether it was set aside, so that an empty one can take its place. */
data class RescueState(val file: String, val setAside: Boolean)

/** A damaged workshop file: what can be read is saved, a backup restored, or an empty one started. Nothing is deleted. */
class RescueScreen(host: Host, args: Bundle, kept: Bundle) : Screen<RescueState>(host, args, kept) {
    override fun build(workshop: Workshop, kept: Bundle): RescueState {
        val aside = host.wishes.setAside
        return RescueState(args.getString(Arg.FILE) ?: aside ?: host.documents.workshop.path, aside != null)
    }

    override fun draw(page: Page, state: RescueState) {
        val context = page.context
        page.head(context.getString(R.string.rescue))
        page.body.card {
            answer(context.getString(R.string.file_damaged))
            body(context.getString(if (state.setAside) R.string.rescue_aside else R.string.rescue_here, File(state.file).name))
        }
        page.body.door(context.getString(R.string.rescue_restore), context.getString(R.string.rescue_restore_note)) {
            host.go(Route.RESTORE)
        }
        if (state.setAside) {
            page.body.door(context.getString(R.string.start_empty), context.getString(R.string.start_empty_note)) { startEmpty() }
        }
        page.main(context.getString(R.string.rescue_save)) { save(state) }
    }

    private fun startEmpty() {
        host.wishes.setAside = null
        host.startOver(Route.RACK)
    }

    private fun save(state: RescueState) {
        val here = host.documents.workshop.path
        host.mend({
            host.wishes.generation += 1
            salvaged(state.file, here)
        }) { outcome ->
            outcome.onSuccess { host.rescued(it) }.onFailure(host::trouble)
        }
    }

    private fun salvaged(file: String, here: String): List<SalvagedTable> = try {
        salvage(file, here)
    } catch (hopeless: WorkshopException.File) {
        if (hopeless.problem != FileProblem.DAMAGED && hopeless.problem != FileProblem.FOREIGN) throw hopeless
        throw Said(R.string.rescue_nothing, R.string.rescue_nothing_remedy, hopeless)
    }
}

private fun Host.rescued(tables: List<SalvagedTable>) {
    wishes.setAside = null
    startOver(Route.RESCUED, rescuedArgs(tables))
}
