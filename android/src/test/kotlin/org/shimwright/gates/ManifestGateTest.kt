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
    fun `lends files by grants to one address at a time, and to nobody else`() {
        val providers = components.filter { it.tagName == "provider" }
        assertEquals(setOf(".photo.PhotoProvider", ".share.ShareProvider"), providers.map { it.android("name") }.toSet())
        for (provider in providers) {
            assertEquals("false", provider.android("exported"))
            assertEquals("true", provider.android("grantUriPermissions"))
            // A path permission or a <grant-uri-permission> of a whole path would open more than one address.
            assertEquals(emptyList<String>(), provider.elements().map { it.tagName })
            assertFalse(provider.hasAttribute("android:readPermission") || provider.hasAttribute("android:permission"))
        }
    }

    @Test
    fun `leaves no copy of the workshop in a cloud`() {
        val application = manifest.elements().single { it.tagName == "application" }
        assertEquals("false", application.android("allowBackup"))
        assertFalse(application.hasAttribute("android:networkSecurityConfig"))
    }
}
