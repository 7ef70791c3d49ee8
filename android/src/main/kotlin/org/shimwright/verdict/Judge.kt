package org.shimwright.verdict

import org.shimwright.core.TrialDraft
import org.shimwright.core.VerdictGiven
import org.shimwright.core.Workshop
import org.shimwright.core.WorkshopException
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Route
import org.shimwright.frame.args

/** Asks for the verdict on a bow and opens it over the bow's page. The core keeps every verdict, so only a press asks for one. */
fun Host.judge(bowId: Long) {
    ask({ it.giveVerdict(bowId, nowMs()) }) { given -> recorded(bowId, given) }
}

/** Worker: keeps a trial and judges the bow by it; null where there can be no verdict yet: the trial is kept all the same. */
fun Workshop.record(bowId: Long, shot: TrialDraft, nowMs: Long): VerdictGiven? {
    saveTrial(bowId, shot, nowMs)
    return try {
        giveVerdict(bowId, nowMs)
    } catch (expected: WorkshopException.Refused) {
        null
    }
}

/** Worker: judges a bow anew whose verdict no longer stands; null where none was given yet, or where it stands. */
fun Workshop.anew(bowId: Long, nowMs: Long): VerdictGiven? {
    val page = bowPage(bowId)
    val stale = page.lastVerdict != null && !page.verdictStands && page.swap == null
    return if (stale) giveVerdict(bowId, nowMs) else null
}

/** Opens the verdict over the bow's page; without one that page says what the bow waits for. */
fun Host.recorded(bowId: Long, given: VerdictGiven?) {
    backTo(Route.BOW)
    if (given != null) go(Route.VERDICT, args(Arg.BOW to bowId, Arg.VERDICT to given.id))
}
