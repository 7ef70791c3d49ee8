package org.shimwright.frame

import android.content.Intent

/** Starts the trail where [intent] points: a shortcut or the widget to a bow, the launcher to the rack. */
fun Trail.arrive(intent: Intent) {
    if (intent.action != null) begin(Route.RACK)
}
