package org.shimwright.share

import android.content.ClipData
import android.content.Intent
import org.shimwright.core.Workshop
import org.shimwright.frame.Host
import java.text.SimpleDateFormat
import java.util.Date
import java.util.Locale

/** Lends what [make] writes, called [name], to the app that is chosen under [title], to be read alone. */
internal fun Host.send(title: String, name: String, make: (Workshop) -> ByteArray) {
    ask({ documents.lend(name, make(it)) }) { address ->
        val send = Intent(Intent.ACTION_SEND).setType(ShareProvider.typeOf(name)).putExtra(Intent.EXTRA_STREAM, address)
        // The grant goes with the clip, and holds for this address alone.
        send.clipData = ClipData.newRawUri(null, address)
        send.addFlags(Intent.FLAG_GRANT_READ_URI_PERMISSION)
        call(Intent.createChooser(send, title), SENT)
    }
}

/** A day as it stands in the name of a file. */
internal fun day(ms: Long): String = SimpleDateFormat("yyyy-MM-dd", Locale.ROOT).format(Date(ms))

private const val SENT = 1
