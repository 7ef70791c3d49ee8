package org.shimwright.kits

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.KitOnShelf
import org.shimwright.core.PairDraft
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.frame.args
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Units
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.fact
import org.shimwright.kit.note
import org.shimwright.kit.pressable
import org.shimwright.kit.section
import org.shimwright.kit.title
import org.shimwright.kit.units

/** The kits and where their pieces are. */
data class KitsState(val kits: List<KitOnShelf>, val units: Units)

class KitsScreen(host: Host, args: Bundle, kept: Bundle) : Screen<KitsState>(host, args, kept) {
    override fun build(workshop: Workshop, kept: Bundle) = KitsState(workshop.kits(), workshop.units())

    override fun draw(page: Page, state: KitsState) {
        val context = page.context
        val figures = Figures(context, state.units)
        page.head(context.getString(R.string.kits))
        if (state.kits.isEmpty()) {
            page.body.card {
                answer(context.getString(R.string.kits_empty))
                body(context.getString(R.string.kit_why))
            }
        }
        val (away, used) = state.kits.partition { it.record.archivedMs != null }
        used.forEach { kit(page.body, it, figures) }
        if (away.isNotEmpty()) page.body.section(context.getString(R.string.kits_away))
        away.forEach { kit(page.body, it, figures) }
        page.main(context.getString(R.string.add_kit)) { host.go(Route.KIT) }
    }

    private fun kit(body: Column, kit: KitOnShelf, figures: Figures) {
        val context = body.context
        val name = kit.record.kit.name
        val card = body.card {
            title(name)
            note(context.getString(R.string.kit_total, figures.thickness(kit.record.kit.totalMm)))
            kit.record.kit.pairs.forEach { pair -> fact(pairLine(context, pair, figures), shelf(context, kit, pair)) }
        }
        card.pressable(context.getString(R.string.change_kit, name)) { host.go(Route.KIT, args(Arg.KIT to kit.record.id)) }
    }

    private fun pairLine(context: android.content.Context, pair: PairDraft, figures: Figures): String {
        val thin = figures.thicknessBare(pair.thinMeasuredMm ?: pair.thinMm)
        val line = context.getString(R.string.pair_line, pair.name, thin, figures.thickness(pair.thickMeasuredMm ?: pair.thickMm))
        val marks = listOf(pair.thinMark, pair.thickMark).filter { it.isNotBlank() }.distinct()
        return marks.fold(line) { told, mark -> context.getString(R.string.two_facts, told, mark) }
    }

    private fun shelf(context: android.content.Context, kit: KitOnShelf, pair: PairDraft): String {
        val counted = kit.shelf.pairs.find { it.pair == pair.name } ?: return context.getString(R.string.not_counted)
        return context.getString(R.string.on_shelf, counted.onShelf.toInt(), counted.owned.toInt())
    }
}
