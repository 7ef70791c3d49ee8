package org.shimwright.speed

import android.app.Activity
import android.graphics.Bitmap
import android.graphics.Canvas
import android.os.Bundle
import android.view.View
import android.widget.ArrayAdapter
import android.widget.Button
import android.widget.EditText
import android.widget.LinearLayout
import android.widget.ListView
import org.junit.Rule
import org.junit.Test
import org.robolectric.Robolectric
import org.robolectric.RuntimeEnvironment
import org.shimwright.App
import org.shimwright.testing.ShellTest
import java.io.File

/**
 * From none of the app's classes loaded to the rack of a thousand bows drawn; the core's library and file are opened on
 * the way. Once a process, or it is not cold: android/bench starts several. On a phone the framework is there before any
 * app, here Robolectric rewrites each class of it at its first use: a plain page of the framework's own widgets goes
 * first, to bring in what any app needs, and is told beside.
 */
class ColdStart : ShellTest() {
    @get:Rule
    val stopwatch = Stopwatch()

    @Test
    fun `the rack after a cold start`() {
        File(THOUSAND_BOWS).copyTo(app.filesDir.resolve(App.FILE))
        RuntimeEnvironment.setQualifiers(FINE_PHONE)
        val plain = millis { draw(Robolectric.buildActivity(Plain::class.java).setup().get().window.decorView) }
        val rack = millis {
            open()
            draw(root)
        }
        see("1000 bows")
        stopwatch.told("Before: the framework's widgets on a plain page", listOf(plain))
        stopwatch.told("Cold start to the rack of 1,000 bows", listOf(rack), 1500.0)
    }

    private fun draw(root: View) {
        val metrics = root.resources.displayMetrics
        root.draw(Canvas(Bitmap.createBitmap(metrics.widthPixels, metrics.heightPixels, Bitmap.Config.ARGB_8888)))
    }

    /** What a list app of the framework's own widgets is made of. */
    class Plain : Activity() {
        override fun onCreate(saved: Bundle?) {
            super.onCreate(saved)
            val page = LinearLayout(this).apply { orientation = LinearLayout.VERTICAL }
            page.addView(EditText(this))
            page.addView(Button(this).apply { text = "Button" })
            val names = List(1000) { "Bow $it" }
            val rows = ArrayAdapter(this, android.R.layout.simple_list_item_2, android.R.id.text1, names)
            page.addView(ListView(this).apply { adapter = rows })
            setContentView(page)
        }
    }

    internal companion object {
        /** Written by [Frames]. */
        const val THOUSAND_BOWS = "target/speed/thousand-bows.workshop"
    }
}
