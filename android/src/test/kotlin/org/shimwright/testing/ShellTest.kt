package org.shimwright.testing

import android.app.Activity
import android.content.DialogInterface
import android.content.Intent
import android.os.Bundle
import android.os.Looper
import android.view.View
import android.view.ViewGroup
import android.widget.EditText
import android.widget.TextView
import org.junit.After
import org.junit.Assert.fail
import org.junit.runner.RunWith
import org.robolectric.Robolectric
import org.robolectric.RobolectricTestRunner
import org.robolectric.RuntimeEnvironment
import org.robolectric.Shadows.shadowOf
import org.robolectric.android.controller.ActivityController
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import org.robolectric.shadows.ShadowAlertDialog
import org.shimwright.App
import org.shimwright.ShellActivity
import org.shimwright.core.Workshop
import org.shimwright.frame.Documents
import org.shimwright.frame.Drafts
import org.shimwright.frame.Route
import org.shimwright.frame.Trail
import org.shimwright.frame.Wishes
import org.shimwright.photo.PhotoShelf
import java.time.Duration

/**
 * The app on the host: the real views, the real resources, the real core. A test opens it, then taps, types and reads
 * as a person would. Each test starts with an empty workshop and a fixed clock.
 */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34], qualifiers = PHONE)
abstract class ShellTest {
    private var controller: ActivityController<ShellActivity>? = null

    /** How often something was pressed. */
    protected var taps = 0
        private set

    protected val app get() = RuntimeEnvironment.getApplication() as App
    protected val shell: ShellActivity get() = checkNotNull(controller).get()
    protected val root: ViewGroup get() = shell.window.decorView as ViewGroup

    /** Opens the app, as the launcher does or with [intent]; who is no [newcomer] has read the cautions. */
    protected fun open(intent: Intent = Intent(Intent.ACTION_MAIN), newcomer: Boolean = false) {
        close()
        app.clock = { NOW_MS }
        Wishes.of(app).cautionsRead = !newcomer
        controller = Robolectric.buildActivity(ShellActivity::class.java, intent).setup()
        settle()
    }

    /** Opens the app on one screen with what it [kept], as a process does that comes back there. */
    internal fun openAt(route: Route, args: Bundle, kept: Bundle = Bundle()) {
        close()
        app.clock = { NOW_MS }
        val saved = Bundle()
        val drafts = Drafts(app.filesDir.resolve(App.DRAFTS))
        val trail = Trail(app.worker, PhotoShelf(app), Documents(app), drafts, Wishes.of(app), app.clock)
        if (kept.isEmpty) trail.begin(route, args) else trail.go(route, args, kept)
        trail.save(saved)
        controller = Robolectric.buildActivity(ShellActivity::class.java).setup(Parcels.through(saved))
        settle()
    }

    /** Does [job] with the core as the app would, and waits for it. */
    protected fun <T> core(job: (Workshop) -> T): T {
        var outcome: Result<T>? = null
        app.worker.run(job) { outcome = it }
        while (outcome == null) {
            Thread.sleep(1)
            shadowOf(Looper.getMainLooper()).idle()
        }
        return checkNotNull(outcome).getOrThrow()
    }

    @After
    fun close() {
        controller?.let { if (!it.get().isDestroyed) it.pause().stop().destroy() }
        controller = null
    }

    /** Turns the phone, or changes language, night or type size: [qualifiers] as in resource folders. */
    protected fun reconfigure(qualifiers: String, fontScale: Float = 1f) {
        RuntimeEnvironment.setQualifiers(qualifiers)
        RuntimeEnvironment.setFontScale(fontScale)
        controller?.configurationChange()?.visible()
        settle()
    }

    /** Kills the process and comes back: only what was written into the saved state survives. */
    protected fun dieAndReturn() {
        val saved = Bundle()
        checkNotNull(controller).saveInstanceState(saved).pause().stop().destroy()
        controller = Robolectric.buildActivity(ShellActivity::class.java).setup(Parcels.through(saved))
        settle()
    }

    /** Waits until the worker has nothing left to do and the main thread has taken its answers. */
    protected fun settle() {
        val deadline = System.nanoTime() + LONGEST_NS
        do {
            if (System.nanoTime() > deadline) fail("the app never came to rest")
            Thread.sleep(1)
            val given = app.worker.given
            val idle = app.worker.idle
            shadowOf(Looper.getMainLooper()).idle()
            // An answer taken just now may have given the next job, whose own answer is then still on its way.
        } while (!idle || app.worker.given != given)
        layOut()
    }

    private fun layOut() {
        val metrics = shell.resources.displayMetrics
        root.measure(exactly(metrics.widthPixels), exactly(metrics.heightPixels))
        root.layout(0, 0, metrics.widthPixels, metrics.heightPixels)
        shadowOf(Looper.getMainLooper()).idle()
    }

    private fun exactly(size: Int) = View.MeasureSpec.makeMeasureSpec(size, View.MeasureSpec.EXACTLY)

    /** Presses what carries [words], as its text or as what a screen reader says of it; the [nth] of several, from 0. */
    protected fun tap(words: String, nth: Int = 0) {
        val view = find(words, nth) { it.pressed() != null } ?: return nothing(words)
        taps++
        checkNotNull(view.pressed()).performClick()
        settle()
    }

    /** Presses what carries [words] and holds it, as for a step that a passing touch must not confirm. */
    protected fun hold(words: String) {
        val view = find(words) { it.isLongClickable } ?: return nothing(words)
        view.performLongClick()
        settle()
    }

    /** Lets [ms] pass on the clock of touches. */
    protected fun rest(ms: Long) {
        shadowOf(Looper.getMainLooper()).idleFor(Duration.ofMillis(ms))
        settle()
    }

    /** Confirms the step of the swap guide that shows, whichever way it asks for; "as recorded" only where [asRecorded]. */
    protected fun confirmStep(asRecorded: Boolean = true): Boolean {
        rest(A_READ_MS)
        val shown = read().lines()
        HELD.firstOrNull { it in shown }?.let { hold(it) }
            ?: CONFIRM.firstOrNull { it in shown && (asRecorded || it != AS_RECORDED) }?.let { tap(it) }
            ?: return false
        return true
    }

    /** Types into the field labelled [label] in place of what is there. */
    protected fun type(label: String, text: String) {
        val name = find(label) { it is TextView && it.labelFor != View.NO_ID } ?: return nothing(label)
        shell.findViewById<EditText>(name.labelFor).setText(text)
        settle()
    }

    /** Types into the field that keeps its text under [key]. */
    protected fun typeInto(key: String, text: String) {
        checkNotNull(root.findViewWithTag<EditText>(key)) { "no field $key on the screen:\n${read()}" }.setText(text)
        settle()
    }

    /** Fails unless [words] can be read on the screen. */
    protected fun see(words: String) {
        if (find(words) { true } == null) nothing(words)
    }

    protected fun notSee(words: String) {
        if (find(words) { true } != null) fail("\"$words\" is on the screen:\n${read()}")
    }

    /** Answers the question in words that stands before what cannot be undone. */
    protected fun sayYes() {
        val dialog = checkNotNull(ShadowAlertDialog.getLatestAlertDialog()) { "nothing was asked" }
        dialog.getButton(DialogInterface.BUTTON_POSITIVE).performClick()
        settle()
    }

    protected fun goBack() {
        @Suppress("DEPRECATION") // as the app receives it
        shell.onBackPressed()
        settle()
    }

    /** Everything that can be read on the screen, a line a view. */
    protected fun read(): String = root.everything().mapNotNull { it.said() }.filter { it.isNotBlank() }.joinToString("\n")

    private fun nothing(words: String) = fail("\"$words\" is not on the screen:\n${read()}")

    private fun find(words: String, nth: Int = 0, fits: (View) -> Boolean): View? {
        val all = root.everything().filter { it.isShown && fits(it) }
        val wanted = words.plain()
        val exactly = all.filter { it.said() == wanted }
        return exactly.getOrNull(nth) ?: all.filter { it.said()?.contains(wanted) == true }.getOrNull(nth)
    }

    companion object {
        /** 14 October 2026, 09:40 UTC. */
        const val NOW_MS = 1_791_970_800_000L

        /** What confirms a step by a tap, and by press and hold. */
        private const val AS_RECORDED = "As recorded"
        private val CONFIRM = listOf("Done, next", "No damage, next", "Both spin, no play", "Shot well: finish", AS_RECORDED)
        private val HELD = listOf("Slack and even", "All in their tracks", "Press is off").map { "Press and hold: $it" }

        /** Longer than the lock after a step. */
        private const val A_READ_MS = 1000L
        private const val LONGEST_NS = 20_000_000_000L
    }
}

/** The phone of all pictures. */
const val PHONE = "en-rGB-w411dp-h891dp-port-notnight-hdpi"

/** A view and all below it, in reading order. */
fun View.everything(): List<View> = listOf(this) +
    ((this as? ViewGroup)?.let { group -> (0 until group.childCount).flatMap { group.getChildAt(it).everything() } }.orEmpty())

/** What a screen reader says of it, or else its text; spaces that do not break count as spaces. */
fun View.said(): String? = (contentDescription ?: (this as? TextView)?.text)?.toString()?.plain()

internal fun String.plain() = replace('\u00a0', ' ')

private fun View.pressed(): View? = generateSequence(this) { it.parent as? View }.firstOrNull { it.isClickable }

internal fun Activity.windowSize() = resources.displayMetrics.run { widthPixels to heightPixels }
