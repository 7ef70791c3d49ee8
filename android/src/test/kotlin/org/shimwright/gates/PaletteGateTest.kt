package org.shimwright.gates

import android.view.ContextThemeWrapper
import org.junit.Assert.assertEquals
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.RuntimeEnvironment
import org.robolectric.annotation.Config
import org.shimwright.R
import org.shimwright.kit.Palette
import kotlin.math.max
import kotlin.math.min
import kotlin.math.pow

/** Text can be read on everything it stands on: contrast 4.5:1 or more (WCAG 2.2, success criterion 1.4.3), in every theme. */
@RunWith(RobolectricTestRunner::class)
@Config(sdk = [34])
class PaletteGateTest {
    @Test
    fun light() = check(R.style.Shimwright)

    @Test
    @Config(qualifiers = "+night")
    fun dark() = check(R.style.Shimwright)

    @Test
    fun camp() = check(R.style.Shimwright_Camp)

    private fun check(theme: Int) {
        val palette = Palette.of(ContextThemeWrapper(RuntimeEnvironment.getApplication(), theme))
        val inks = with(palette) { listOf(ink, muted, brass, fletched, bare, broadhead, settled, wants) }
        val grounds = with(palette) { listOf(ground, card, chip) }
        val faint = inks.flatMap { ink -> grounds.map { ink to it } } + (palette.onBrass to palette.brass)
        assertEquals(
            emptyList<String>(),
            faint.filter {
                contrast(it.first, it.second) < LEAST
            }.map { "%08X on %08X".format(it.first, it.second) },
        )
    }

    private fun contrast(a: Int, b: Int): Double {
        val (light, dark) = listOf(luminance(a), luminance(b)).let { max(it[0], it[1]) to min(it[0], it[1]) }
        return (light + 0.05) / (dark + 0.05)
    }

    private fun luminance(colour: Int): Double = listOf(16 to 0.2126, 8 to 0.7152, 0 to 0.0722).sumOf { (shift, weight) ->
        val value = ((colour shr shift) and 255) / 255.0
        weight * if (value <= 0.04045) value / 12.92 else ((value + 0.055) / 1.055).pow(2.4)
    }

    private companion object {
        const val LEAST = 4.5
    }
}
