package org.shimwright.about

import android.content.Context
import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.DistanceUnit
import org.shimwright.core.Hand
import org.shimwright.core.LengthUnit
import org.shimwright.core.Workshop
import org.shimwright.core.WorkshopSettings
import org.shimwright.frame.Host
import org.shimwright.frame.Screen
import org.shimwright.frame.Wishes
import org.shimwright.kit.Page
import org.shimwright.kit.caution
import org.shimwright.kit.choice
import org.shimwright.kit.note
import org.shimwright.kit.section
import java.util.Locale

/** What a newcomer chooses once. */
data class WelcomeState(val settings: WorkshopSettings, val lengths: LengthUnit, val distances: DistanceUnit, val hand: Hand)

/** The first start: what can hurt, and which units and hand this workshop uses. Shown until it is understood. */
class WelcomeScreen(host: Host, args: Bundle, kept: Bundle) : Screen<WelcomeState>(host, args, kept) {
    override fun build(workshop: Workshop, kept: Bundle): WelcomeState {
        val settings = workshop.settings()
        // Where inches are at home, nobody should meet a form full of millimetres.
        val imperial = Locale.getDefault().country in INCH_COUNTRIES && workshop.rack("").isEmpty()
        return WelcomeState(
            settings = settings,
            lengths = kept.getString(LENGTHS)?.let(LengthUnit::valueOf) ?: if (imperial) LengthUnit.INCH else settings.lengthUnit,
            distances = kept.getString(DISTANCES)?.let(DistanceUnit::valueOf) ?: if (imperial) DistanceUnit.YARD else settings.distanceUnit,
            hand = kept.getString(HAND)?.let(Hand::valueOf) ?: settings.hand,
        )
    }

    override fun draw(page: Page, state: WelcomeState) {
        val context = page.context
        page.head(context.getString(R.string.welcome))
        page.body.caution(context.getString(R.string.about_cautions), context.getString(R.string.about_cautions_words))
        page.body.section(context.getString(R.string.welcome_units))
        page.body.note(context.getString(R.string.welcome_units_note))
        val lengths = LengthUnit.entries.map {
            it to context.getString(if (it == LengthUnit.INCH) R.string.unit_inch else R.string.unit_mm)
        }
        page.body.choice(context.getString(R.string.lengths_in), lengths, state.lengths) { pick(LENGTHS, it.name) }
        val distances = DistanceUnit.entries.map {
            it to
                context.getString(if (it == DistanceUnit.YARD) R.string.unit_yard else R.string.unit_m)
        }
        page.body.choice(context.getString(R.string.distances_in), distances, state.distances) { pick(DISTANCES, it.name) }
        val hands = listOf(Hand.RIGHT to context.getString(R.string.right_hand), Hand.LEFT to context.getString(R.string.left_hand))
        page.body.choice(context.getString(R.string.usual_hand), hands, state.hand) { pick(HAND, it.name) }
        page.main(context.getString(R.string.understood)) { understood(context, state) }
    }

    private fun pick(key: String, value: String) {
        kept.putString(key, value)
        refresh()
    }

    private fun understood(context: Context, state: WelcomeState) {
        val wishes = Wishes.of(context)
        val wanted = state.settings.copy(lengthUnit = state.lengths, distanceUnit = state.distances, hand = state.hand)
        host.ask({ it.saveSettings(wanted) }) {
            wishes.cautionsRead = true
            host.back()
        }
    }

    private companion object {
        const val LENGTHS = "lengths"
        const val DISTANCES = "distances"
        const val HAND = "hand"

        /** Where bow shops measure in inches and yards: common practice, no source. */
        val INCH_COUNTRIES = setOf("US", "CA")
    }
}
