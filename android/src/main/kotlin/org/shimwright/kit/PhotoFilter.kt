package org.shimwright.kit

import android.content.Context
import android.graphics.ColorFilter
import android.graphics.ColorMatrixColorFilter
import org.shimwright.frame.Wishes

/** How photographs are shown: as they are, but in camp red, where a bright sheet would undo what that is for. */
fun Context.photoFilter(): ColorFilter? = if (Wishes.of(this).camp) ColorMatrixColorFilter(DIM_RED) else null

/** The picture's luminance (ITU-R BT.709) as a dim red. */
private val DIM_RED = floatArrayOf(
    0.12f, 0.39f, 0.04f, 0f, 0f,
    0f, 0f, 0f, 0f, 0f,
    0f, 0f, 0f, 0f, 0f,
    0f, 0f, 0f, 1f, 0f,
)
