package org.shimwright.window

import android.app.Activity
import android.content.Intent
import android.net.Uri
import android.provider.MediaStore
import org.robolectric.Shadows.shadowOf
import java.awt.Dimension
import java.io.File
import javax.imageio.ImageIO
import javax.swing.ImageIcon
import javax.swing.JComponent
import javax.swing.JFileChooser
import javax.swing.JLabel
import javax.swing.SwingUtilities.invokeAndWait
import javax.swing.SwingUtilities.invokeLater
import javax.swing.filechooser.FileNameExtensionFilter

/** Stands in for the camera and the picture picker: both offer the JPEG files of [photos]. */
internal class Elsewhere(private val photos: File, private val parent: JComponent) {
    /** Answers what [activity] asked of another app, if it did. */
    fun answer(activity: Activity) {
        val asked = shadowOf(activity).nextStartedActivityForResult ?: return
        val photo = chosen()
        val camera = asked.intent.action == MediaStore.ACTION_IMAGE_CAPTURE
        val answer = photo?.let { if (camera) taken(activity, asked.intent, it) else picked(activity, it) }
        shadowOf(activity).receiveResult(asked.intent, if (photo == null) Activity.RESULT_CANCELED else Activity.RESULT_OK, answer)
    }

    /** As a camera app does: writes the file it was lent. */
    private fun taken(activity: Activity, intent: Intent, photo: File): Intent? {
        @Suppress("DEPRECATION") // The typed getter is newer than API 26.
        val lent = checkNotNull(intent.getParcelableExtra<Uri>(MediaStore.EXTRA_OUTPUT))
        checkNotNull(activity.contentResolver.openOutputStream(lent, "w")).use { it.write(photo.readBytes()) }
        return null
    }

    /** As a picture picker does: gives an address from which the picture can be read. */
    private fun picked(activity: Activity, photo: File): Intent {
        val address = Uri.Builder().scheme("content").authority("desk").appendPath(photo.path).build()
        shadowOf(activity.contentResolver).registerInputStreamSupplier(address) { photo.inputStream() }
        return Intent().setData(address)
    }

    private fun chosen(): File? {
        var photo: File? = null
        invokeAndWait {
            val chooser = JFileChooser(photos).apply {
                fileFilter = FileNameExtensionFilter("JPEG", "jpg", "jpeg")
                accessory = Preview(this)
            }
            if (chooser.showOpenDialog(parent) == JFileChooser.APPROVE_OPTION) photo = chooser.selectedFile
        }
        return photo
    }

    /** The photograph pointed at, small. */
    private class Preview(chooser: JFileChooser) : JLabel() {
        init {
            preferredSize = Dimension(SIDE, SIDE)
            chooser.addPropertyChangeListener(JFileChooser.SELECTED_FILE_CHANGED_PROPERTY) { invokeLater { show(chooser.selectedFile) } }
        }

        private fun show(file: File?) {
            icon = file?.let(::small)?.let(::ImageIcon)
        }

        private fun small(file: File) = ImageIO.createImageInputStream(file)?.use { stream ->
            ImageIO.getImageReaders(stream).asSequence().firstOrNull()?.run {
                input = stream
                val step = (maxOf(getWidth(0), getHeight(0)) / SIDE).coerceAtLeast(1)
                read(0, defaultReadParam.apply { setSourceSubsampling(step, step, 0, 0) })
            }
        }

        private companion object {
            const val SIDE = 200
        }
    }
}
