package org.shimwright.verdict

import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.args

/** Asks for the verdict on a bow and opens it over the bow's page. The core keeps every verdict, so only a press asks for one. */
fun Host.judge(bowId: Long) {
    ask({ it.giveVerdict(bowId, nowMs()) }) { given ->
        backTo(Route.BOW)
        go(Route.VERDICT, args(Arg.BOW to bowId, Arg.VERDICT to given.id))
    }
}
