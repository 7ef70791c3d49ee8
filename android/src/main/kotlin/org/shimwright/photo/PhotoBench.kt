package org.shimwright.photo

import org.shimwright.core.Looked
import org.shimwright.core.MeasuredImpact
import org.shimwright.core.MeasuredTear
import org.shimwright.core.PhotoSession
import org.shimwright.core.PlaneFacts
import org.shimwright.core.Reference
import org.shimwright.core.Suggested
import org.shimwright.core.Tap
import org.shimwright.core.TearTap
import org.shimwright.core.Trace
import org.shimwright.core.Workshop
import org.shimwright.core.WorkshopException
import java.io.File

/** One mark with what the core made of it: an impact or a tear, or neither where it is outside the sheet. */
data class Seen(
    val mark: Mark,
    val impact: MeasuredImpact?,
    val tear: MeasuredTear?,
    val traces: List<Trace>,
    /** Whether a record says that the core stood behind it; then nothing of it is measured now. */
    val known: Boolean = false,
) {
    /** Whether the core stands behind it: the rim of a hole found, a tear read. */
    val found get() = impact?.snapped ?: tear?.accepted ?: false

    /** Whether it needs no second look: found, or put there on purpose. */
    val sure get() = known || found || (mark.byHand && impact != null)
}

/**
 * A photograph on the worker: decoded once, fitted once for each reference, each mark measured once. All of it can be
 * made again from the file and the marks, so nothing of it is kept. Only the worker calls it.
 */
internal class PhotoBench(workshop: Workshop, file: File) {
    val session: PhotoSession = workshop.beginPhoto(file.readBytes())
    val picture = Picture.of(file)
    private var reference: Reference? = null
    private var fitted: Result<PlaneFacts>? = null
    private var looked: Result<Looked?>? = null
    private var suggested: Suggested? = null
    private val seen = HashMap<Pair<Mark, Double>, Seen>()

    /** What is of known size, found by itself; [usual] is what the bow's last photograph used. */
    fun look(usual: Reference?): Looked? {
        looked?.let { return it.getOrNull() }
        val found = session.look(usual)
        looked = Result.success(found)
        if (found != null) {
            reference = found.reference
            fitted = Result.success(found.facts)
        }
        return found
    }

    /** The first of [ways] that fits; where none does, the failure of the first. */
    fun fitOne(ways: List<Reference>): Result<PlaneFacts>? {
        val standing = fitted
        if (standing != null && standing.isSuccess && reference in ways) return standing
        var failed: Result<PlaneFacts>? = null
        for (way in ways) {
            val fit = fit(way)
            if (fit.isSuccess) return fit
            failed = failed ?: fit
        }
        return failed
    }

    /** The plane of [wanted]; the failure is the core's, in words a screen can show. */
    fun fit(wanted: Reference): Result<PlaneFacts> {
        fitted?.takeIf { wanted == reference }?.let { return it }
        val fresh = try {
            Result.success(session.fit(wanted, null))
        } catch (refused: WorkshopException.Photo) {
            Result.failure(refused)
        }
        reference = wanted
        fitted = fresh
        suggested = null
        seen.clear()
        return fresh
    }

    /** [shaftMm] is the arrows' own, where it is known: a torn hole is read better with it. */
    fun impact(mark: Mark, shaftMm: Double?): Seen = seen.getOrPut(mark to (shaftMm ?: 0.0)) {
        val tap = Tap(mark.kind, mark.at, mark.sdPx, shaftMm)
        if (mark.byHand) {
            Seen(mark, orNull { session.place(tap) }, null, emptyList())
        } else {
            val snapped = orNull { session.snap(tap) }
            Seen(mark, snapped?.impact, null, listOfNotNull(snapped?.trace))
        }
    }

    fun tear(mark: Mark, shaftMm: Double): Seen = seen.getOrPut(mark to shaftMm) {
        val read = orNull { session.tear(TearTap(mark.at, shaftMm, mark.nock, mark.sdPx)) }
        Seen(mark, null, read?.tear, read?.traces.orEmpty())
    }

    /** Whether the whole plane was looked over, so that asking again costs nothing. */
    val hasLooked get() = suggested != null

    fun propose(): Suggested = suggested ?: session.propose().also { suggested = it }

    private fun <T> orNull(read: () -> T): T? = try {
        read()
    } catch (expected: WorkshopException.Photo) {
        null
    }
}
