package org.shimwright.frame

import android.os.Bundle
import org.json.JSONArray
import org.json.JSONException
import org.json.JSONObject
import org.shimwright.frame.Arg.BOW
import java.io.File
import java.io.IOException

/** What becomes of what was typed on a screen that is left by Back. */
enum class Drafted {
    /** Nothing: there is nothing to lose. */
    NOT,

    /** It stands in the form when that is opened again. */
    FORM,

    /** It is offered on the page of its bow. */
    WORK,
}

/** A screen as it was left, with what was typed or marked on it. */
class Draft(val route: Route, val args: Bundle, val kept: Bundle, val atMs: Long)

/** Drafts in [folder], a small file each, so that they outlive the process and the list of recent apps. */
class Drafts(private val folder: File) {
    /** Keeps [draft] in place of an earlier one of the same screen. A full disk loses the draft, never what was there. */
    fun keep(draft: Draft) {
        val text = JSONObject()
            .put(ROUTE, draft.route.name)
            .put(ARGS, draft.args.asJson())
            .put(KEPT, draft.kept.asJson())
            .put(AT, draft.atMs)
            .toString()
        val file = file(draft.route, draft.args)
        val fresh = File(file.path + FRESH)
        try {
            folder.mkdirs()
            fresh.writeText(text)
            if (!fresh.renameTo(file)) fresh.delete()
        } catch (expectedWhenFull: IOException) {
            fresh.delete()
        }
    }

    /** The draft of one screen. */
    fun of(route: Route, args: Bundle): Draft? = read(file(route, args))

    /** The work left on a bow, newest first. */
    fun ofBow(bowId: Long): List<Draft> = all().filter { it.route.drafted == Drafted.WORK && it.args.getLong(BOW) == bowId }

    fun drop(route: Route, args: Bundle) {
        file(route, args).delete()
    }

    /** How many screens were left with something unsaved. */
    val count get() = all().size

    /** Drops them all: what they are about no longer has the numbers they know it by. */
    fun dropAll() = folder.listFiles().orEmpty().forEach { it.delete() }

    private fun all() = folder.listFiles().orEmpty().filter { it.name.endsWith(END) }.mapNotNull(::read).sortedByDescending { it.atMs }

    private fun file(route: Route, args: Bundle) =
        folder.resolve("${route.name}-${Integer.toHexString(args.asJson().toString().hashCode())}$END")

    private fun read(file: File): Draft? = try {
        val json = JSONObject(file.readText())
        val route = Route.entries.find { it.name == json.getString(ROUTE) }
        route?.let { Draft(it, bundle(json.getJSONObject(ARGS)), bundle(json.getJSONObject(KEPT)), json.getLong(AT)) }
    } catch (expectedWhenGone: IOException) {
        null
    } catch (expectedWhenForeign: JSONException) {
        null
    }

    private companion object {
        const val END = ".draft"
        const val FRESH = ".fresh"
        const val ROUTE = "route"
        const val ARGS = "args"
        const val KEPT = "kept"
        const val AT = "at"
    }
}

/** What screens keep, as text: each value with a letter for its type. */
@Suppress("DEPRECATION") // The typed getter is newer than API 26.
internal fun Bundle.asJson(): JSONObject = JSONObject().also { json ->
    for (key in keySet().sorted()) pair(get(key))?.let { json.put(key, it) }
}

private fun pair(value: Any?): JSONArray? = when (value) {
    is String -> typed("s", value)
    is Boolean -> typed("b", value)
    is Int -> typed("i", value)
    is Long -> typed("l", value)
    is Double -> typed("d", value)
    is DoubleArray -> typed("D", JSONArray(value.toList()))
    is FloatArray -> typed("F", JSONArray(value.map { it.toDouble() }))
    is Array<*> -> typed("S", JSONArray(value.toList()))
    is ArrayList<*> -> typed("L", JSONArray(value.toList()))
    is Bundle -> typed("B", value.asJson())
    else -> null
}

private fun typed(type: String, value: Any) = JSONArray().put(type).put(value)

internal fun bundle(json: JSONObject): Bundle = Bundle().apply {
    for (key in json.keys()) {
        val pair = json.getJSONArray(key)
        when (pair.getString(0)) {
            "s" -> putString(key, pair.getString(1))
            "b" -> putBoolean(key, pair.getBoolean(1))
            "i" -> putInt(key, pair.getInt(1))
            "l" -> putLong(key, pair.getLong(1))
            "d" -> putDouble(key, pair.getDouble(1))
            "D" -> putDoubleArray(key, numbers(pair).toDoubleArray())
            "F" -> putFloatArray(key, numbers(pair).map { it.toFloat() }.toFloatArray())
            "S" -> putStringArray(key, texts(pair).toTypedArray())
            "L" -> putStringArrayList(key, ArrayList(texts(pair)))
            "B" -> putBundle(key, bundle(pair.getJSONObject(1)))
        }
    }
}

private fun numbers(pair: JSONArray) = pair.getJSONArray(1).let { all -> (0 until all.length()).map(all::getDouble) }

private fun texts(pair: JSONArray) = pair.getJSONArray(1).let { all -> (0 until all.length()).map(all::getString) }
