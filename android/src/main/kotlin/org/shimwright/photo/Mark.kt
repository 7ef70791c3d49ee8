package org.shimwright.photo

import android.os.Bundle
import org.shimwright.core.ArrowKind
import org.shimwright.core.PointPx

/**
 * What a person marked: one hole or tear. [sdPx] is how exactly it was pointed at; [nock] the other end of a tear read
 * by hand. A hole placed [byHand] stays where it was put; else it snaps to the hole it is near. While it is [open] nobody has
 * said which kind of arrow made it, and it counts for nothing.
 */
data class Mark(
    val kind: ArrowKind,
    val at: PointPx,
    val sdPx: Double,
    val number: Int? = null,
    val nock: PointPx? = null,
    val byHand: Boolean = false,
    val open: Boolean = false,
) {
    internal fun written() =
        listOf(kind.name, at.xPx, at.yPx, sdPx, number ?: 0, nock?.xPx ?: NONE, nock?.yPx ?: NONE, byHand, open).joinToString(" ")

    companion object {
        private const val NONE = -1.0
        private const val OPEN_AT = 8

        internal fun read(line: String): Mark {
            val part = line.split(" ")
            val nock = PointPx(part[5].toDouble(), part[6].toDouble()).takeIf { it.xPx != NONE }
            val at = PointPx(part[1].toDouble(), part[2].toDouble())
            val number = part[4].toInt().takeIf { it > 0 }
            val open = part.getOrNull(OPEN_AT).toBoolean()
            return Mark(ArrowKind.valueOf(part[0]), at, part[3].toDouble(), number, nock, part[7].toBoolean(), open)
        }
    }
}

/** The marks in a screen's kept bundle, with the steps that led there: every change can be taken back and made again. */
class Marks(private val kept: Bundle) {
    val all: List<Mark> get() = kept.getString(NOW).orEmpty().lines().filter { it.isNotEmpty() }.map(Mark::read)
    val canUndo get() = steps(PAST).isNotEmpty()
    val canRedo get() = steps(FUTURE).isNotEmpty()

    fun set(fresh: List<Mark>) {
        put(PAST, (steps(PAST) + now()).takeLast(MOST))
        put(FUTURE, emptyList())
        kept.putString(NOW, written(fresh))
    }

    /** Gives the mark at [index] the number on its arrow: no step of its own, since it moves nothing. */
    fun number(index: Int, number: Int?) {
        kept.putString(NOW, written(all.mapIndexed { at, mark -> if (at == index) mark.copy(number = number) else mark }))
    }

    fun undo() = move(PAST, FUTURE)

    fun redo() = move(FUTURE, PAST)

    private fun move(from: String, to: String) {
        val step = steps(from).lastOrNull() ?: return
        put(to, steps(to) + now())
        put(from, steps(from).dropLast(1))
        kept.putString(NOW, step)
    }

    private fun now() = kept.getString(NOW).orEmpty()

    private fun written(marks: List<Mark>) = marks.joinToString("\n") { it.written() }

    private fun steps(key: String): List<String> = kept.getStringArrayList(key).orEmpty()

    private fun put(key: String, steps: List<String>) = kept.putStringArrayList(key, ArrayList(steps))

    private companion object {
        const val NOW = "marks"
        const val PAST = "past"
        const val FUTURE = "future"
        const val MOST = 100
    }
}
