package org.shimwright.testing

import android.os.Bundle
import android.os.Parcel

/** Sends a bundle the way the system does when it kills a process: as bytes. */
object Parcels {
    fun through(bundle: Bundle): Bundle {
        val parcel = Parcel.obtain()
        bundle.writeToParcel(parcel, 0)
        val bytes = parcel.marshall()
        parcel.recycle()
        val back = Parcel.obtain()
        back.unmarshall(bytes, 0, bytes.size)
        back.setDataPosition(0)
        return checkNotNull(Bundle.CREATOR.createFromParcel(back)).also { it.classLoader = Parcels::class.java.classLoader }
    }
}
