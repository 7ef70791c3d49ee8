package org.shimwright.photo

import android.view.View
import org.shimwright.R
import org.shimwright.kit.Abreast
import org.shimwright.kit.Column
import org.shimwright.kit.Space
import org.shimwright.kit.action
import org.shimwright.kit.dp

/** Four buttons that move something a small step: right and down are positive, as in a picture. Never mirrored. */
internal fun Column.nudges(move: (Double, Double) -> Unit) {
    val row = Abreast(context).apply { layoutDirection = View.LAYOUT_DIRECTION_LTR }
    fun step(sign: Int, spoken: Int, x: Double, y: Double) {
        row.action(context.getString(sign)) { move(x, y) }.apply {
            contentDescription = context.getString(spoken)
            minWidth = dp(Space.TARGET)
            minimumWidth = dp(Space.TARGET)
        }
    }
    step(R.string.nudge_left, R.string.nudge_left_spoken, -1.0, 0.0)
    step(R.string.nudge_up, R.string.nudge_up_spoken, 0.0, -1.0)
    step(R.string.nudge_down, R.string.nudge_down_spoken, 0.0, 1.0)
    step(R.string.nudge_right, R.string.nudge_right_spoken, 1.0, 0.0)
    put(row)
}
