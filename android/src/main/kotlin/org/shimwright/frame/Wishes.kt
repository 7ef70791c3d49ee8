package org.shimwright.frame

import android.content.Context
import android.content.res.Configuration
import java.util.Locale

/** What belongs to this phone and not to the workshop: camp red, language, what was read. Never part of a backup. */
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

    /** Whether the cautions were read and units chosen, once on this phone. */
    var cautionsRead: Boolean
        get() = kept.getBoolean(CAUTIONS, false)
        set(read) = kept.edit().putBoolean(CAUTIONS, read).apply()

    /** Where a damaged workshop was put, until the user has taken note of it. Written at once: the process may die next. */
    var setAside: String?
        get() = kept.getString(SET_ASIDE, null)
        set(path) {
            kept.edit().putString(SET_ASIDE, path).commit()
        }

    companion object {
        private const val CAMP = "camp"
        private const val LANGUAGE = "language"
        private const val CAUTIONS = "cautions"
        private const val SET_ASIDE = "set_aside"

        fun of(context: Context) = Wishes(context)

        /**
         * [base] in the language the user asked for. A phone in a language that the app does not speak keeps its
         * direction and its region, but its figures are written as the English words around them are.
         */
        fun spoken(base: Context): Context {
            val phone = base.resources.configuration.locales[0]
            val asked = of(base).language?.let(Locale::forLanguageTag)
            if (asked == null && phone.language in SPOKEN) return base
            val wanted = Configuration().apply {
                setLocale(asked ?: Locale.Builder().setLanguage(SPOKEN.first()).setRegion(phone.country).build())
                if (asked == null) setLayoutDirection(phone)
            }
            return base.createConfigurationContext(wanted)
        }

        /** The languages of the words; the first is for all phones that speak none of them. */
        private val SPOKEN = listOf("en", "de")
    }
}
