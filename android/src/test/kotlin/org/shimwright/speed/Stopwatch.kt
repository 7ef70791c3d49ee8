package org.shimwright.speed

import org.junit.rules.ErrorCollector

/** The phone that speed is measured on: the pixels of a usual one, not the few of the stored looks. */
internal const val FINE_PHONE = "en-rGB-w411dp-h891dp-port-notnight-420dpi"

internal fun millis(job: () -> Unit): Double {
    val start = System.nanoTime()
    job()
    return (System.nanoTime() - start) / 1e6
}

/** Prints medians beside their bars; at the end fails for each that is over. */
class Stopwatch : ErrorCollector() {
    internal fun told(what: String, millis: List<Double>, barMs: Double? = null) {
        val median = millis.sorted()[millis.size / 2]
        val bar = if (barMs == null) "" else ", bar %.0f".format(barMs)
        println("%-52s median %7.2f ms, worst %7.2f (%d times%s)".format(what, median, millis.max(), millis.size, bar))
        if (barMs != null && median > barMs) addError(AssertionError("$what: over its bar"))
    }
}
