package org.shimwright.gates

import org.w3c.dom.Element

/** The elements directly below this one. */
internal fun Element.elements(): List<Element> = (0 until childNodes.length).mapNotNull { childNodes.item(it) as? Element }

internal fun Element.android(name: String): String = getAttribute("android:$name")
