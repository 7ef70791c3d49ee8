package org.shimwright.gates

import org.junit.Assert.assertEquals
import org.junit.Test
import org.w3c.dom.Element
import java.io.File
import javax.xml.parsers.DocumentBuilderFactory

/** Every sentence comes from the resources, in every language, with the same blanks to fill. */
class WordsGateTest {
    private class Said(val kind: String, val forms: Map<String, String>)

    private val english = words("values")
    private val german = words("values-de")

    @Test
    fun `both languages say everything`() {
        assertEquals("only in English", emptySet<String>(), english.keys - german.keys)
        assertEquals("only in German", emptySet<String>(), german.keys - english.keys)
    }

    @Test
    fun `a sentence has the same blanks in both languages`() {
        val uneven = english.filter { (name, said) -> german[name]?.let { blanks(it) != blanks(said) } == true }
        assertEquals(emptySet<String>(), uneven.keys)
    }

    @Test
    fun `blanks are numbered, so that a language may reorder them`() {
        val loose = Regex("%[a-z.]")
        val found = (english.values + german.values).flatMap { it.forms.values }.filter { loose.containsMatchIn(it.replace("%%", "")) }
        assertEquals(emptyList<String>(), found)
    }

    @Test
    fun `plurals have the forms their language needs`() {
        val bare = listOf(english, german).flatMap { it.entries }.filter {
            it.value.kind == "plurals" &&
                it.value.forms.keys != setOf("one", "other")
        }
        assertEquals(emptyList<String>(), bare.map { it.key })
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
        val idle = english.keys.filterNot { Regex("(R\\.(string|plurals)\\.|@string/)$it\\b").containsMatchIn(code) }
        assertEquals(emptyList<String>(), idle)
    }

    private fun sources() = File("src/main/kotlin").walk().filter { it.extension == "kt" }

    private fun blanks(said: Said) = said.forms.values.flatMap { form ->
        Regex("%\\d+\\$[.0-9]*[a-z]").findAll(form).map { it.value }
    }.toSet()

    private fun words(folder: String): Map<String, Said> = File("src/main/res/$folder").listFiles { file ->
        file.name.startsWith("strings")
    }
        .orEmpty().flatMap { entries(it) }.toMap()

    private fun entries(file: File): List<Pair<String, Said>> {
        val root = DocumentBuilderFactory.newInstance().newDocumentBuilder().parse(file).documentElement
        return root.elements().filter { it.getAttribute("translatable") != "false" }.map { it.getAttribute("name") to said(it) }
    }

    private fun said(element: Element): Said {
        val forms = if (element.tagName ==
            "plurals"
        ) {
            element.elements().associate { it.getAttribute("quantity") to it.textContent }
        } else {
            mapOf("" to element.textContent)
        }
        return Said(element.tagName, forms)
    }
}
