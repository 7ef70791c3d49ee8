package org.shimwright.home

import android.content.Context
import android.graphics.Bitmap
import android.graphics.Canvas
import android.view.ContextThemeWrapper
import org.shimwright.App
import org.shimwright.R
import org.shimwright.checks.breaks
import org.shimwright.core.Waits
import org.shimwright.core.Workshop
import org.shimwright.frame.Wishes
import org.shimwright.kit.Figures
import org.shimwright.kit.ScenePen
import org.shimwright.kit.Units
import org.shimwright.kit.dp
import org.shimwright.kit.fittingShort
import org.shimwright.kit.waitsWords
import org.shimwright.rack.RackLine
import org.shimwright.rack.Sieve
import org.shimwright.rack.rackState

/** What the phone's home screen shows of the bows used last: shortcuts under the icon, and the widget. */
class RecentBows(val lines: List<RackLine>, val units: Units) {
    companion object {
        private const val MOST = 4

        fun read(workshop: Workshop, nowMs: Long): RecentBows = rackState(workshop, "", Sieve.ALL, nowMs).let {
            RecentBows(it.lines.take(MOST), it.units)
        }
    }
}

/** Brings shortcuts and widget up to date: when the app is left, and when the launcher asks. */
fun catchUpHome(app: App, then: () -> Unit = {}) {
    app.worker.run({ RecentBows.read(it, app.clock()) }) { outcome ->
        // An unreadable workshop says so when the app is opened; the home screen keeps what it showed.
        outcome.onSuccess { recent ->
            if (Wishes.of(app).setAside != null) return@onSuccess
            val dressed = dressed(app)
            publishShortcuts(dressed, recent)
            publishWidgets(dressed, recent)
        }
        then()
    }
}

/** The app's own colours and language outside of its window. */
private fun dressed(app: App): Context {
    val theme = if (Wishes.of(app).camp) R.style.Shimwright_Camp else R.style.Shimwright
    return ContextThemeWrapper(Wishes.spoken(app), theme)
}

/** The small drawing of a bow as a picture [wide] by [high] dp. */
internal fun Context.tile(line: RackLine, units: Units, wide: Int, high: Int): Bitmap? {
    val scene = line.tile ?: return null
    val bitmap = Bitmap.createBitmap(dp(wide), dp(high), Bitmap.Config.ARGB_8888)
    ScenePen(this, Figures(this, units)).draw(Canvas(bitmap), scene, bitmap.width.toFloat(), bitmap.height.toFloat())
    return bitmap
}

/** Whether drawing the bow as it is can hurt somebody. */
internal val Waits.hurts get() = this is Waits.SwapHalfDone || (this is Waits.FailedCheck && item.breaks)

/** What is fitted, in a line; of a bow that can hurt somebody as it is only that. */
internal fun Context.fittedLine(line: RackLine): String {
    val waits = line.row.waits
    if (waits is Waits.SwapHalfDone) return getString(R.string.open_on_press)
    if (waits.hurts) return waitsWords(waits)
    return line.row.fitted?.let { fittingShort(it.fitting) } ?: waitsWords(waits)
}
