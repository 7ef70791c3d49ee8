package org.shimwright.frame

import android.os.Bundle
import org.shimwright.rack.RackScreen

/** Every screen there is. The names are written into saved state: rename none. */
enum class Route(val make: (Host, Bundle, Bundle) -> Screen<*>) {
    RACK(::RackScreen),
}
