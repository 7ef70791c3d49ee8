package org.shimwright.frame

import android.content.Context
import android.content.res.Configuration
import java.util.Locale

/** What the user wants of this phone before the core is open: the camp red and the language. Never part of a backup. */
class Wishes private constructor(context: Context) {
    private val kept = context.getSharedPreferences("wishes", Context.MODE_PRIVATE)

    /** Red on black for dark camps. */
    var camp: Boolean
        get() = kept.getBoolean(CAMP, false)
        set(on) = kept.edit().putBoolean(CAMP, on).apply()

    /** A language tag, or null to follow the phone. */
    var language: String?
        get() = kept.getString(LANGUAGE, null)
        set(tag) = kept.edit().putString(LANGUAGE, tag).apply()

    companion object {
        private const val CAMP = "camp"
        private const val LANGUAGE = "language"

        fun of(context: Context) = Wishes(context)

        /** [base] in the language the user asked for. */
        fun spoken(base: Context): Context {
            val tag = of(base).language ?: return base
            val wanted = Configuration().apply { setLocale(Locale.forLanguageTag(tag)) }
            return base.createConfigurationContext(wanted)
        }
    }
}
