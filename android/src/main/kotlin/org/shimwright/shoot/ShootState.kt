package org.shimwright.shoot

import android.os.Bundle
import org.shimwright.core.ArrowKind
import org.shimwright.core.ArrowSetupRecord
import org.shimwright.core.BowPage
import org.shimwright.core.SetupCheck
import org.shimwright.core.Surface
import org.shimwright.core.Trial
import org.shimwright.core.Workshop
import org.shimwright.kit.Units
import org.shimwright.kit.units

/** Why a bow cannot be shot for the record now. */
enum class Bars { NOTHING_FITTED, SWAP_OPEN }

/** The questions before a trial. */
data class ShootState(
    val bow: String,
    val bars: Bars?,
    val surface: Surface,
    /** The distance last used on this surface, m. */
    val lastM: Double?,
    /** Who shot last. */
    val lastShooter: String,
    /** Everybody who shot this bow before, last first. */
    val shooters: List<String>,
    /** What is on record as damaged. */
    val checks: List<SetupCheck>,
    val counts: Map<ArrowKind, Int>,
    val arrows: List<ArrowSetupRecord>,
    val arrowsId: Long?,
    val units: Units,
    val unread: Boolean,
) {
    /** Broadheads are not shot through paper. */
    val offered get() = if (surface == Surface.PAPER) ArrowKind.entries - ArrowKind.BROADHEAD else ArrowKind.entries
}

internal fun shootState(workshop: Workshop, bowId: Long, kept: Bundle): ShootState {
    val page = workshop.bowPage(bowId)
    val arrows = page.arrowSetups.filter { it.archivedMs == null }
    val trials = workshop.trials(bowId)
    val surface = kept.getString(ShootKey.SURFACE)?.let(Surface::valueOf) ?: page.lastTrial?.shot?.surface ?: Surface.FACE
    val last = trials.lastOrNull { it.shot.surface == surface }
    return ShootState(
        bow = page.bow.details.name,
        bars = bars(page),
        surface = surface,
        lastM = last?.shot?.distanceM,
        lastShooter = page.lastTrial?.shot?.shooter.orEmpty(),
        shooters = trials.asReversed().map { it.shot.shooter }.filter { it.isNotBlank() }.distinct().take(MOST_SHOOTERS),
        checks = page.checks,
        counts = counts(surface, last, kept),
        arrows = arrows,
        arrowsId = if (kept.containsKey(ShootKey.ARROWS)) kept.getLong(ShootKey.ARROWS) else lastOf(arrows, page)?.id,
        units = workshop.units(),
        unread = kept.getBoolean(ShootKey.UNREAD),
    )
}

private fun bars(page: BowPage): Bars? = when {
    page.swap != null -> Bars.SWAP_OPEN
    page.fitted == null -> Bars.NOTHING_FITTED
    else -> null
}

/** The arrows shot last, as far as they are still offered. */
private fun lastOf(arrows: List<ArrowSetupRecord>, page: BowPage) =
    arrows.find { it.id == page.lastTrial?.shot?.arrowSetupId } ?: arrows.firstOrNull()

/** As many of each as the last time on this surface; three fletched and three bare at first, as is common practice. */
private fun counts(surface: Surface, last: Trial?, kept: Bundle): Map<ArrowKind, Int> = ArrowKind.entries.associateWith { kind ->
    val shot = last?.shot?.let { shot -> shot.impacts.count { it.kind == kind } + shot.tears.count { it.kind == kind } }
    val usual = if (kind == ArrowKind.BROADHEAD || (surface == Surface.PAPER && kind == ArrowKind.BARE)) 0 else USUAL
    kept.getInt(kind.name, shot ?: usual)
}

private const val USUAL = 3

/** More names than these are typed: a row of buttons is read at a glance. */
private const val MOST_SHOOTERS = 4
