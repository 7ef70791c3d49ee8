package org.shimwright.settings

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.DistanceUnit
import org.shimwright.core.Hand
import org.shimwright.core.LengthUnit
import org.shimwright.core.Pace
import org.shimwright.core.Workshop
import org.shimwright.core.WorkshopSettings
import org.shimwright.frame.Host
import org.shimwright.frame.Screen
import org.shimwright.frame.Wishes
import org.shimwright.kit.Column
import org.shimwright.kit.Field
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Reading
import org.shimwright.kit.Units
import org.shimwright.kit.choice
import org.shimwright.kit.distance
import org.shimwright.kit.field
import org.shimwright.kit.length
import org.shimwright.kit.note
import org.shimwright.kit.section
import org.shimwright.kit.tellLanguage
import org.shimwright.kit.tick
import org.shimwright.kit.typed
import org.shimwright.kit.wrong

/** The settings as stored, and which figures could not be read. */
data class SettingsState(val now: WorkshopSettings, val wrong: Set<String>) {
    val units get() = Units(now.lengthUnit, now.distanceUnit)
}

/** Everything takes effect at once. Camp red and language belong to this phone and never reach the core. */
class SettingsScreen(host: Host, args: Bundle, kept: Bundle) : Screen<SettingsState>(host, args, kept) {
    override fun build(workshop: Workshop, kept: Bundle) = SettingsState(workshop.settings(), kept.wrong)

    override fun draw(page: Page, state: SettingsState) {
        page.head(page.context.getString(R.string.settings))
        looks(page.body)
        units(page.body, state.now)
        tolerance(page.body, state)
        pace(page.body, state.now)
        axles(page.body, state)
    }

    private fun looks(body: Column) {
        val context = body.context
        val wishes = Wishes.of(context)
        body.section(context.getString(R.string.settings_looks))
        body.tick(context.getString(R.string.camp_red), wishes.camp) { on ->
            wishes.camp = on
            host.restyle()
        }
        body.note(context.getString(R.string.camp_red_note))
        val languages = listOf<Pair<String?, String>>(
            null to context.getString(R.string.language_phone),
            "en" to context.getString(R.string.language_english),
            "de" to context.getString(R.string.language_german),
            "fr" to context.getString(R.string.language_french),
        )
        body.choice(context.getString(R.string.language), languages, wishes.language) {
            wishes.language = it
            context.tellLanguage(it)
            host.restyle()
        }
    }

    private fun units(body: Column, now: WorkshopSettings) {
        val context = body.context
        body.section(context.getString(R.string.settings_units))
        val lengths = listOf(
            LengthUnit.MILLIMETRE to context.getString(R.string.unit_mm),
            LengthUnit.INCH to context.getString(R.string.unit_inch),
        )
        body.choice(context.getString(R.string.lengths_in), lengths, now.lengthUnit) { saved(now.copy(lengthUnit = it)) }
        val distances = listOf(
            DistanceUnit.METRE to context.getString(R.string.unit_m),
            DistanceUnit.YARD to context.getString(R.string.unit_yard),
        )
        body.choice(context.getString(R.string.distances_in), distances, now.distanceUnit) { saved(now.copy(distanceUnit = it)) }
        val hands = listOf(Hand.RIGHT to context.getString(R.string.right_hand), Hand.LEFT to context.getString(R.string.left_hand))
        body.choice(context.getString(R.string.usual_hand), hands, now.hand) { saved(now.copy(hand = it)) }
    }

    private fun tolerance(body: Column, state: SettingsState) {
        val context = body.context
        val figures = Figures(context, state.units)
        body.section(context.getString(R.string.settings_tolerance))
        body.note(context.getString(R.string.tolerance_why))
        figure(body, R.string.tolerance, TOLERANCE, figures.lengthField(state.now.toleranceMm), state) { length(figures) }
        figure(body, R.string.tolerance_at, DISTANCE, figures.distanceField(state.now.toleranceDistanceM), state) { distance(figures) }
    }

    private fun pace(body: Column, now: WorkshopSettings) {
        val context = body.context
        val options = listOf(
            Pace.THOROUGH to context.getString(R.string.pace_thorough),
            Pace.USUAL to context.getString(R.string.pace_usual),
            Pace.QUICK to context.getString(R.string.pace_quick),
        )
        body.choice(context.getString(R.string.pace), options, now.pace) { saved(now.copy(pace = it)) }
        body.note(context.getString(R.string.pace_why))
    }

    private fun axles(body: Column, state: SettingsState) {
        val context = body.context
        val figures = Figures(context, state.units)
        body.section(context.getString(R.string.settings_axles))
        body.tick(context.getString(R.string.unequal_axles), state.now.unequalAxles) { saved(state.now.copy(unequalAxles = it)) }
        body.note(context.getString(R.string.unequal_axles_note))
        if (state.now.unequalAxles) {
            figure(body, R.string.tilt_limit, TILT, figures.lengthField(state.now.tiltLimitMm), state) { length(figures) }
        }
    }

    /** A figure takes effect when its field or the page is left. */
    private fun figure(body: Column, label: Int, key: String, now: String, state: SettingsState, takes: Field.() -> Unit) {
        body.field(body.context.getString(label), key, kept) {
            first = now
            takes()
            if (key in state.wrong) wrong = body.context.getString(R.string.figure_needed)
            left = { save(state) }
        }
    }

    /** The figures on the page were in the old unit, so they are written anew from what is stored. */
    private fun saved(wanted: WorkshopSettings) {
        host.ask({ it.saveSettings(wanted) }) {
            listOf(TOLERANCE, DISTANCE, TILT).forEach(kept::remove)
            refresh()
        }
    }

    /** Leaving the page saves the figures; one that cannot be read is said first. */
    override fun onBack(): Boolean {
        val now = shown ?: return false
        val fine = save(now)
        if (!fine) refresh()
        return !fine
    }

    private fun save(state: SettingsState): Boolean {
        val reading = Reading(state.units)
        val wanted = state.now.copy(
            toleranceMm = reading.typedLength(TOLERANCE, state.now.toleranceMm),
            toleranceDistanceM = if (kept.containsKey(DISTANCE)) {
                reading.distance(DISTANCE, kept.typed(DISTANCE)) ?: state.now.toleranceDistanceM
            } else {
                state.now.toleranceDistanceM
            },
            tiltLimitMm = reading.typedLength(TILT, state.now.tiltLimitMm),
        )
        kept.wrong = reading.wrong
        if (reading.wrong.isEmpty() && wanted != state.now) host.ask({ it.saveSettings(wanted) }) { hold(state.copy(now = wanted)) }
        return reading.wrong.isEmpty()
    }

    private fun Reading.typedLength(key: String, before: Double): Double =
        if (kept.containsKey(key)) length(key, kept.typed(key), needed = true) ?: before else before

    private companion object {
        const val TOLERANCE = "tolerance"
        const val DISTANCE = "distance"
        const val TILT = "tilt"
    }
}
