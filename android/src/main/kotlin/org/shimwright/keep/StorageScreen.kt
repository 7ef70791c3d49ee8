package org.shimwright.keep

import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.PhotoUsage
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Question
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.frame.args
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Units
import org.shimwright.kit.Weight
import org.shimwright.kit.action
import org.shimwright.kit.actions
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.choice
import org.shimwright.kit.counted
import org.shimwright.kit.fact
import org.shimwright.kit.note
import org.shimwright.kit.section
import org.shimwright.kit.strong
import org.shimwright.kit.title
import org.shimwright.kit.units
import java.io.File

/** A workshop file that was set aside: another took its place, or it was damaged. */
data class Aside(val path: String, val damaged: Boolean, val bytes: Long, val atMs: Long)

data class StorageState(
    val photos: PhotoUsage,
    val budget: Long?,
    /** The trials whose photographs can be cropped, oldest first, where all of them take more than the budget. */
    val croppable: List<Long>,
    val aside: List<Aside>,
    val units: Units,
    val nowMs: Long,
)

/** What takes room, and what of it can go. */
class StorageScreen(host: Host, args: Bundle, kept: Bundle) : Screen<StorageState>(host, args, kept) {
    /** Whether photographs are being cropped; leaving the screen stops it after the one under way. */
    private var cropping = false

    override fun build(workshop: Workshop, kept: Bundle): StorageState {
        val budget = host.wishes.photoBudget
        return StorageState(
            photos = workshop.photoUsage(host.photos.folder),
            budget = budget,
            croppable = budget?.let { workshop.photosToCrop(host.photos.folder, it) }.orEmpty(),
            aside = aside(host.documents.workshop),
            units = workshop.units(),
            nowMs = host.nowMs(),
        )
    }

    override fun draw(page: Page, state: StorageState) {
        val context = page.context
        val figures = Figures(context, state.units)
        page.head(context.getString(R.string.storage))
        photographs(page.body, state.photos, figures)
        budget(page.body, state, figures)
        if (state.aside.isNotEmpty()) page.body.section(context.getString(R.string.aside))
        for (one in state.aside) earlier(page.body, one, figures, state.nowMs)
    }

    private fun photographs(body: Column, photos: PhotoUsage, figures: Figures) = body.card {
        title(context.getString(R.string.held_photos))
        fact(context.getString(R.string.photos_named), context.photosSize(photos.photos, photos.bytes, figures))
        fact(context.getString(R.string.photos_idle), context.photosSize(photos.orphans, photos.orphanBytes, figures))
        if (photos.missing > 0u) {
            val missing = photos.missing.toInt()
            body(context.counted(R.plurals.photos_missing, missing))
        }
        note(context.getString(R.string.photos_idle_how))
        if (photos.orphans > 0u) action(context.getString(R.string.sweep)) { asked() }
        val swept = kept.getLong(SWEPT, -1)
        if (swept >= 0) body(context.getString(R.string.swept, figures.count(swept), figures.bytes(kept.getLong(SWEPT_BYTES))))
    }

    private fun budget(body: Column, state: StorageState, figures: Figures) = body.card {
        val options = listOf<Pair<Long?, CharSequence>>(null to context.getString(R.string.budget_all)) +
            BUDGETS.map { it to figures.bytes(it) }
        choice(context.getString(R.string.budget), options, state.budget) {
            host.wishes.photoBudget = it
            refresh()
        }
        note(context.getString(R.string.budget_how))
        val count = state.croppable.size
        if (count > 0) {
            body(context.counted(R.plurals.crop_count, count))
            if (!cropping) action(context.getString(R.string.crop)) { cropAsked(state) }
        }
    }

    private fun cropAsked(state: StorageState) {
        val budget = state.budget ?: return
        host.confirm(Question(R.string.crop_question, R.string.crop_question_words, R.string.crop)) {
            cropping = true
            crop(state.croppable.iterator(), budget)
        }
    }

    /** One photograph after the other, the oldest first, until what is left fits; one that cannot be cropped stays whole. */
    private fun crop(waiting: Iterator<Long>, budget: Long) {
        if (!cropping || !waiting.hasNext()) return cropped()
        val trial = waiting.next()
        host.ask({ shop ->
            runCatching { shop.cropPhoto(host.photos.folder, trial, host.nowMs()) }
            shop.photoUsage(host.photos.folder).bytes > budget
        }) { more -> if (more) crop(waiting, budget) else cropped() }
    }

    private fun cropped() {
        cropping = false
        refresh()
    }

    override fun onStop() {
        cropping = false
    }

    private fun asked() = host.confirm(Question(R.string.sweep_question, R.string.sweep_question_words, R.string.sweep)) {
        host.ask({ it.sweepPhotos(host.photos.folder, host.nowMs()) }) { gone ->
            kept.putLong(SWEPT, gone.orphans.toLong())
            kept.putLong(SWEPT_BYTES, gone.orphanBytes)
            refresh()
        }
    }

    private fun earlier(body: Column, one: Aside, figures: Figures, nowMs: Long) = body.card {
        strong(context.getString(if (one.damaged) R.string.aside_damaged else R.string.aside_replaced))
        note(context.getString(R.string.aside_facts, figures.since(one.atMs, nowMs), figures.bytes(one.bytes)))
        actions {
            action(context.getString(R.string.aside_remove), Weight.DANGER) { removeAsked(one) }
            if (one.damaged) {
                action(context.getString(R.string.rescue_save)) { host.go(Route.RESCUE, args(Arg.FILE to one.path)) }
            } else {
                action(context.getString(R.string.replaced_back)) { host.putFileBack(one.path) }
            }
        }
    }

    private fun removeAsked(one: Aside) {
        host.confirm(Question(R.string.aside_question, R.string.aside_question_words, R.string.aside_remove)) {
            host.ask({ ENDS.forEach { File(one.path + it).delete() } }) { refresh() }
        }
    }

    private companion object {
        /** Some hundreds and some thousands of photographs of a phone; common practice, no source. */
        val BUDGETS = listOf(2_000_000_000L, 500_000_000L)
        const val SWEPT = "swept"
        const val SWEPT_BYTES = "swept_bytes"
    }
}

/** A file and its journal. */
private val ENDS = listOf("", "-wal", "-shm")

/** The files beside [workshop] that were set aside, the newest first. The core gives them their names. */
internal fun aside(workshop: File): List<Aside> {
    val name = Regex(Regex.escape(workshop.name) + "\\.(replaced|damaged)-[0-9]+")
    return workshop.absoluteFile.parentFile?.listFiles().orEmpty().mapNotNull { file ->
        name.matchEntire(file.name)?.let { Aside(file.path, it.groupValues[1] == "damaged", size(file), file.lastModified()) }
    }.sortedByDescending { it.atMs }
}

private fun size(file: File) = ENDS.sumOf { File(file.path + it).length() }
