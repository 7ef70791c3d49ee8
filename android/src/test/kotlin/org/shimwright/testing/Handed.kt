package org.shimwright.testing

import android.app.Activity
import android.content.Intent
import android.net.Uri
import org.junit.Assert.assertEquals
import org.robolectric.Shadows.shadowOf

/** What an app asked the system's chooser to hand on. */
@Suppress("DEPRECATION") // The typed getters are newer than API 26.
class Handed(val intent: Intent) {
    val address: Uri get() = checkNotNull(intent.getParcelableExtra(Intent.EXTRA_STREAM))

    companion object {
        fun by(shell: Activity): Handed {
            val chooser = shadowOf(shell).nextStartedActivityForResult.intent
            assertEquals(Intent.ACTION_CHOOSER, chooser.action)
            return Handed(checkNotNull(chooser.getParcelableExtra(Intent.EXTRA_INTENT)))
        }
    }
}
