package org.shimwright.testing

import android.os.Looper
import android.os.SystemClock
import android.view.MotionEvent
import android.view.View
import android.widget.FrameLayout
import org.junit.Test
import org.robolectric.Shadows.shadowOf
import org.robolectric.shadows.ShadowDialog
import org.shimwright.core.CheckItem
import org.shimwright.core.PointPx
import org.shimwright.home.RecentBows
import org.shimwright.home.widget
import java.time.Duration

/** How the parts look that show only for a moment, or outside of the window. */
class PartsTest : Photographing() {
    @Test
    fun `the sign that the core works`() {
        core { Samples.fill(it, NOW_MS) }
        open()
        shell.busy(true)
        shadowOf(Looper.getMainLooper()).idleFor(Duration.ofMillis(LONGER_THAN_A_BLINK_MS))
        settleView(root)
        photographed("busy")
        shell.busy(false)
        notSee("Working")
    }

    @Test
    fun `a question before what cannot be undone`() {
        core { Samples.fill(it, NOW_MS) }
        open()
        tap("Heron")
        tap("Set-up checks")
        tap("All are OK")
        val dialog = checkNotNull(ShadowDialog.getLatestDialog().window).decorView
        settleView(dialog)
        Looks.check(dialog, dialog.width, dialog.height, "question")
    }

    @Test
    fun `the widget on the home screen`() {
        core { Samples.fill(it, NOW_MS) }
        open()
        val recent = core { RecentBows.read(it, NOW_MS) }
        val holder = FrameLayout(shell)
        val view = widget(shell, recent).apply(shell, holder)
        view.measure(
            View.MeasureSpec.makeMeasureSpec(WIDGET_WIDE, View.MeasureSpec.EXACTLY),
            View.MeasureSpec.makeMeasureSpec(WIDGET_HIGH, View.MeasureSpec.EXACTLY),
        )
        view.layout(0, 0, WIDGET_WIDE, WIDGET_HIGH)
        Looks.check(view, WIDGET_WIDE, WIDGET_HIGH, "widget")
    }

    @Test
    fun `a check that failed`() {
        val bow = core { Samples.fill(it, NOW_MS) }.second[1]
        open()
        tap("Heron")
        tap("Set-up checks")
        tap("Next check")
        tap("Not OK")
        dressed("checks-failed")
        goBack()
        see("not OK: Limb damage")
        see("Limb damage · Not OK")
        see("Do not draw it and do not press it")
        check(core { it.bowPage(bow).checks.first { one -> one.item == CheckItem.LIMB_DAMAGE }.atMs } != null)
        dressed("bow-failed")
        tap("Record shots")
        see("Do not draw it and do not press it")
    }

    @Test
    fun `proposals, a chosen mark, and the magnifier`() {
        core { Samples.fill(it, NOW_MS) }
        open()
        tap("Heron")
        tap("Record shots")
        type("Distance", "18")
        photographed(demo("before.jpg"))
        tap("I mark them myself")
        photographed("photo-proposals")
        tapPhoto(1608, 1381)
        tap("● fletched 1")
        photographed("photo-chosen")
        val view = photoView()
        val (x, y) = view.shown(PointPx(1608.0, 1381.0))
        val now = SystemClock.uptimeMillis()
        view.dispatchTouchEvent(MotionEvent.obtain(now, now, MotionEvent.ACTION_DOWN, x, y, 0))
        view.dispatchTouchEvent(MotionEvent.obtain(now, now + 20, MotionEvent.ACTION_MOVE, x + 40, y + 30, 0))
        settle()
        photographed("photo-magnifier")
        view.dispatchTouchEvent(MotionEvent.obtain(now, now + 40, MotionEvent.ACTION_CANCEL, x, y, 0))
    }

    private fun settleView(view: View) {
        val metrics = shell.resources.displayMetrics
        val wide = View.MeasureSpec.makeMeasureSpec(metrics.widthPixels, View.MeasureSpec.EXACTLY)
        val high = if (view === root) View.MeasureSpec.EXACTLY else View.MeasureSpec.AT_MOST
        view.measure(wide, View.MeasureSpec.makeMeasureSpec(metrics.heightPixels, high))
        view.layout(0, 0, view.measuredWidth, view.measuredHeight)
    }

    private companion object {
        const val LONGER_THAN_A_BLINK_MS = 400L
        const val WIDGET_WIDE = 480
        const val WIDGET_HIGH = 420
    }
}
