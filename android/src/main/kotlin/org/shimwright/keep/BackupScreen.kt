package org.shimwright.keep

import android.content.Context
import android.content.Intent
import android.net.Uri
import android.os.Bundle
import org.shimwright.R
import org.shimwright.core.Holding
import org.shimwright.core.PhotoUsage
import org.shimwright.core.Progress
import org.shimwright.core.Workshop
import org.shimwright.frame.Host
import org.shimwright.frame.Screen
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Units
import org.shimwright.kit.action
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.note
import org.shimwright.kit.units
import java.text.SimpleDateFormat
import java.util.Date
import java.util.Locale

/** How a backup stands. The names are written into saved state: rename none. */
enum class Stage { IDLE, RUNNING, DONE, STOPPED, BROKEN }

data class BackupState(
    val stage: Stage,
    val at: Progress?,
    val lastMs: Long?,
    val holding: Holding,
    val photos: PhotoUsage,
    val units: Units,
    val nowMs: Long,
)

/** Writes everything into one document that the user chooses the place of. */
class BackupScreen(host: Host, args: Bundle, kept: Bundle) : Screen<BackupState>(host, args, kept) {
    private class Run(val giving: Giving, var at: Progress?)

    @Volatile private var run: Run? = null

    override val keepsAwake get() = run != null

    override fun build(workshop: Workshop, kept: Bundle): BackupState {
        val now = run
        return BackupState(
            stage = if (now != null) Stage.RUNNING else left(kept),
            at = now?.at,
            lastMs = host.wishes.lastBackupMs,
            holding = workshop.holding(),
            photos = workshop.photoUsage(host.photos.folder),
            units = workshop.units(),
            nowMs = host.nowMs(),
        )
    }

    /** Without a run, a document that was begun belongs to a process that is gone: it is no backup. */
    private fun left(kept: Bundle): Stage {
        val begun = kept.getString(DOCUMENT) ?: return kept.getString(STAGE)?.let(Stage::valueOf) ?: Stage.IDLE
        host.documents.discard(Uri.parse(begun))
        return Stage.BROKEN
    }

    override fun draw(page: Page, state: BackupState) {
        val context = page.context
        val figures = Figures(context, state.units)
        page.head(context.getString(R.string.backup))
        if (state.stage == Stage.RUNNING) {
            running(page, state, figures)
            return
        }
        page.body.card {
            answer(said(context, state, figures))
            body(context.getString(if (state.stage == Stage.DONE) R.string.backup_done_how else R.string.backup_why))
        }
        page.body.card { holding(state.holding, state.photos, figures) }
        page.body.note(context.getString(R.string.backup_open))
        val words = if (state.stage == Stage.DONE) R.string.backup_another else R.string.backup_now
        if (state.stage == Stage.DONE) {
            page.bar { action(context.getString(words)) { pick(context) } }
            page.main(context.getString(R.string.understood)) { host.back() }
        } else {
            page.main(context.getString(words)) { pick(context) }
        }
    }

    private fun said(context: Context, state: BackupState, figures: Figures): String = when (state.stage) {
        Stage.DONE -> context.getString(R.string.backup_done, figures.bytes(kept.getLong(BYTES)))
        Stage.STOPPED -> context.getString(R.string.backup_stopped)
        Stage.BROKEN -> context.getString(R.string.backup_broken)
        else -> context.lastBackup(state.lastMs, figures, state.nowMs)
    }

    private fun running(page: Page, state: BackupState, figures: Figures) {
        page.body.underWay(R.string.backup_running, state.at, figures)
        page.bar { action(context.getString(R.string.stop_waiting)) { giveUp() } }
    }

    private fun pick(context: Context) {
        val day = SimpleDateFormat("yyyy-MM-dd", Locale.ROOT).format(Date(host.nowMs()))
        host.call(host.documents.create(context.getString(R.string.backup_name, context.getString(R.string.app), day)), PICK)
    }

    override fun onAnswer(code: Int, answer: Intent?) {
        val document = answer?.data ?: return
        kept.putString(DOCUMENT, document.toString())
        val fresh = Run(Giving(host.documents, document), null)
        run = fresh
        refresh()
        step(fresh)
    }

    private fun step(now: Run) {
        host.ask({ shop -> runCatching { now.giving.some(shop, host.photos.folder, host.nowMs()) } }) { outcome ->
            if (now === run) outcome.onSuccess { went(now, it) }.onFailure { failed(it) }
        }
    }

    private fun went(now: Run, at: Progress) {
        now.at = at
        if (at.goesOn) {
            refresh()
            step(now)
            return
        }
        kept.putLong(BYTES, now.giving.bytes)
        host.wishes.lastBackupMs = host.nowMs()
        ended(Stage.DONE)
        host.settle({ now.giving.end() }) {}
    }

    private fun failed(error: Throwable) {
        onStop()
        ended(Stage.IDLE)
        host.trouble(error)
    }

    private fun ended(stage: Stage) {
        run = null
        kept.remove(DOCUMENT)
        kept.putString(STAGE, stage.name)
        refresh()
    }

    private fun giveUp() = onStop()

    override fun onStop() {
        val now = run ?: return
        ended(Stage.STOPPED)
        host.settle({ now.giving.giveUp() }) {}
    }

    override fun onBack(): Boolean {
        val working = run != null
        giveUp()
        return working
    }

    private companion object {
        const val PICK = 1
        const val DOCUMENT = "document"
        const val STAGE = "stage"
        const val BYTES = "bytes"
    }
}
