package org.shimwright.photo

import android.content.Context
import org.shimwright.R
import org.shimwright.core.PhotoProblem
import org.shimwright.core.WorkshopException
import org.shimwright.frame.Trouble

/** What is wrong with a photograph, and what to do. */
fun Context.badPhoto(error: WorkshopException.Photo): Trouble {
    val (what, remedy) = when (error.problem) {
        PhotoProblem.NOT_JPEG -> R.string.photo_not_jpeg to R.string.photo_not_jpeg_remedy
        PhotoProblem.DAMAGED -> R.string.photo_damaged to R.string.photo_again_remedy
        PhotoProblem.SIZE -> R.string.photo_size to R.string.photo_again_remedy
        PhotoProblem.UNSUPPORTED -> R.string.photo_unsupported to R.string.photo_not_jpeg_remedy
        PhotoProblem.UNUSABLE -> R.string.photo_unusable to R.string.photo_unusable_remedy
        PhotoProblem.REFERENCE -> R.string.photo_reference to R.string.photo_reference_remedy
        PhotoProblem.CUT -> R.string.photo_cut to R.string.photo_cut_remedy
        PhotoProblem.OBLIQUE -> R.string.photo_oblique to R.string.photo_oblique_remedy
        PhotoProblem.WRONG_SHAPE -> R.string.photo_wrong_shape to R.string.photo_wrong_shape_remedy
        PhotoProblem.CORNERS -> R.string.photo_corners to R.string.photo_corners_remedy
        PhotoProblem.MARK_OUTSIDE -> R.string.photo_outside to R.string.photo_outside_remedy
        PhotoProblem.BAD_NUMBER -> R.string.photo_number to R.string.photo_number_remedy
        PhotoProblem.NO_REFERENCE -> R.string.photo_no_reference to R.string.photo_no_reference_remedy
    }
    return Trouble(getString(what), getString(remedy))
}
