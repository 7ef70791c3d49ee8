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

    /** How many bytes photographs may take on this phone before older ones are offered to be cropped; null for no limit. */
    var photoBudget: Long?
        get() = kept.getLong(BUDGET, 0).takeIf { it > 0 }
        set(bytes) = kept.edit().putLong(BUDGET, bytes ?: 0).apply()

    /** When the last backup was finished, epoch milliseconds; null before the first. */
    var lastBackupMs: Long?
        get() = kept.getLong(BACKUP, 0).takeIf { it > 0 }
        set(at) = kept.edit().putLong(BACKUP, at ?: 0).apply()

    /**
     * Counts the workshops that stood in this app's place, one after the other: a restore or a merge gives every bow
     * another number, so what was kept by number counts for nothing after it. Written at once, before the file changes.
     */
    var generation: Int
        get() = kept.getInt(GENERATION, 0)
        set(fresh) {
            kept.edit().putInt(GENERATION, fresh).commit()
        }

    companion object {
        private const val BACKUP = "backup"
        private const val BUDGET = "budget"
        private const val GENERATION = "generation"
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
        val SPOKEN = listOf("en", "de", "fr")
    }
}
