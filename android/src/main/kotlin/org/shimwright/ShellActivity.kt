package org.shimwright

import android.app.Activity
import android.app.AlertDialog
import android.content.Context
import android.content.Intent
import android.os.Bundle
import android.view.HapticFeedbackConstants
import android.view.KeyEvent
import android.view.View
import android.view.ViewGroup
import android.view.WindowManager
import android.widget.EditText
import android.widget.FrameLayout
import org.shimwright.frame.Busy
import org.shimwright.frame.Documents
import org.shimwright.frame.Drafts
import org.shimwright.frame.Failure
import org.shimwright.frame.Kept
import org.shimwright.frame.Question
import org.shimwright.frame.Screen
import org.shimwright.frame.Shell
import org.shimwright.frame.Trail
import org.shimwright.frame.Undo
import org.shimwright.frame.Wishes
import org.shimwright.frame.arrive
import org.shimwright.frame.draftNote
import org.shimwright.frame.leadReader
import org.shimwright.frame.readerOn
import org.shimwright.frame.trouble
import org.shimwright.frame.troubleOf
import org.shimwright.frame.undoBar
import org.shimwright.home.catchUpHome
import org.shimwright.kit.BackGesture
import org.shimwright.kit.Page
import org.shimwright.kit.padForBars
import org.shimwright.kit.wrongFields
import org.shimwright.photo.PhotoShelf

/** The one window: shows the top of the [Trail], hands taps on, and holds nothing of its own. */
class ShellActivity :
    Activity(),
    Shell {
    private lateinit var trail: Trail
    private lateinit var room: FrameLayout
    private lateinit var busy: Busy
    private val gesture = BackGesture(this) { trail.stepBack() }
    private var page: Page? = null
    private var shown: Screen<*>? = null
    private var undo: Undo? = null
    private val timeUp = Runnable { undo?.let(trail::forget) }

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
        val wishes = Wishes.of(app)
        val trail =
            Trail(app.worker, PhotoShelf(app), Documents(app), Drafts(app.filesDir.resolve(App.DRAFTS)), wishes) { app.clock() }
        val known = saved?.takeIf { it.getInt(GENERATION) == wishes.generation }
        if (known != null) trail.restore(known) else trail.arrive(intent)
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
        out.putInt(GENERATION, Wishes.of(this).generation)
        trail.save(out)
    }

    override fun onStop() {
        super.onStop()
        if (isChangingConfigurations) return
        trail.keepDrafts()
        catchUpHome(application as App)
    }

    override fun onDestroy() {
        room.removeCallbacks(timeUp)
        trail.attach(null)
        super.onDestroy()
    }

    @Deprecated("Only called below API 33; newer phones call the gesture.")
    override fun onBackPressed() = trail.stepBack()

    override fun onKeyDown(code: Int, event: KeyEvent): Boolean {
        val volume = code == KeyEvent.KEYCODE_VOLUME_DOWN || code == KeyEvent.KEYCODE_VOLUME_UP
        return (volume && event.repeatCount == 0 && trail.next()) || super.onKeyDown(code, event)
    }

    @Deprecated("Its successor lives in AndroidX, which this app does without.")
    override fun onActivityResult(code: Int, result: Int, data: Intent?) {
        trail.answer(code, if (result == RESULT_OK) data ?: Intent() else null)
    }

    override fun draw(screen: Screen<*>, failure: Failure?) {
        val fresh = Page(this, if (trail.deep) trail::stepBack else null)
        if (screen.state == null) {
            fresh.head(getString(R.string.app))
        } else {
            val kept = screen.kept
            if (kept.containsKey(Kept.LEFT_AT)) fresh.body.draftNote(kept.getLong(Kept.LEFT_AT), trail.nowMs(), trail::startAnew)
            screen.drawOn(fresh)
        }
        if (failure != null) {
            val words = failure.units?.let { troubleOf(failure.error, it) } ?: troubleOf(failure.error)
            fresh.trouble { trouble(words, failure.again) { trail.go(it) } }
        }
        put(fresh, keepPlace = shown === screen)
        if (failure != null) fresh.performHapticFeedback(HapticFeedbackConstants.LONG_PRESS)
        shown = screen
        keepAwake(screen.keepsAwake)
        gesture.listen(trail.deep)
    }

    private fun put(fresh: Page, keepPlace: Boolean) {
        val before = page
        val reader = before?.let(::readerOn)
        val focused = before?.findFocus()?.tag
        if (before != null) room.removeView(before)
        room.addView(fresh, 0)
        page = fresh
        showUndo()
        if (before == null || !keepPlace) return
        val turned = before.part != fresh.part || before.title.toString() != fresh.title.toString()
        // What can now not be read may be off the screen: it is led to, before anything else.
        val wrong = fresh.wrongFields().firstOrNull { field -> before.wrongFields().none { it.tag == field.tag } }
        if (!turned && wrong == null) fresh.scrollDown(before.scrolled)
        val field = wrong ?: focused?.let { fresh.findViewWithTag<View>(it) }
        field?.requestFocus()
        if (field is EditText) field.setSelection(field.length())
        if (reader != null) fresh.post { if (page === fresh) leadReader(reader, wrong, turned, fresh) }
    }

    private fun keepAwake(on: Boolean) {
        val flag = WindowManager.LayoutParams.FLAG_KEEP_SCREEN_ON
        window.setFlags(if (on) flag else 0, flag)
    }

    override fun busy(working: Boolean) = busy.show(working)

    override fun offer(undo: Undo?) {
        this.undo = undo
        room.removeCallbacks(timeUp)
        if (undo != null) {
            room.postDelayed(timeUp, UNDO_MS)
            room.announceForAccessibility(getString(undo.words))
        }
        showUndo()
    }

    private fun showUndo() = page?.over(undo?.let(::undoBar))

    @Suppress("DEPRECATION") // Its successor lives in AndroidX, which this app does without.
    override fun call(intent: Intent, code: Int) = startActivityForResult(intent, code)

    override fun confirm(question: Question, yes: () -> Unit) {
        AlertDialog.Builder(this)
            .setTitle(getString(question.title, *question.values))
            .setMessage(getString(question.words, *question.values))
            .setPositiveButton(question.yes) { _, _ -> yes() }
            .setNegativeButton(R.string.not_now, null)
            .show()
    }

    private companion object {
        /** Long enough to read a line and find the button with gloves on. */
        const val UNDO_MS = 10_000L
        const val GENERATION = "generation"
    }
}
