package org.shimwright.home

import android.app.PendingIntent
import android.appwidget.AppWidgetManager
import android.appwidget.AppWidgetProvider
import android.content.ComponentName
import android.content.Context
import android.content.Intent
import android.view.View
import android.widget.RemoteViews
import org.shimwright.App
import org.shimwright.R
import org.shimwright.ShellActivity
import org.shimwright.kit.Palette
import org.shimwright.kit.Units
import org.shimwright.rack.RackLine

/** What is fitted in the bows used last, on the home screen; a tap opens the bow. */
class FittedWidget : AppWidgetProvider() {
    override fun onUpdate(context: Context, manager: AppWidgetManager, ids: IntArray) {
        val waiting = goAsync()
        // Not under a broadcast when a test or the app itself calls it.
        catchUpHome(context.applicationContext as App) { waiting?.finish() }
    }
}

private const val TILE_WIDE = 72
private const val TILE_HIGH = 52

internal fun publishWidgets(context: Context, recent: RecentBows) {
    val manager = context.getSystemService(AppWidgetManager::class.java) ?: return
    val ids = manager.getAppWidgetIds(ComponentName(context, FittedWidget::class.java))
    if (ids.isNotEmpty()) manager.updateAppWidget(ids, widget(context, recent))
}

internal fun widget(context: Context, recent: RecentBows): RemoteViews {
    val palette = Palette.of(context)
    val views = RemoteViews(context.packageName, R.layout.widget)
    views.setInt(R.id.widget, "setBackgroundColor", palette.ground)
    views.removeAllViews(R.id.widget_rows)
    recent.lines.forEach { views.addView(R.id.widget_rows, row(context, it, recent.units, palette)) }
    views.setViewVisibility(R.id.widget_empty, if (recent.lines.isEmpty()) View.VISIBLE else View.GONE)
    views.setTextColor(R.id.widget_empty, palette.muted)
    views.setOnClickPendingIntent(R.id.widget, pending(context, Intent(context, ShellActivity::class.java)))
    return views
}

private fun row(context: Context, line: RackLine, units: Units, palette: Palette): RemoteViews {
    val row = RemoteViews(context.packageName, R.layout.widget_row)
    val tile = context.tile(line, units, TILE_WIDE, TILE_HIGH)
    if (tile != null) row.setImageViewBitmap(R.id.widget_tile, tile)
    row.setTextViewText(R.id.widget_name, line.row.name)
    row.setTextColor(R.id.widget_name, palette.ink)
    row.setTextViewText(R.id.widget_fitted, context.fittedLine(line))
    row.setTextColor(R.id.widget_fitted, if (line.row.waits.hurts) palette.wants else palette.muted)
    row.setOnClickPendingIntent(R.id.widget_row, pending(context, wayToBow(context, line.row.bowId)))
    return row
}

private fun pending(context: Context, intent: Intent): PendingIntent =
    PendingIntent.getActivity(context, 0, intent, PendingIntent.FLAG_IMMUTABLE or PendingIntent.FLAG_UPDATE_CURRENT)
