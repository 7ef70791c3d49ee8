package org.shimwright.home

import android.content.Context
import android.content.Intent
import android.content.pm.ShortcutInfo
import android.content.pm.ShortcutManager
import android.graphics.drawable.Icon
import android.net.Uri
import org.shimwright.R
import org.shimwright.ShellActivity
import org.shimwright.frame.Wishes
import org.shimwright.kit.Units
import org.shimwright.rack.RackLine

private const val SCHEME = "shimwright"
private const val BOW = "bow"
private const val ICON_DP = 64

/** The way to a bow from outside: one tap. */
fun wayToBow(context: Context, bowId: Long): Intent = Intent(Intent.ACTION_VIEW, address(context, bowId))
    .setClass(context, ShellActivity::class.java)
    .addFlags(Intent.FLAG_ACTIVITY_NEW_TASK or Intent.FLAG_ACTIVITY_CLEAR_TOP)

/** A bow's number means something within one workshop only, so the way carries which one it was. */
private fun address(context: Context, bowId: Long) = Uri.fromParts(SCHEME, "$BOW/$bowId/${Wishes.of(context).generation}", null)

/** The bow that [intent] leads to in the workshop of this [generation]; null for every other intent. */
fun bowOf(intent: Intent, generation: Int): Long? {
    val way = intent.data?.takeIf { it.scheme == SCHEME } ?: return null
    val (bow, of) = way.schemeSpecificPart.removePrefix("$BOW/").split('/').takeIf { it.size == 2 } ?: return null
    return bow.toLongOrNull().takeIf { of == generation.toString() }
}

internal fun publishShortcuts(context: Context, recent: RecentBows) {
    val manager = context.getSystemService(ShortcutManager::class.java) ?: return
    manager.dynamicShortcuts = recent.lines.take(manager.maxShortcutCountPerActivity).map { shortcut(context, it, recent.units) }
}

private fun shortcut(context: Context, line: RackLine, units: Units): ShortcutInfo {
    val icon = context.tile(line, units, ICON_DP, ICON_DP)?.let(Icon::createWithBitmap) ?: Icon.createWithResource(context, R.drawable.icon)
    return ShortcutInfo.Builder(context, "$BOW-${line.row.bowId}")
        .setShortLabel(line.row.name)
        .setLongLabel(context.getString(R.string.two_facts, line.row.name, context.fittedLine(line)))
        .setIcon(icon)
        .setIntent(wayToBow(context, line.row.bowId))
        .build()
}
