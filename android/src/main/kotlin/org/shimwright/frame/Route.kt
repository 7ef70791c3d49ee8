package org.shimwright.frame

import android.os.Bundle
import org.shimwright.about.AboutScreen
import org.shimwright.about.LicencesScreen
import org.shimwright.about.WelcomeScreen
import org.shimwright.arrows.ArrowScreen
import org.shimwright.arrows.ArrowsScreen
import org.shimwright.bench.BenchScreen
import org.shimwright.bow.BowScreen
import org.shimwright.bow.ChangeScreen
import org.shimwright.bow.DetailsScreen
import org.shimwright.bow.FittedScreen
import org.shimwright.bow.RememberScreen
import org.shimwright.checks.CheckScreen
import org.shimwright.checks.ChecksScreen
import org.shimwright.history.HistoryScreen
import org.shimwright.keep.BackupScreen
import org.shimwright.keep.KeepScreen
import org.shimwright.keep.MergeScreen
import org.shimwright.keep.RescueScreen
import org.shimwright.keep.RescuedScreen
import org.shimwright.keep.RestoreScreen
import org.shimwright.keep.StorageScreen
import org.shimwright.keep.TakenScreen
import org.shimwright.kits.KitScreen
import org.shimwright.kits.KitsScreen
import org.shimwright.photo.PhotoScreen
import org.shimwright.rack.RackScreen
import org.shimwright.settings.SettingsScreen
import org.shimwright.share.ShareScreen
import org.shimwright.shoot.ShootScreen
import org.shimwright.shoot.TypedScreen
import org.shimwright.swap.SwapScreen
import org.shimwright.trial.CorrectScreen
import org.shimwright.trial.PictureScreen
import org.shimwright.trial.TrialScreen
import org.shimwright.verdict.VerdictScreen

/** Every screen there is. The names are written into saved state: rename none. */
enum class Route(val make: (Host, Bundle, Bundle) -> Screen<*>, val drafted: Drafted = Drafted.NOT) {
    RACK(::RackScreen),
    BOW(::BowScreen),
    DETAILS(::DetailsScreen, Drafted.FORM),
    FITTED(::FittedScreen, Drafted.FORM),
    CHECKS(::ChecksScreen),
    CHECK(::CheckScreen, Drafted.FORM),
    CHANGE(::ChangeScreen, Drafted.FORM),
    ARROWS(::ArrowsScreen),
    ARROW(::ArrowScreen, Drafted.FORM),
    SHOOT(::ShootScreen),
    PHOTO(::PhotoScreen, Drafted.WORK),
    TYPED(::TypedScreen, Drafted.WORK),
    VERDICT(::VerdictScreen),
    SWAP(::SwapScreen),
    HISTORY(::HistoryScreen),
    TRIAL(::TrialScreen),
    CORRECT(::CorrectScreen, Drafted.FORM),
    PICTURE(::PictureScreen),
    BENCH(::BenchScreen),
    KITS(::KitsScreen),
    KIT(::KitScreen, Drafted.FORM),
    SETTINGS(::SettingsScreen),
    ABOUT(::AboutScreen),
    LICENCES(::LicencesScreen),
    WELCOME(::WelcomeScreen),
    REMEMBER(::RememberScreen, Drafted.FORM),
    KEEP(::KeepScreen),
    BACKUP(::BackupScreen),
    RESTORE(::RestoreScreen),
    MERGE(::MergeScreen),
    TAKEN(::TakenScreen),
    STORAGE(::StorageScreen),
    RESCUE(::RescueScreen),
    RESCUED(::RescuedScreen),
    SHARE(::ShareScreen),
}
