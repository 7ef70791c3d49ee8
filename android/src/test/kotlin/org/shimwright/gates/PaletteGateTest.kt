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
import org.shimwright.testing.Contrast

/** Text can be read on everything it stands on (4.5:1), lines and marks be seen (3:1), in every theme: WCAG 2.2, 1.4.3 and 1.4.11. */
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
        val texts = inks.flatMap { ink -> grounds.map { ink to it } } +
            with(palette) { listOf(onBrass to brass, onMain to main, ink to tint, card to wants) }
        val lines = grounds.map { palette.edge to it } +
            with(palette) { listOf(fletched, bare, broadhead, settled, edge).map { it to paper } } +
            with(palette) {
                listOf(faceOuter, faceMiddle, faceInner, faceCentre).flatMap { face ->
                    listOf(fletched, bare, broadhead).map {
                        it to
                            face
                    }
                }
            }
        assertEquals(emptyList<String>(), faint(texts, TEXT) + faint(lines, LINE))
    }

    private fun faint(pairs: List<Pair<Int, Int>>, least: Double) =
        pairs.filter { Contrast.contrast(it.first, it.second) < least }.map { "%08X on %08X".format(it.first, it.second) }

    private companion object {
        const val TEXT = 4.5
        const val LINE = 3.0
    }
}
