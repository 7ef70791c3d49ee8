package org.shimwright.kit

import android.content.Context
import android.text.format.DateFormat
import org.shimwright.R
import org.shimwright.core.DistanceUnit
import org.shimwright.core.FigureUnit
import org.shimwright.core.LengthUnit
import org.shimwright.core.Workshop
import org.shimwright.core.figureIn
import org.shimwright.core.readDistance
import org.shimwright.core.readLength
import org.shimwright.core.roundEstimate
import java.text.NumberFormat
import java.text.SimpleDateFormat
import java.util.Calendar
import java.util.Date
import java.util.Locale
import java.util.TimeZone
import kotlin.math.abs
import kotlin.math.ceil
import kotlin.math.floor
import kotlin.math.log10
import kotlin.math.roundToLong

/** The units of the workshop's settings. */
data class Units(val lengths: LengthUnit, val distances: DistanceUnit)

fun Workshop.units(): Units = settings().let { Units(it.lengthUnit, it.distanceUnit) }

/** "today 09:40", "yesterday", "12 Oct", where no other figure is written: days have no unit. */
fun Context.sinceWords(atMs: Long, nowMs: Long): String = Figures(this, Units(LengthUnit.MILLIMETRE, DistanceUnit.METRE)).since(atMs, nowMs)

/**
 * Writes figures for people: in the workshop's units, each with its unit, with the digits it deserves, and with the
 * signs and separators of the language the words are in. The core works in mm, m and N alone.
 */
class Figures(private val context: Context, private val units: Units) {
    private val locale = spoken(context)
    private val inches = units.lengths == LengthUnit.INCH
    private val yards = units.distances == DistanceUnit.YARD

    /** By skeleton; a locale's pattern takes long to find, and every row of a list asks for it. */
    private val dates = HashMap<String, SimpleDateFormat>()

    /** The symbol of the unit lengths are written in. */
    val lengthUnit: String get() = context.getString(if (inches) R.string.unit_inch else R.string.unit_mm)
    val distanceUnit: String get() = context.getString(if (yards) R.string.unit_yard else R.string.unit_m)

    /** The symbols a length and a distance can be typed with, the workshop's own first. */
    val lengthUnits: List<String> get() = listOf(lengthUnit, context.getString(if (inches) R.string.unit_mm else R.string.unit_inch))
    val distanceUnits: List<String> get() = listOf(distanceUnit, context.getString(if (yards) R.string.unit_m else R.string.unit_yard))

    /** What a typed length comes to, where its text is in another unit or a fraction. */
    fun lengthMeant(text: String): String? = meant(text) { readLength(it, units.lengths)?.let(::length) }

    fun distanceMeant(text: String): String? = meant(text) { readDistance(it, units.distances)?.let(::distance) }

    private fun meant(text: String, read: (String) -> String?): String? {
        val plain = text.none { it.isLetter() || it == '/' || it == '"' }
        return if (plain) null else read(text)?.let { context.getString(R.string.comes_to, it) }
    }

    /** A length of the set-up, mm: "838 mm", "6.75 in". */
    fun length(mm: Double): String = withUnit(number(lengthOf(mm), if (inches) 2 else 1, false))

    /** The same to what a field takes. */
    fun lengthFine(mm: Double): String = withUnit(lengthField(mm))

    /** The same without its unit, as a field takes it. */
    fun lengthField(mm: Double): String = number(lengthOf(mm), if (inches) THICKNESS_IN else 2, false)

    /** A spacer's thickness, mm, to what calipers show: "2.50 mm", "0.098 in". */
    fun thickness(mm: Double): String = withUnit(thicknessBare(mm))

    fun thicknessBare(mm: Double): String = number(lengthOf(mm), if (inches) THICKNESS_IN else 2, true)

    /** A distance to the target, m: "18.3 m", "20 yd". */
    fun distance(metres: Double): String = context.getString(R.string.figure_unit, distanceField(metres), distanceUnit)

    fun distanceField(metres: Double): String = number(if (yards) figureIn(metres * MM_PER_M, FigureUnit.YARD) else metres, 1, false)

    /** A draw weight, N; the trade speaks of pounds everywhere. */
    fun weight(newton: Double): String =
        context.getString(R.string.figure_unit, weightField(newton), context.getString(R.string.unit_pound))

    fun weightField(newton: Double): String = number(figureIn(newton, FigureUnit.POUND_FORCE), 1, false)

    /** How far a cam moves, mm, positive to the archer's right. */
    fun camMove(mm: Double): String = when {
        abs(mm) < NO_MOVE_MM -> context.getString(R.string.scene_cam_stays)
        mm > 0 -> context.getString(R.string.cam_moves_right, thickness(mm))
        else -> context.getString(R.string.cam_moves_left, thickness(-mm))
    }

    /** A sideways amount, mm, positive to the right, with half the width of its interval, as in 61 mm right ± 22. */
    fun sideways(mm: Double, plusMinusMm: Double): String {
        val (value, spread) = estimate(abs(mm), plusMinusMm)
        val side = if (mm < 0) R.string.figure_left_spread else R.string.figure_right_spread
        return context.getString(side, withUnit(value), spread)
    }

    /** The same in two parts, for a sentence: 61 mm right, and its 22. */
    fun side(mm: Double, plusMinusMm: Double): Pair<String, String> = parts(mm, plusMinusMm, R.string.figure_left, R.string.figure_right)

    /** A sideways amount without its interval, mm, positive to the right, as in 61 mm right. */
    fun roughly(mm: Double): String = sided(mm, ::size, R.string.figure_left, R.string.figure_right)

    /** An amount up or down without its interval, mm, positive up, as in 4 mm high. */
    fun raised(mm: Double): String = sided(mm, ::size, R.string.figure_low, R.string.figure_high)

    /** A 95 % interval sideways, mm, as a sentence. */
    fun interval(lowMm: Double, highMm: Double): String = when {
        lowMm < 0 && highMm < 0 -> context.getString(R.string.interval_left, bare(-highMm), size(lowMm))
        lowMm < 0 -> context.getString(R.string.interval_sides, size(lowMm), size(highMm))
        else -> context.getString(R.string.interval_right, bare(lowMm), size(highMm))
    }

    /** The step of a cam that responses are stated for, mm: one of the kit's usual steps, a round figure in its unit. */
    val camStepMm: Double get() = if (inches) HUNDREDTH_IN_MM else 1.0

    /** Up and down, mm, positive up, in two parts: 4 mm high, and its 2. */
    fun height(mm: Double, plusMinusMm: Double): Pair<String, String> = parts(mm, plusMinusMm, R.string.figure_low, R.string.figure_high)

    /** The same in one: 4 mm high ± 2. */
    fun upright(mm: Double, plusMinusMm: Double): String =
        height(mm, plusMinusMm).let { (value, spread) -> context.getString(R.string.figure_spread, value, spread) }

    private fun parts(mm: Double, plusMinusMm: Double, below: Int, above: Int): Pair<String, String> {
        val (value, spread) = estimate(abs(mm), plusMinusMm)
        return context.getString(if (mm < 0) below else above, withUnit(value)) to spread
    }

    /** Where the rest stands, mm, positive to the right of where it stood at first, as in 0.4 mm right. */
    fun restPlace(mm: Double): String = sided(mm, ::length, R.string.figure_left, R.string.figure_right)

    /** Where the nocking point stands, mm, positive above, as in 1.6 mm high. */
    fun nockPlace(mm: Double): String = sided(mm, ::length, R.string.figure_low, R.string.figure_high)

    /** What is written as nothing has no side. */
    private fun sided(mm: Double, written: (Double) -> String, below: Int, above: Int): String {
        val size = written(abs(mm))
        return if (size == written(0.0)) size else context.getString(if (mm < 0) below else above, size)
    }

    /** A mass and half the width of its interval, kg; the trade weighs arrows in grains everywhere. */
    fun mass(kg: Double, plusMinusKg: Double): String =
        spread(figureIn(kg, FigureUnit.GRAIN), figureIn(plusMinusKg, FigureUnit.GRAIN), R.string.unit_grain)

    fun massField(kg: Double): String = number(figureIn(kg, FigureUnit.GRAIN), 1, false)

    /** A shaft's mass for its length, kg/m, as its field takes it: in the trade's unit. */
    fun shaftField(kgPerM: Double): String = number(figureIn(kgPerM, FigureUnit.GRAIN_PER_INCH), 2, false)

    /** A speed and half the width of its interval, m/s; feet and yards go together. */
    fun speed(mps: Double, plusMinusMps: Double): String = spread(figureIn(mps, speeds), figureIn(plusMinusMps, speeds), speedWord)

    fun speedField(mps: Double): String = number(figureIn(mps, speeds), 1, false)

    /** The unit that speeds are typed and written in. */
    val speeds get() = if (yards) FigureUnit.FOOT_PER_SECOND else FigureUnit.METRE_PER_SECOND
    val speedWord get() = if (yards) R.string.unit_fps else R.string.unit_mps
    val speedUnit: String get() = context.getString(speedWord)
    val grainPerInch: String get() = context.getString(R.string.unit_grain_per_inch)
    val grain: String get() = context.getString(R.string.unit_grain)

    /** A speed, m/s, in the unit it is written in. */
    fun speedOf(mps: Double): Double = figureIn(mps, speeds)

    /** A length and half the width of its interval, mm, as in 452 mm ± 2. */
    fun lengthSpread(mm: Double, plusMinusMm: Double): String =
        spread(lengthOf(mm), lengthOf(plusMinusMm), if (inches) R.string.unit_inch else R.string.unit_mm)

    /** A figure and half the width of its interval, with the symbol of its [unit]. */
    fun spread(value: Double, plusMinus: Double, unit: Int): String {
        val (figure, spread) = rounded(value, plusMinus)
        return context.getString(R.string.figure_spread, context.getString(R.string.figure_unit, figure, context.getString(unit)), spread)
    }

    /** A figure that is taken as it is, to three digits, with the symbol of its [unit]. */
    fun exact(value: Double, unit: Int): String {
        val decimals = (2 - floor(log10(abs(value).coerceAtLeast(LEAST))).toInt()).coerceIn(0, MOST_DECIMALS)
        return context.getString(R.string.figure_unit, number(value, decimals, false), context.getString(unit))
    }

    /** A size on the face, mm, to the whole millimetre or tenth of an inch. */
    fun size(mm: Double): String = withUnit(number(lengthOf(abs(mm)), if (inches) 1 else 0, false))

    /** A figure without unit, as a field takes it. */
    fun plainField(value: Double): String = number(value, 1, false)

    /** A length, mm, rounded up to a tenth: what it is at most. */
    fun atMost(mm: Double): String = length(ceil(mm.coerceAtLeast(TENTH) / TENTH - ROUNDING) * TENTH)

    /** A plain figure with one decimal at most. */
    fun plain(value: Double): String = number(value, if (abs(value) < TEN) 1 else 0, false)

    /** A difference on the paper, mm, x to the right and y up, as in 12 mm left, 3 mm high ± 1. */
    fun offset(xMm: Double, yMm: Double, plusMinusMm: Double): String {
        val (x, spread) = estimate(abs(xMm), plusMinusMm)
        val (y, _) = estimate(abs(yMm), plusMinusMm)
        val words = when {
            xMm < 0 -> if (yMm < 0) R.string.figure_left_low else R.string.figure_left_high
            else -> if (yMm < 0) R.string.figure_right_low else R.string.figure_right_high
        }
        return context.getString(words, withUnit(x), withUnit(y), spread)
    }

    /** A value and its uncertainty, mm, rounded alike: the uncertainty to one or two digits, the value to the same place. */
    fun estimate(mm: Double, plusMinusMm: Double): Pair<String, String> = rounded(lengthOf(mm), lengthOf(plusMinusMm))

    private fun rounded(value: Double, plusMinus: Double): Pair<String, String> {
        val both = roundEstimate(value, plusMinus)
        return number(both.value, both.decimals.toInt(), true) to number(both.spread, both.decimals.toInt(), true)
    }

    /** A length in the workshop's unit without the unit, as an axis carries it. */
    fun bare(mm: Double): String = number(lengthOf(mm), if (inches) 1 else 0, false).replace('-', MINUS)

    /** A size of files, to three digits at most. */
    fun bytes(count: Long): String {
        val (unit, size) = when {
            count < MEGA -> R.string.unit_kilobyte to ceil(count / KILO)
            count < GIGA -> R.string.unit_megabyte to count / MEGA
            else -> R.string.unit_gigabyte to count / GIGA
        }
        val decimals = if (size < TEN && count >= MEGA) 1 else 0
        return context.getString(R.string.figure_unit, number(size, decimals, false), context.getString(unit))
    }

    fun count(value: Long): String = NumberFormat.getIntegerInstance(locale).format(value)

    /** A share as people say it: "79 in 100". */
    fun chance(share: Double): String = when (val hundredths = (share * PERCENT).roundToLong()) {
        0L -> context.getString(R.string.chance_under)
        PERCENT.toLong() -> context.getString(R.string.chance_over)
        else -> context.getString(R.string.chance, hundredths)
    }

    /** A day: "12 Oct", with its year when that is not the year of [nowMs]. */
    fun day(atMs: Long, nowMs: Long = atMs): String {
        val same = calendar(atMs).get(Calendar.YEAR) == calendar(nowMs).get(Calendar.YEAR)
        return pattern(if (same) "dMMM" else "dMMMy").format(Date(atMs))
    }

    /** A day with its year, as on paper. */
    fun dated(atMs: Long): String = pattern("dMMMy").format(Date(atMs))

    /** The year alone: "2026". */
    fun year(atMs: Long): String = pattern("y").format(Date(atMs))

    fun time(atMs: Long): String = pattern("jmm").format(Date(atMs))

    /** "today 09:40", "yesterday", "12 Oct". */
    fun since(atMs: Long, nowMs: Long): String = when (dayNumber(nowMs) - dayNumber(atMs)) {
        0L -> context.getString(R.string.today_at, time(atMs))
        1L -> context.getString(R.string.yesterday)
        else -> day(atMs, nowMs)
    }

    private fun lengthOf(mm: Double) = if (inches) figureIn(mm, FigureUnit.INCH) else mm

    private fun withUnit(number: String) = context.getString(R.string.figure_unit, number, lengthUnit)

    private fun number(value: Double, decimals: Int, padded: Boolean): String = NumberFormat.getNumberInstance(locale).apply {
        maximumFractionDigits = decimals
        minimumFractionDigits = if (padded) decimals else 0
        isGroupingUsed = false
    }.format(value)

    private fun pattern(skeleton: String) = dates.getOrPut(skeleton) {
        SimpleDateFormat(DateFormat.getBestDateTimePattern(locale, skeleton), locale)
    }

    private fun calendar(atMs: Long) = Calendar.getInstance().apply { timeInMillis = atMs }

    private fun dayNumber(atMs: Long): Long = Math.floorDiv(atMs + TimeZone.getDefault().getOffset(atMs), DAY_MS)

    private companion object {
        const val MM_PER_M = 1000.0
        const val THICKNESS_IN = 3

        /** 0.010 in; the inch is exact by definition (1959). */
        const val HUNDREDTH_IN_MM = 0.254
        const val NO_MOVE_MM = 0.005
        const val TEN = 10.0
        const val KILO = 1e3
        const val MEGA = 1e6
        const val GIGA = 1e9
        const val TENTH = 0.1
        const val ROUNDING = 1e-9
        const val LEAST = 1e-3
        const val MOST_DECIMALS = 3

        /** The sign as typesetters use it; what a field takes keeps the hyphen of keyboards. */
        const val MINUS = '\u2212'
        const val DAY_MS = 86_400_000L
        const val PERCENT = 100.0

        /** The locale of the words on the screen, with the region of the phone where it speaks that language. */
        fun spoken(context: Context): Locale {
            val words = context.getString(R.string.language_tag)
            val phone = context.resources.configuration.locales[0]
            return if (phone.language == words) phone else Locale.forLanguageTag(words)
        }
    }
}
