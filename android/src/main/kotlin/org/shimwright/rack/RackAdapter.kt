package org.shimwright.rack

import android.content.Context
import android.view.View
import android.view.ViewGroup
import android.widget.BaseAdapter
import org.shimwright.R
import org.shimwright.core.Hand
import org.shimwright.core.RackRow
import org.shimwright.core.Waits
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Flow
import org.shimwright.kit.Narrow
import org.shimwright.kit.SceneView
import org.shimwright.kit.Space
import org.shimwright.kit.Type
import org.shimwright.kit.chip
import org.shimwright.kit.dp
import org.shimwright.kit.fittingShort
import org.shimwright.kit.pressable
import org.shimwright.kit.waitsTone
import org.shimwright.kit.waitsWords
import org.shimwright.kit.words

/** The bows as cards; only the ones in sight are made. */
class RackAdapter(private val context: Context, private val figures: Figures, private val open: (Long) -> Unit) : BaseAdapter() {
    private var lines = emptyList<RackLine>()
    private var nowMs = 0L

    fun show(state: RackState) {
        lines = state.lines
        nowMs = state.nowMs
        notifyDataSetChanged()
    }

    override fun getCount() = lines.size

    override fun getItem(position: Int) = lines[position]

    override fun getItemId(position: Int) = lines[position].row.bowId

    override fun hasStableIds() = true

    override fun getView(position: Int, old: View?, parent: ViewGroup): View {
        val line = lines[position]
        val card = Column(context, Space.GAP)
        card.setPadding(context.dp(Space.CARD), context.dp(Space.CARD), context.dp(Space.CARD), context.dp(Space.GAP))
        card.put(top(line))
        card.put(foot(line.row))
        card.pressable(spoken(line.row)) { open(line.row.bowId) }
        return Column(context).apply {
            setPadding(dp(Space.EDGE), 0, dp(Space.EDGE), dp(Space.GAP))
            put(Narrow(context, card))
        }
    }

    private fun top(line: RackLine): View {
        val flow = Flow(context, Space.CARD)
        line.tile?.let {
            flow.addView(SceneView(context, it, figures, null), ViewGroup.LayoutParams(context.dp(TILE_WIDE), context.dp(TILE_HIGH)))
        }
        val texts = Column(context, 2)
        texts.put(context.words(Type.TITLE, line.row.name))
        texts.put(context.words(Type.NOTE, owned(line.row)))
        texts.put(context.words(Type.BODY, fitted(line.row)))
        flow.addView(texts)
        return flow
    }

    private fun foot(row: RackRow): View {
        val flow = Flow(context, spread = true)
        flow.addView(context.chip(context.waitsWords(row.waits), waitsTone(row.waits)))
        since(row)?.let { flow.addView(context.words(Type.NOTE, it)) }
        return flow
    }

    private fun owned(row: RackRow): String {
        val hand = context.getString(if (row.hand == Hand.RIGHT) R.string.right_hand else R.string.left_hand)
        return if (row.owner.isBlank()) hand else context.getString(R.string.two_facts, hand, row.owner)
    }

    private fun fitted(row: RackRow) = row.fitted?.let { context.fittingShort(it.fitting) } ?: context.getString(R.string.nothing_known)

    private fun since(row: RackRow): String? {
        if (row.archivedMs != null) return context.getString(R.string.off_the_rack)
        if (row.waits is Waits.SwapHalfDone) return context.getString(R.string.touched, figures.since(row.usedMs, nowMs))
        return row.fitted?.let { context.getString(R.string.fitted_since, figures.since(it.atMs, nowMs)) }
    }

    private fun spoken(row: RackRow): String {
        val parts = listOfNotNull(row.name, owned(row), fitted(row), context.waitsWords(row.waits), since(row))
        return parts.joinToString()
    }

    private companion object {
        const val TILE_WIDE = 104
        const val TILE_HIGH = 76
    }
}
