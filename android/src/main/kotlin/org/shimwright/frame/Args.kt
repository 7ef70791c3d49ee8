package org.shimwright.frame

import android.os.Bundle

/** The arguments of a screen. Takes what a Bundle keeps over process death: Long, String, Boolean, Double. */
fun args(vararg entries: Pair<String, Any>): Bundle = Bundle().apply {
    for ((key, value) in entries) {
        when (value) {
            is Long -> putLong(key, value)
            is String -> putString(key, value)
            is Boolean -> putBoolean(key, value)
            is Double -> putDouble(key, value)
            else -> error("$key: a ${value.javaClass} would not survive")
        }
    }
}

/** Names of arguments that several screens share. */
object Arg {
    const val BOW = "bow"
    const val KIT = "kit"
    const val TRIAL = "trial"
    const val VERDICT = "verdict"
    const val PHOTO = "photo"

    /** How far true up was turned from the photograph's own, where the phone felt it. */
    const val ROLL = "roll"
    const val CHECK = "check"
    const val CHANGE = "change"

    /** A change that is on record, to be put right. */
    const val CHANGED = "changed"
    const val MOVE = "move"
    const val ARROW = "arrow"
    const val FILE = "file"
}
