package org.shimwright.gates

import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Test
import java.io.File
import javax.xml.parsers.DocumentBuilderFactory

/** What the app may do and what others may start in it. */
class ManifestGateTest {
    private val manifest = DocumentBuilderFactory.newInstance().newDocumentBuilder().parse(
        File("src/main/AndroidManifest.xml"),
    ).documentElement
    private val components = manifest.elements().single { it.tagName == "application" }.elements()
        .filter { it.tagName in setOf("activity", "activity-alias", "service", "receiver", "provider") }

    @Test
    fun `asks for no permission at all`() {
        assertEquals(
            emptyList<String>(),
            manifest.elements().filter {
                it.tagName.startsWith("uses-permission") ||
                    it.tagName == "permission"
            }.map { it.android("name") },
        )
    }

    @Test
    fun `says of every component whether it is exported`() {
        assertEquals(emptyList<String>(), components.filter { it.android("exported").isEmpty() }.map { it.android("name") })
    }

    @Test
    fun `exports the launcher alone, which is the share target too`() {
        val exported = components.filter { it.android("exported") == "true" }.map { it.android("name") }.toSet()
        assertEquals(setOf(".ShellActivity"), exported)
    }

    @Test
    fun `leaves no copy of the workshop in a cloud`() {
        val application = manifest.elements().single { it.tagName == "application" }
        assertEquals("false", application.android("allowBackup"))
        assertFalse(application.hasAttribute("android:networkSecurityConfig"))
    }
}
