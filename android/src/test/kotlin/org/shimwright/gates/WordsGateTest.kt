package org.shimwright.gates

import com.ibm.icu.text.PluralRules
import org.junit.Assert.assertEquals
import org.junit.Test
import org.shimwright.frame.Wishes
import org.w3c.dom.Element
import java.io.File
import java.util.Locale
import javax.xml.parsers.DocumentBuilderFactory

/** Every sentence comes from the resources, in every language, with the same blanks to fill. */
class WordsGateTest {
    private class Said(val kind: String, val forms: Map<String, String>)

    private class Language(val tag: String, val words: Map<String, Said>)

    private val english = Language("en", words("values"))
    private val others = File("src/main/res").list { _, name -> Regex("values-[a-z]{2}").matches(name) }.orEmpty().sorted()
        .map { Language(it.substringAfter('-'), words(it)) }
    private val languages = listOf(english) + others

    @Test
    fun `the languages of the words are those that the app offers`() {
        val tags = languages.map { it.tag }.toSet()
        assertEquals("spoken", tags, Wishes.SPOKEN.toSet())
        val told = parsed(File("src/main/res/xml/locales_config.xml")).elements().map { it.getAttribute("android:name") }
        assertEquals("told to the phone's settings", tags, told.toSet())
        assertEquals("named by their own words", tags.toList(), languages.map { it.words.getValue("language_tag").forms.getValue("") })
    }

    @Test
    fun `every language says everything`() {
        for (language in others) {
            assertEquals("missing in ${language.tag}", emptySet<String>(), english.words.keys - language.words.keys)
            assertEquals("only in ${language.tag}", emptySet<String>(), language.words.keys - english.words.keys)
        }
    }

    @Test
    fun `a sentence has the same blanks in every language`() {
        val uneven = english.words.flatMap { (name, said) ->
            others.filter { language -> language.words[name]?.let { blanks(it) != blanks(said) } == true }.map { "${it.tag}: $name" }
        }
        assertEquals(emptyList<String>(), uneven)
    }

    @Test
    fun `blanks are numbered, so that a language may reorder them`() {
        val loose = Regex("%[a-z.]")
        val found = languages.flatMap { it.words.values }.flatMap { it.forms.values }.filter { loose.containsMatchIn(it.replace("%%", "")) }
        assertEquals(emptyList<String>(), found)
    }

    /** By the Unicode CLDR's rules, as ICU has them; what is counted here stays far below the millions of French. */
    @Test
    fun `plurals have the forms their language needs`() {
        for (language in languages) {
            val rules = PluralRules.forLocale(Locale.forLanguageTag(language.tag))
            val needed = (0..MOST_COUNTED).map { rules.select(it.toDouble()) }.toSet()
            val plurals = language.words.filterValues { it.kind == "plurals" }
            assertEquals(language.tag, emptySet<String>(), plurals.filterValues { it.forms.keys != needed }.keys)
        }
    }

    /**
     * A count before a word in one form only reads "1 holes". Which words stay as they are after any count is said
     * here; who writes a new one decides. A count that stands inside of another blank is not seen.
     */
    @Test
    fun `what is counted has a plural`() {
        val counted = Regex("%\\d+\\\$d[ \\u00a0](?:\\+ %\\d+\\\$d )?(\\p{L}+)")
        val found = languages.flatMap { language ->
            language.words.filter { (name, said) -> said.kind == "string" && name !in NEVER_ONE }.flatMap { (name, said) ->
                val words = counted.findAll(said.forms.getValue("")).map { it.groupValues[1] }
                words.filter { it !in UNCOUNTED }.map { "${language.tag}: $name, $it" }
            }
        }
        assertEquals(emptyList<String>(), found)
    }

    /** The spaces before : ; ? ! and inside « » that French asks for, none of which may end a line. */
    @Test
    fun `French signs stand off and stay with their words`() {
        val torn = Regex("[^\\u00a0][:;?!»]|«[^\\u00a0]")
        val found = languages.single { it.tag == "fr" }.words.filterValues { said ->
            said.forms.values.any { it != UNSAID && torn.containsMatchIn(it) }
        }
        assertEquals(emptySet<String>(), found.keys)
    }

    @Test
    fun `no sentence is written in the code`() {
        val sentence = Regex("\"([^\"]*[A-Za-z]{2,} [A-Za-z]{2,}[^\"]*|[A-Z][a-z]+)\"")
        val allowed = Regex("""error\(|check\(|require\(|checkNotNull\(|@Suppress|@Deprecated|^\s*\*|^\s*//|^import""")
        val found = sources().flatMap { file ->
            file.readLines().mapIndexed { at, line -> "${file.name}:${at + 1}: ${line.trim()}" to line }
                .filter { (_, line) -> sentence.containsMatchIn(line) && !allowed.containsMatchIn(line) }
                .map { it.first }
        }.toList()
        assertEquals(emptyList<String>(), found)
    }

    @Test
    fun `every sentence is used`() {
        val code = (sources() + File("src/main").walk().filter { it.extension == "xml" }).joinToString("\n") { it.readText() }
        val used = Regex("(?:R\\.(?:string|plurals)\\.|@string/)(\\w+)").findAll(code).map { it.groupValues[1] }.toSet()
        assertEquals(emptySet<String>(), english.words.keys - used)
    }

    private fun sources() = File("src/main/kotlin").walk().filter { it.extension == "kt" }

    private fun blanks(said: Said) = said.forms.values.flatMap { form ->
        Regex("%\\d+\\$[.0-9]*[a-z]").findAll(form).map { it.value }
    }.toSet()

    private fun words(folder: String): Map<String, Said> = File("src/main/res/$folder").listFiles { file ->
        file.name.startsWith("strings")
    }
        .orEmpty().flatMap { entries(it) }.toMap()

    private fun entries(file: File): List<Pair<String, Said>> =
        parsed(file).elements().filter { it.getAttribute("translatable") != "false" }.map { it.getAttribute("name") to said(it) }

    private fun parsed(file: File): Element = DocumentBuilderFactory.newInstance().newDocumentBuilder().parse(file).documentElement

    private fun said(element: Element): Said {
        val forms = when (element.tagName) {
            "plurals" -> element.elements().associate { it.getAttribute("quantity") to it.textContent }
            else -> mapOf("" to element.textContent)
        }
        return Said(element.tagName, forms)
    }

    private companion object {
        const val MOST_COUNTED = 9_999

        /** Words that no count before them changes. */
        val UNCOUNTED = setOf("of", "in", "on", "are", "found", "read", "von", "im", "gefunden", "gelesen", "sur", "en", "de")

        /** A group and what it is compared with, a chance below a half, a round of arrows: never one. */
        val NEVER_ONE = setOf("verdict_shot", "chance_once", "reason_step_pays")

        /** The sign of a mark whose kind nobody has said: one letter, not a sentence. */
        const val UNSAID = "\\?"
    }
}
