package org.shimwright.frame

import android.content.ActivityNotFoundException
import android.content.Context
import android.view.View
import org.shimwright.R
import org.shimwright.arrows.arrowLimit
import org.shimwright.arrows.arrowWord
import org.shimwright.core.DistanceUnit
import org.shimwright.core.Field
import org.shimwright.core.FileProblem
import org.shimwright.core.KitProblem
import org.shimwright.core.LengthUnit
import org.shimwright.core.Refusal
import org.shimwright.core.WorkshopException
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Palette
import org.shimwright.kit.Units
import org.shimwright.kit.Weight
import org.shimwright.kit.action
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.strong
import org.shimwright.photo.badPhoto
import java.io.IOException

/** A failure in words: what happened, the one thing to do about it, and the screen where that is done. */
class Trouble(val what: String, val remedy: String, val way: Way? = null)

/** Where something can be done about a failure. */
enum class Way(val words: Int, val route: Route) {
    RESCUE(R.string.way_rescue, Route.RESCUE),
    STORAGE(R.string.way_storage, Route.STORAGE),
}

/** A failure whose words are known where it happened: string resources, with what fills them. */
class Said(val what: Int, val remedy: Int, cause: Throwable? = null, vararg val values: Any) : Exception(cause)

/** The words for an error of the core, or for one that nobody foresaw; figures in the workshop's [units]. */
fun Context.troubleOf(error: Throwable, units: Units = METRIC): Trouble = when (error) {
    is WorkshopException.BadField -> badField(error, Figures(this, units))
    is WorkshopException.BadKit -> badKit(error, Figures(this, units))
    is WorkshopException.MixedPair -> mixedPair(error, Figures(this, units))
    is WorkshopException.Refused -> refused(error)
    is WorkshopException.File -> badFile(error)
    is WorkshopException.Photo -> badPhoto(error)
    is Said -> Trouble(getString(error.what), getString(error.remedy, *error.values))
    is IOException, is SecurityException -> Trouble(getString(R.string.photo_unreadable), getString(R.string.photo_unreadable_remedy))
    is ActivityNotFoundException -> Trouble(getString(R.string.trouble_no_app), getString(R.string.trouble_no_app_remedy))
    else -> Trouble(getString(R.string.trouble_unforeseen), getString(R.string.trouble_unforeseen_remedy, error.javaClass.simpleName))
}

private val METRIC = Units(LengthUnit.MILLIMETRE, DistanceUnit.METRE)

private fun Context.badField(error: WorkshopException.BadField, figures: Figures): Trouble {
    val figure = error.arrow
    if (error.field == Field.ARROW_FIGURE && figure == null) {
        return Trouble(getString(R.string.trouble_arrow), getString(R.string.trouble_arrow_remedy))
    }
    val field = getString(figure?.let(::arrowWord) ?: fieldWord(error.field))
    if (error.value == null) return Trouble(getString(R.string.trouble_empty, field), getString(R.string.trouble_empty_remedy))
    val remedy = if (figure == null) {
        getString(R.string.trouble_range_remedy, limit(error.field, error.low, figures), limit(error.field, error.high, figures))
    } else {
        getString(R.string.trouble_arrow_range, arrowLimit(figure, error.low), arrowLimit(figure, error.high))
    }
    return Trouble(getString(R.string.trouble_range, field), remedy)
}

/** A limit of a field with its unit. */
private fun limit(field: Field, value: Double, figures: Figures): String = when (field) {
    Field.DRAW_WEIGHT -> figures.weight(value)
    Field.FACE_DISTANCE, Field.PAPER_DISTANCE, Field.TOLERANCE_DISTANCE -> figures.distance(value)
    Field.TOP_WEIGHT, Field.ARROW_NUMBER, Field.PAIR_SETS, Field.LENS_K1, Field.ARROW_FIGURE, Field.NAME -> figures.plain(value)
    else -> figures.length(value)
}

private fun fieldWord(field: Field): Int = when (field) {
    Field.NAME -> R.string.bow_name
    Field.LABEL -> R.string.field_label
    Field.REST_ROOM -> R.string.field_room
    Field.REMEMBERED_MOVE -> R.string.remembered_move
    Field.REMEMBERED_DOUBT -> R.string.remembered_doubt
    Field.AXLE_TO_AXLE -> R.string.axle_to_axle
    Field.BRACE_HEIGHT -> R.string.brace_height
    Field.DRAW_WEIGHT -> R.string.draw_weight
    Field.DRAW_LENGTH -> R.string.draw_length
    Field.REST_PLACE -> R.string.rest_place
    Field.NOCK_PLACE -> R.string.nock_place
    Field.CHECK_VALUE -> R.string.measured
    Field.FACE_DISTANCE, Field.PAPER_DISTANCE -> R.string.field_distance
    Field.IMPACT_PLACE -> R.string.field_marks
    Field.TEAR_LENGTH -> R.string.field_tears
    Field.PAIR_SETS -> R.string.sets_owned
    Field.TOLERANCE -> R.string.tolerance
    Field.TOLERANCE_DISTANCE -> R.string.tolerance_at
    Field.TILT_LIMIT -> R.string.tilt_limit
    else -> R.string.field_figure
}

private fun Context.badKit(error: WorkshopException.BadKit, figures: Figures): Trouble = when (error.problem) {
    KitProblem.NO_PAIRS -> Trouble(getString(R.string.kit_no_pairs), getString(R.string.kit_no_pairs_remedy))

    KitProblem.EMPTY_NAME -> Trouble(getString(R.string.kit_empty_name), getString(R.string.kit_empty_name_remedy))

    KitProblem.DUPLICATE_PAIR -> Trouble(getString(R.string.kit_twice, error.subject), getString(R.string.kit_twice_remedy))

    KitProblem.IMPLAUSIBLE -> Trouble(
        getString(R.string.kit_implausible, figures.thickness(error.valueMm ?: 0.0)),
        getString(R.string.kit_implausible_remedy),
    )

    KitProblem.WRONG_SUM -> Trouble(
        getString(R.string.kit_wrong_sum, error.subject, figures.thickness(error.valueMm ?: 0.0)),
        getString(R.string.kit_wrong_sum_remedy),
    )

    KitProblem.UNCLEAR_PIECE -> Trouble(
        getString(R.string.kit_unclear_piece, figures.thickness(error.valueMm ?: 0.0)),
        if (error.subject.isEmpty()) {
            getString(
                R.string.kit_no_such_piece_remedy,
            )
        } else {
            getString(R.string.kit_unclear_piece_remedy, error.subject)
        },
    )

    KitProblem.UNKNOWN_PAIR -> Trouble(getString(R.string.kit_unknown_pair, error.subject), getString(R.string.kit_unknown_pair_remedy))
}

private fun Context.mixedPair(error: WorkshopException.MixedPair, figures: Figures): Trouble {
    val partners = listOf(error.leftMm to error.leftPartnerMm, error.rightMm to error.rightPartnerMm).mapNotNull { (piece, partner) ->
        partner?.let { getString(R.string.mixed_partner, figures.thickness(piece), figures.thickness(it)) }
    }
    return Trouble(
        getString(R.string.mixed_sum, figures.thickness(error.sumMm), figures.thickness(error.totalMm)),
        (partners + getString(R.string.mixed_remedy)).joinToString(" "),
    )
}

private fun Context.refused(error: WorkshopException.Refused): Trouble {
    val (what, remedy) = when (error.why) {
        Refusal.NOT_FOUND -> R.string.refused_not_found to R.string.refused_not_found_remedy
        Refusal.NO_KIT -> R.string.refused_no_kit to R.string.refused_no_kit_remedy
        Refusal.NO_FITTING -> R.string.refused_no_fitting to R.string.refused_no_fitting_remedy
        Refusal.SWAP_OPEN -> R.string.refused_swap_open to R.string.refused_swap_open_remedy
        Refusal.NO_SWAP -> R.string.refused_no_swap to R.string.refused_no_swap_remedy
        Refusal.UNSAFE -> R.string.refused_unsafe to R.string.refused_unsafe_remedy
        Refusal.PAIR_IN_USE -> R.string.refused_pair_in_use to R.string.refused_pair_in_use_remedy
        Refusal.KIT_LACKS_PAIR -> R.string.refused_kit_lacks_pair to R.string.refused_kit_lacks_pair_remedy
        Refusal.NOTHING_TO_CHANGE -> R.string.refused_nothing to R.string.refused_nothing_remedy
        Refusal.ANSWER_NEEDED -> R.string.refused_answer to R.string.refused_answer_remedy
        Refusal.NO_VERDICT -> R.string.refused_no_verdict to R.string.refused_no_verdict_remedy
        Refusal.NO_SUCH_STEP -> R.string.refused_no_step to R.string.refused_no_step_remedy
    }
    return Trouble(getString(what, error.pair.orEmpty()), getString(remedy, error.pair.orEmpty()))
}

private fun Context.badFile(error: WorkshopException.File): Trouble {
    val (what, remedy) = when (error.problem) {
        FileProblem.NEWER -> R.string.file_newer to R.string.file_newer_remedy

        FileProblem.DAMAGED -> R.string.file_damaged to R.string.file_damaged_remedy

        FileProblem.FULL -> R.string.file_full to R.string.file_full_remedy

        FileProblem.LOCKED -> R.string.file_locked to R.string.file_locked_remedy

        FileProblem.READ_ONLY -> R.string.file_read_only to R.string.file_read_only_remedy

        FileProblem.IS_DIRECTORY, FileProblem.NO_FOLDER, FileProblem.FOREIGN, FileProblem.REFUSED ->
            R.string.file_refused to
                R.string.file_refused_remedy
    }
    val way = when (error.problem) {
        FileProblem.DAMAGED -> Way.RESCUE
        FileProblem.FULL -> Way.STORAGE
        else -> null
    }
    return Trouble(getString(what), getString(remedy), way)
}

/** A card that says it; read out at once by a screen reader. [go] opens the screen where something can be done. */
fun Column.trouble(trouble: Trouble, again: (() -> Unit)?, go: ((Route) -> Unit)? = null) {
    val wants = Palette.of(context).wants
    val way = trouble.way
    val card = card(edge = wants) {
        strong(trouble.what, wants)
        body(trouble.remedy)
        if (again != null) action(context.getString(R.string.try_again), Weight.PLAIN, again)
        if (way != null && go != null) action(context.getString(way.words)) { go(way.route) }
    }
    card.accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE
}
