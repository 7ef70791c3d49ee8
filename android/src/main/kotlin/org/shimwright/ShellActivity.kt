package org.shimwright

import android.app.Activity
import android.app.AlertDialog
import android.content.ActivityNotFoundException
import android.content.Context
import android.content.Intent
import android.os.Bundle
import android.view.View
import android.view.ViewGroup
import android.view.WindowManager
import android.widget.EditText
import android.widget.FrameLayout
import org.shimwright.frame.Busy
import org.shimwright.frame.Question
import org.shimwright.frame.Screen
import org.shimwright.frame.Shell
import org.shimwright.frame.Trail
import org.shimwright.frame.Wishes
import org.shimwright.frame.arrive
import org.shimwright.frame.trouble
import org.shimwright.frame.troubleOf
import org.shimwright.home.catchUpHome
import org.shimwright.kit.Page
import org.shimwright.kit.padForBars
import org.shimwright.photo.PhotoShelf

/** The one window: shows the top of the [Trail], hands taps on, and holds nothing of its own. */
class ShellActivity :
    Activity(),
    Shell {
    private lateinit var trail: Trail
    private lateinit var room: FrameLayout
    private lateinit var busy: Busy
    private var page: Page? = null
    private var shown: Screen<*>? = null

    override fun attachBaseContext(base: Context) = super.attachBaseContext(Wishes.spoken(base))

    override fun onCreate(saved: Bundle?) {
        setTheme(if (Wishes.of(this).camp) R.style.Shimwright_Camp else R.style.Shimwright)
        super.onCreate(saved)
        room = FrameLayout(this)
        padForBars(room)
        takeFocus(room)
        setContentView(room)
        busy = Busy(room) { trail.cancel() }
        trail = retained() ?: begun(saved)
        trail.attach(this)
    }

    /** Takes the focus at the start, so that no field opens the keyboard before it is wanted. */
    private fun takeFocus(room: FrameLayout) {
        room.isFocusableInTouchMode = true
        room.descendantFocusability = ViewGroup.FOCUS_BEFORE_DESCENDANTS
        room.importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO
        room.defaultFocusHighlightEnabled = false
        room.requestFocus()
    }

    private fun begun(saved: Bundle?): Trail {
        val app = application as App
        val trail = Trail(app.worker, PhotoShelf(app)) { app.clock() }
        if (saved != null) trail.restore(saved) else trail.arrive(intent)
        return trail
    }

    @Suppress("DEPRECATION") // Its successor lives in AndroidX, which this app does without.
    private fun retained() = lastNonConfigurationInstance as Trail?

    @Deprecated("Its successor lives in AndroidX, which this app does without.")
    override fun onRetainNonConfigurationInstance(): Any = trail

    override fun onNewIntent(intent: Intent) {
        super.onNewIntent(intent)
        trail.arrive(intent)
    }

    override fun onSaveInstanceState(out: Bundle) {
        super.onSaveInstanceState(out)
        trail.save(out)
    }

    override fun onStop() {
        super.onStop()
        if (!isChangingConfigurations) catchUpHome(application as App)
    }

    override fun onDestroy() {
        trail.attach(null)
        super.onDestroy()
    }

    @Deprecated("The callback that replaces it is newer than API 26.")
    override fun onBackPressed() = trail.back()

    @Deprecated("Its successor lives in AndroidX, which this app does without.")
    override fun onActivityResult(code: Int, result: Int, data: Intent?) {
        trail.answer(code, if (result == RESULT_OK) data ?: Intent() else null)
    }

    override fun draw(screen: Screen<*>) {
        val fresh = Page(this)
        screen.drawOn(fresh)
        val before = page
        if (before != null) room.removeView(before)
        room.addView(fresh, 0)
        if (before != null && shown === screen) keepPlace(before, fresh)
        page = fresh
        shown = screen
        keepAwake(screen.keepsAwake)
    }

    private fun keepPlace(before: Page, after: Page) {
        after.scrollDown(before.scrolled)
        val tag = before.findFocus()?.tag ?: return
        val field = after.findViewWithTag<View>(tag) ?: return
        field.requestFocus()
        if (field is EditText) field.setSelection(field.length())
    }

    private fun keepAwake(on: Boolean) {
        val flag = WindowManager.LayoutParams.FLAG_KEEP_SCREEN_ON
        window.setFlags(if (on) flag else 0, flag)
    }

    override fun busy(working: Boolean) = busy.show(working)

    override fun trouble(error: Throwable, again: (() -> Unit)?) {
        val page = page ?: Page(this).also {
            room.addView(it, 0)
            this.page = it
        }
        page.trouble { trouble(troubleOf(error), again) }
    }

    @Suppress("DEPRECATION") // Its successor lives in AndroidX, which this app does without.
    override fun call(intent: Intent, code: Int) {
        try {
            startActivityForResult(intent, code)
        } catch (missing: ActivityNotFoundException) {
            trouble(missing, null)
        }
    }

    override fun confirm(question: Question, yes: () -> Unit) {
        AlertDialog.Builder(this)
            .setTitle(getString(question.title, *question.values))
            .setMessage(getString(question.words, *question.values))
            .setPositiveButton(question.yes) { _, _ -> yes() }
            .setNegativeButton(R.string.not_now, null)
            .show()
    }
}
