package org.shimwright.frame

import android.content.Intent
import android.net.Uri
import org.shimwright.home.bowOf

/**
 * Starts the trail where [intent] points: a shortcut or the widget to its bow, a shared picture and the launcher to the rack.
 * A newcomer reads the cautions first. With a damaged workshop all ways lead to what can be done about it.
 */
fun Trail.arrive(intent: Intent) {
    if (wishes.setAside != null) {
        if (!rescuing) rescue()
        return
    }
    val bow = bowOf(intent, wishes.generation)
    val picture = pictureOf(intent)
    when {
        bow != null -> begin(Route.BOW, args(Arg.BOW to bow))
        picture != null -> begin(Route.RACK, args(Arg.PHOTO to picture.toString()))
        else -> begin(Route.RACK)
    }
    if (!wishes.cautionsRead) go(Route.WELCOME)
}

@Suppress("DEPRECATION") // The typed getter is newer than API 26.
private fun pictureOf(intent: Intent): Uri? =
    if (intent.action == Intent.ACTION_SEND &&
        intent.type.orEmpty().startsWith("image/")
    ) {
        intent.getParcelableExtra(Intent.EXTRA_STREAM)
    } else {
        null
    }
