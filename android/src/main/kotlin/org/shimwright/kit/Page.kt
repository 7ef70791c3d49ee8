package org.shimwright.kit

import android.content.Context
import android.content.res.Configuration
import android.view.Gravity
import android.view.View
import android.view.ViewGroup
import android.widget.Button
import android.widget.FrameLayout
import android.widget.LinearLayout
import android.widget.ScrollView
import android.widget.TextView
import org.shimwright.R

/**
 * One screen's view: a head with its name, a body, and the actions at the bottom, within reach of a thumb.
 * On a low, wide window the actions stand beside the body instead. A screen's `draw` fills it and nothing else.
 */
class Page(context: Context, private val up: (() -> Unit)? = null) : LinearLayout(context) {
    /** What the page says, below one another; it scrolls. */
    val body = Column(context)

    /** Its name, as the head says it. */
    var title: CharSequence = ""
        private set

    private val head = LinearLayout(context)
    private val names = Flow(context, Space.GAP, spread = true)
    private val over = FrameLayout(context)
    private val bar = Column(context, Space.SMALL)
    private val scroll = ScrollView(context)

    // What scrolls in them ends where it ends.
    private val column = Column(context, 0).apply { clipChildren = true }
    private val side = Column(context, 0).apply { clipChildren = true }
    private val beside = sideways(context)

    init {
        isBaselineAligned = false
        orientation = if (beside) HORIZONTAL else VERTICAL
        head.gravity = Gravity.CENTER_VERTICAL
        head.clipChildren = false
        head.minimumHeight = dp(HEAD)
        head.setPaddingRelative(dp(if (up == null) Space.EDGE + 4 else 4), dp(Space.SMALL), dp(Space.EDGE + 4), dp(Space.SMALL))
        up?.let { head.addView(context.upArrow(it), LayoutParams(dp(Space.TARGET), dp(Space.TARGET))) }
        head.addView(names, LayoutParams(0, LayoutParams.WRAP_CONTENT, 1f))
        over.setPadding(dp(Space.EDGE), 0, dp(Space.EDGE), 0)
        body.setPadding(dp(Space.EDGE), 0, dp(Space.EDGE), dp(Space.EDGE))
        bar.setPadding(dp(Space.EDGE), dp(Space.GAP), dp(Space.EDGE), dp(Space.EDGE))
        scroll.isFillViewport = true
        scroll.addView(Narrow(context, body))
        column.addView(Narrow(context, head))
        column.addView(scroll, LayoutParams(LayoutParams.MATCH_PARENT, 0, 1f))
        column.addView(over)
        if (beside) standBeside() else stackBelow()
    }

    private fun stackBelow() {
        addView(column, LayoutParams(LayoutParams.MATCH_PARENT, 0, 1f))
        addView(Narrow(context, bar))
    }

    private fun standBeside() {
        addView(column, LayoutParams(0, LayoutParams.MATCH_PARENT, BODY_SHARE))
        side.gravity = Gravity.BOTTOM
        side.addView(bar)
        addView(side, LayoutParams(0, LayoutParams.MATCH_PARENT, BAR_SHARE))
        side.visibility = View.GONE
    }

    /** Names the page; [note] stands at the end of the same line and is given back. */
    fun head(title: CharSequence, note: CharSequence? = null): TextView? {
        namePane(title)
        this.title = title
        names.addView(context.words(Type.SCREEN, title).apply { markAsHeading() })
        return note?.let { said -> context.words(Type.NOTE, said).also(names::addView) }
    }

    /** Adds a button at the end of the head: [sign] shows, [spoken] is read out. */
    fun corner(sign: CharSequence, spoken: CharSequence, press: () -> Unit) {
        val place = LayoutParams(LayoutParams.WRAP_CONTENT, LayoutParams.WRAP_CONTENT).apply { marginStart = dp(Space.GAP) }
        head.addView(context.button(sign, press = press).apply { contentDescription = spoken }, place)
    }

    /** Shows [view] over the actions for a while, in place of what stood there. */
    fun over(view: View?) {
        over.removeAllViews()
        if (view != null) over.addView(view)
    }

    /** Adds something between the head and the body that does not scroll away. */
    fun <V : View> pin(view: V): V {
        val held = Column(context).apply { setPadding(dp(Space.EDGE), 0, dp(Space.EDGE), dp(Space.GAP)) }
        held.put(view)
        column.addView(Narrow(context, held), column.childCount - 2)
        return view
    }

    /** Adds a photograph above the body; on a low, wide window it has that side to itself and the body stands beside it. */
    fun <V : View> picture(view: V): V {
        if (!beside) return pin(view)
        column.removeView(scroll)
        column.addView(view, column.childCount - 1, LayoutParams(LayoutParams.MATCH_PARENT, 0, 1f))
        body.setPadding(dp(Space.EDGE), dp(Space.EDGE), dp(Space.EDGE), 0)
        side.addView(scroll, 0, LayoutParams(LayoutParams.MATCH_PARENT, 0, 1f))
        side.visibility = View.VISIBLE
        return view
    }

    /** Gives the whole middle to [view] in place of the scrolling body: a long list, a photograph. */
    fun <V : View> fill(view: V, narrow: Boolean = true): V {
        column.removeView(scroll)
        val held = if (narrow) Narrow(context, view) else view
        column.addView(held, column.childCount - 1, LayoutParams(LayoutParams.MATCH_PARENT, 0, 1f))
        return view
    }

    /** The main action of the screen. */
    fun main(text: CharSequence, press: () -> Unit): Button = show(bar.action(text, Weight.MAIN, press))

    /** A line above the actions: why one of them cannot be pressed. */
    fun hint(text: CharSequence): View = show(bar.note(text))

    /** A line above the actions that [names] what is still missing, given back to be said anew; none where nothing is. */
    fun missing(names: List<String>): TextView? = if (names.isEmpty()) null else show(bar.note("")).apply { sayMissing(names) }

    /** Buttons of the bar, side by side where they fit; at most one of them the main action. */
    fun bar(fill: Abreast.() -> Unit): View = show(bar.actions(fill))

    private fun <V : View> show(view: V): V {
        if (beside) side.visibility = View.VISIBLE
        return view
    }

    /** Puts what went wrong above the body, where it is seen; the last trouble only. */
    fun trouble(fill: Column.() -> Unit) {
        column.findViewWithTag<View>(TROUBLE)?.let { column.removeView(it) }
        val held = Column(context).apply { setPadding(dp(Space.EDGE), 0, dp(Space.EDGE), dp(Space.GAP)) }
        held.fill()
        column.addView(Narrow(context, held).apply { tag = TROUBLE }, 1.coerceAtMost(column.childCount))
    }

    /** What went wrong, where it is said. */
    val wentWrong: View? get() = column.findViewWithTag(TROUBLE)

    /** Which part of a screen shows that leads through several, each read from its beginning; the page's title counts besides. */
    var part: Any? = null

    /** Where the body stands, to be given back to [scrollDown] after drawing anew. */
    val scrolled get() = scroll.scrollY

    fun scrollDown(to: Int) = scroll.post { scroll.scrollTo(0, to) }

    private companion object {
        const val TROUBLE = "trouble"
        const val HEAD = 60
        const val BODY_SHARE = 1.9f
        const val BAR_SHARE = 1f
    }
}

/** Says what is still missing, and nothing once [names] are none. */
fun TextView.sayMissing(names: List<String>) {
    text = context.getString(R.string.still_missing, names.joinToString())
    visibility = if (names.isEmpty()) View.GONE else View.VISIBLE
}

/** Whether the window is too low for actions under the body. */
fun sideways(context: Context): Boolean {
    val window = context.resources.configuration
    return window.orientation == Configuration.ORIENTATION_LANDSCAPE && window.screenHeightDp < LOW_DP
}

private const val LOW_DP = 500

/** Whether type is so large that buttons under the body leave it little room: the lesser ones then stand at its end. */
fun largeType(context: Context): Boolean = context.resources.configuration.fontScale >= LARGE_TYPE && !sideways(context)

private const val LARGE_TYPE = 1.5f

/** Holds one child in the middle, never wider than a readable column. */
class Narrow(context: Context, child: View) : FrameLayout(context) {
    init {
        addView(child, LayoutParams(LayoutParams.MATCH_PARENT, LayoutParams.WRAP_CONTENT))
    }

    override fun onMeasure(widthSpec: Int, heightSpec: Int) {
        val width = MeasureSpec.getSize(widthSpec)
        val side = ((width - dp(Space.COLUMN)) / 2).coerceAtLeast(0)
        setPadding(side, 0, side, 0)
        (getChildAt(0).layoutParams as ViewGroup.LayoutParams).height =
            if (MeasureSpec.getMode(heightSpec) == MeasureSpec.EXACTLY) LayoutParams.MATCH_PARENT else LayoutParams.WRAP_CONTENT
        super.onMeasure(widthSpec, heightSpec)
    }
}
