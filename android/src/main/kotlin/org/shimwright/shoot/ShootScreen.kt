package org.shimwright.shoot

import android.content.ClipData
import android.content.Intent
import android.net.Uri
import android.os.Bundle
import android.provider.MediaStore
import org.shimwright.R
import org.shimwright.checks.damage
import org.shimwright.core.ArrowKind
import org.shimwright.core.Surface
import org.shimwright.core.Workshop
import org.shimwright.frame.Arg
import org.shimwright.frame.Host
import org.shimwright.frame.Question
import org.shimwright.frame.Route
import org.shimwright.frame.Screen
import org.shimwright.frame.args
import org.shimwright.kit.Abreast
import org.shimwright.kit.Column
import org.shimwright.kit.Figures
import org.shimwright.kit.Page
import org.shimwright.kit.Reading
import org.shimwright.kit.action
import org.shimwright.kit.actions
import org.shimwright.kit.answer
import org.shimwright.kit.body
import org.shimwright.kit.card
import org.shimwright.kit.choice
import org.shimwright.kit.choose
import org.shimwright.kit.distance
import org.shimwright.kit.door
import org.shimwright.kit.field
import org.shimwright.kit.largeType
import org.shimwright.kit.note
import org.shimwright.kit.section
import org.shimwright.kit.typed
import org.shimwright.photo.Plumb

/** What is about to be shot, and how it will be read: photograph, picture, or by hand. */
class ShootScreen(host: Host, args: Bundle, kept: Bundle) : Screen<ShootState>(host, args, kept) {
    private val bowId = args.getLong(Arg.BOW)

    /** A picture that another app shared, which is then the one to measure. */
    private val shared = args.getString(Arg.PHOTO)

    override fun build(workshop: Workshop, kept: Bundle) = shootState(workshop, bowId, kept)

    override fun draw(page: Page, state: ShootState) {
        page.head(page.context.getString(R.string.shoot), state.bow)
        when (state.bars) {
            Bars.NOTHING_FITTED -> barred(page, R.string.bow_nothing_known, R.string.shoot_fitted_first, R.string.say_fitted, Route.FITTED)
            Bars.SWAP_OPEN -> barred(page, R.string.refused_swap_open, R.string.refused_swap_open_remedy, R.string.go_on_swap, Route.SWAP)
            null -> ask(page, state)
        }
    }

    private fun barred(page: Page, what: Int, remedy: Int, way: Int, route: Route) {
        page.body.card {
            answer(context.getString(what))
            body(context.getString(remedy))
        }
        page.main(page.context.getString(way)) { host.swapFor(route, args(Arg.BOW to bowId)) }
    }

    private fun ask(page: Page, state: ShootState) {
        page.body.damage(state.checks)
        surface(page.body, state)
        distance(page.body, state)
        arrows(page.body, state)
        who(page.body, state)
        page.body.section(page.context.getString(R.string.shoot_read))
        page.body.note(page.context.getString(if (state.surface == Surface.FACE) R.string.shoot_photo_face else R.string.shoot_photo_paper))
        if (shared == null) {
            page.main(page.context.getString(R.string.take_photograph)) { checked(state) { takePhotograph() } }
        } else {
            page.main(page.context.getString(R.string.measure_shared)) { checked(state) { take(Uri.parse(shared)) } }
        }
        val others: Abreast.() -> Unit = {
            action(context.getString(R.string.choose_picture)) { checked(state) { choosePicture() } }
            action(context.getString(R.string.without_photo)) { checked(state) { host.go(Route.TYPED, it.asArgs(null)) } }
        }
        if (largeType(page.context)) page.body.actions(others) else page.bar(others)
    }

    private fun surface(body: Column, state: ShootState) {
        val context = body.context
        val options = listOf(
            Surface.FACE to context.getString(R.string.surface_face),
            Surface.PAPER to context.getString(R.string.surface_paper),
        )
        body.choice(context.getString(R.string.shoot_at), options, state.surface) {
            kept.putString(ShootKey.SURFACE, it.name)
            kept.remove(ShootKey.DISTANCE)
            refresh()
        }
    }

    private fun distance(body: Column, state: ShootState) {
        val context = body.context
        val figures = Figures(context, state.units)
        body.field(context.getString(R.string.shoot_distance), ShootKey.DISTANCE, kept) {
            distance(figures)
            state.lastM?.let { first = figures.distanceField(it) }
            if (state.unread) wrong = context.getString(R.string.distance_needed)
            changed = { kept.remove(ShootKey.UNREAD) }
        }
        val how = if (state.surface == Surface.FACE) R.string.shoot_distance_face else R.string.shoot_distance_paper
        body.note(state.lastM?.let { context.getString(R.string.shoot_distance_last, figures.distance(it)) } ?: context.getString(how))
    }

    private fun arrows(body: Column, state: ShootState) {
        val context = body.context
        body.section(context.getString(R.string.shoot_arrows))
        for (kind in state.offered) body.count(kind, state.counts.getValue(kind)) { count(kind, it) }
        if (state.arrows.isEmpty()) {
            body.door(context.getString(R.string.add_arrows), context.getString(R.string.arrows_note)) {
                host.go(Route.ARROW, args(Arg.BOW to bowId))
            }
            return
        }
        body.choice(context.getString(R.string.shoot_which_arrows), state.arrows.map { it.id to it.name }, state.arrowsId) {
            kept.putLong(ShootKey.ARROWS, it)
            refresh()
        }
    }

    /** Who shot before is a press away: a name typed anew is easily somebody else, with a scatter of nobody's. */
    private fun who(body: Column, state: ShootState) {
        val context = body.context
        body.field(context.getString(R.string.shoot_who), ShootKey.SHOOTER, kept) { first = state.lastShooter }
        val now = kept.typed(ShootKey.SHOOTER, state.lastShooter).trim()
        if (state.shooters.size > 1) body.actions { for (name in state.shooters) action(name) { shooter(name) }.choose(name == now) }
        body.note(context.getString(R.string.shoot_who_why))
    }

    private fun shooter(name: String) {
        kept.putString(ShootKey.SHOOTER, name)
        refresh()
    }

    private fun count(kind: ArrowKind, count: Int) {
        kept.putInt(kind.name, count)
        refresh()
    }

    /** Goes on with what was entered once it can be read; what cannot is said at its field. */
    private fun checked(state: ShootState, goOn: (Shot) -> Unit) {
        val reading = Reading(state.units)
        val said = kept.getString(ShootKey.DISTANCE)
        val metres = if (said == null && state.lastM != null) state.lastM else reading.distance(ShootKey.DISTANCE, said.orEmpty())
        kept.putBoolean(ShootKey.UNREAD, metres == null)
        if (metres == null) {
            refresh()
            return
        }
        val shooter = kept.typed(ShootKey.SHOOTER, state.lastShooter).trim()
        goOn(Shot(bowId, state.surface, metres, shooter, state.counts, state.arrowsId).also(::keep))
    }

    /** The camera may outlive this process, so what was entered is kept as it was read. */
    private fun keep(shot: Shot) = kept.putBundle(ShootKey.SHOT, shot.asArgs(null))

    private fun takePhotograph() {
        val name = host.photos.fresh(host.nowMs())
        val address = host.photos.address(name)
        kept.putString(ShootKey.PENDING, name)
        val intent = Intent(MediaStore.ACTION_IMAGE_CAPTURE).putExtra(MediaStore.EXTRA_OUTPUT, address)
        intent.clipData = ClipData.newRawUri(null, address)
        intent.addFlags(Intent.FLAG_GRANT_WRITE_URI_PERMISSION or Intent.FLAG_GRANT_READ_URI_PERMISSION)
        host.photos.plumb.listen()
        host.call(intent, CAMERA)
    }

    private fun choosePicture() {
        val intent = Intent(Intent.ACTION_OPEN_DOCUMENT).addCategory(Intent.CATEGORY_OPENABLE).setType("image/jpeg")
        host.call(intent, PICTURE)
    }

    override fun onAnswer(code: Int, answer: Intent?) {
        if (code == CAMERA) taken(answer != null)
        val picture = answer?.data
        if (code == PICTURE && picture != null) take(picture)
    }

    private fun take(picture: Uri) {
        host.ask({ shop ->
            val name = host.photos.take(picture, host.nowMs())
            name to shop.isPhotoRecorded(host.photos.folder, bowId, name)
        }) { (name, known) -> if (known) askTwice(name) else measure(name, null) }
    }

    /** A picture that is on record already counts twice only where a person says so. */
    private fun askTwice(name: String) =
        host.confirm(Question(R.string.photo_known, R.string.photo_known_words, R.string.photo_known_yes)) { measure(name, null) }

    private fun taken(well: Boolean) {
        val felt = host.photos.plumb.rest()
        val name = kept.getString(ShootKey.PENDING) ?: return
        kept.remove(ShootKey.PENDING)
        if (!well) return host.photos.drop(name)
        host.ask({ Plumb.rollOf(felt, host.photos.file(name)) }) { measure(name, it) }
    }

    private fun measure(photo: String, roll: Double?) {
        val shot = kept.getBundle(ShootKey.SHOT) ?: return
        host.go(Route.PHOTO, Shot.of(shot).asArgs(photo).apply { if (roll != null) putDouble(Arg.ROLL, roll) })
    }

    private companion object {
        const val CAMERA = 1
        const val PICTURE = 2
    }
}

internal object ShootKey {
    const val SURFACE = "surface"
    const val DISTANCE = "distance"
    const val ARROWS = "arrows"
    const val SHOOTER = "shooter"
    const val UNREAD = "unread"
    const val PENDING = "pending"
    const val SHOT = "shot"
}
