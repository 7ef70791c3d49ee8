//! Reasons as short sentences.

use super::verdict::setup_check;
use super::{in_hundred, kind_name, probe, side, sideways};
use shimwright::evidence::Probe;
use shimwright::frame::Side;
use shimwright::verdict::Reason;
use shimwright::walkback::WalkBackMeaning;

/// One reason.
pub(crate) fn reason(reason: &Reason) -> String {
    shot(reason)
        .or_else(|| bow(reason))
        .or_else(|| worth(reason))
        .or_else(|| first(reason))
        .unwrap_or_else(|| doubt(reason))
}

/// What was shot.
fn shot(reason: &Reason) -> Option<String> {
    Some(match reason {
        Reason::NothingShot => "Nothing has been shot yet that can be used.".into(),
        Reason::TooFewArrows {
            kind,
            have,
            have_reference,
            need,
        } => format!(
            "{}: {have} shot, {have_reference} fletched to compare with; {need} of each are needed.",
            probe(*kind)
        ),
        Reason::NoReference { trial } => {
            format!("Trial {trial} has no fletched arrows to compare with.")
        }
        Reason::TrialWithoutFitting { trial } => {
            format!("Trial {trial} is left out: it is not known what was fitted.")
        }
        Reason::SplitIsReal {
            kind,
            x_mm,
            sd_mm,
            p,
        } => format!(
            "{}; chance alone would do that {}.",
            lands(*kind, *x_mm, *sd_mm),
            times(*p)
        ),
        Reason::SplitMayBeScatter {
            kind,
            x_mm,
            sd_mm,
            p,
        } => format!(
            "{}, which may be scatter: chance alone does that {}.",
            lands(*kind, *x_mm, *sd_mm),
            times(*p)
        ),
        Reason::WithinTolerance {
            kind,
            x_mm,
            tolerance_mm,
            chance,
        } => format!(
            "{} are expected {:.0} mm {}: {} to be inside {tolerance_mm:.0} mm. Stop here.",
            probe(*kind),
            x_mm.abs(),
            side(*x_mm),
            in_hundred(*chance)
        ),
        Reason::NotYetShot { kind } => format!(
            "{} have not been shot; a clean paper hole does not prove that they agree.",
            probe(*kind)
        ),
        Reason::PaperAlone => "Tears alone do not fix where bare shafts land.".into(),
        _ => return None,
    })
}

fn lands(kind: Probe, x_mm: f64, sd_mm: f64) -> String {
    let amount = sideways(x_mm, 2.0 * sd_mm);
    match kind {
        Probe::Paper => format!("Paper tears {amount} (nock end)"),
        Probe::Bare | Probe::Broadhead => format!("{} land {amount} of fletched", probe(kind)),
    }
}

/// A chance as a frequency.
pub(crate) fn times(p: f64) -> String {
    if p < 0.001 {
        "less than once in 1000 tries".into()
    } else if p < 0.5 {
        format!("about once in {:.0} tries", 1.0 / p)
    } else {
        "more often than not".into()
    }
}

/// How the bow answers.
fn bow(reason: &Reason) -> Option<String> {
    Some(match reason {
        Reason::NotYetSeenOnThisBow => "Direction and size are common practice, not yet seen on \
            this bow: one swap will show them."
            .into(),
        Reason::SeenOnThisBow { mm_per_mm, sd } => format!(
            "This bow has shown {mm_per_mm:.0} ± {:.0} mm of split at 20 yd per mm of cam shift.",
            2.0 * sd
        ),
        Reason::AnswersTheOtherWay { chance } => format!(
            "This bow answers the other way round than common practice says: {}.",
            in_hundred(*chance)
        ),
        Reason::DirectionOpen { wrong_way_chance } => format!(
            "Which way this bow answers is still open: {} that it is the other way round.",
            in_hundred(*wrong_way_chance)
        ),
        Reason::RestDirectionDisputed => {
            "Schools disagree which way the rest moves a split; this bow has not shown it.".into()
        }
        Reason::RestDirectionSeen { mm_per_mm, chance } => format!(
            "The rest moves this bow's split {:.0} mm {} per mm to the right ({} of the direction).",
            mm_per_mm.abs(),
            side(*mm_per_mm),
            in_hundred(*chance)
        ),
        Reason::CamDirectionDisputed => {
            "Schools disagree which way the cams move; most move them toward the tear.".into()
        }
        Reason::SpineLabelsDisputed => {
            "Weak and stiff flip between shooters and distances: no direction is drawn from them."
                .into()
        }
        _ => return None,
    })
}

/// What pays.
fn worth(reason: &Reason) -> Option<String> {
    Some(match reason {
        Reason::FittingPays {
            now_mm,
            after_mm,
            axles,
        } => format!(
            "Expected size of the split: {now_mm:.0} mm now, {after_mm:.0} mm after opening {axles} {}.",
            if *axles == 1 { "axle" } else { "axles" }
        ),
        Reason::NoFittingPays {
            saving_mm,
            price_mm,
        } => format!(
            "The best other fitting would save {saving_mm:.0} mm; its press job is counted as {price_mm:.0} mm."
        ),
        Reason::KitEnds { remaining_mm } => format!(
            "The kit ends before the split does: about {:.0} mm remain with its best fitting.",
            remaining_mm.abs()
        ),
        Reason::PrioritiesConflict {
            kind,
            x_mm,
            against,
            now_mm,
            there_mm,
        } => format!(
            "Another fitting would bring {} to {:.0} mm, but {} from {now_mm:.0} to {there_mm:.0} mm.",
            probe(*kind).to_lowercase(),
            x_mm.abs(),
            probe(*against).to_lowercase()
        ),
        Reason::PiecesNotAtHand { pair, after_mm } => {
            format!("Pair {pair} would leave {after_mm:.0} mm, but its pieces are not at hand.")
        }
        Reason::UnequalAxles { tilt_mm } => format!(
            "The axles would carry different seats: the cams stand {:.2} mm out of line.",
            tilt_mm.abs()
        ),
        Reason::MoreArrowsPay { saving_mm, arrows } => {
            format!("{arrows} more arrows are expected to save {saving_mm:.1} mm of split.")
        }
        _ => return None,
    })
}

/// What comes before spacers.
fn first(reason: &Reason) -> Option<String> {
    Some(match reason {
        Reason::CheckFirst { check, failed } => {
            let state = if *failed { "failed" } else { "open" };
            format!("A set-up check is {state}: {}.", setup_check(*check))
        }
        Reason::VerticalFirst { y_mm, sd_mm } => format!(
            "{:.0} mm {} ± {:.0} is left after gravity and drag: the nocking point comes first.",
            y_mm.abs(),
            height(*y_mm),
            2.0 * sd_mm
        ),
        Reason::VerticalExplained { kind, y_mm } => format!(
            "Gravity and drag alone put {} {:.0} mm {}: that is taken off.",
            probe(*kind).to_lowercase(),
            y_mm.abs(),
            height(*y_mm)
        ),
        Reason::ArrowApart { trial, kind, index } => format!(
            "{} arrow {} of trial {trial} stands apart from its group.",
            capital(kind_name(*kind)),
            index + 1
        ),
        Reason::ArrowHabit {
            arrow,
            kind,
            trials,
            x_mm,
            y_mm,
            p,
        } => format!(
            "{} arrow no. {arrow} keeps landing {:.0} mm {} and {:.0} mm {} of the others at 20 yd \
             ({trials} groups; chance alone would do that {}): check nock, vanes and straightness.",
            capital(kind_name(*kind)),
            x_mm.abs(),
            side(*x_mm),
            y_mm.abs(),
            height(*y_mm),
            times(*p)
        ),
        _ => return None,
    })
}

/// What does not fit together.
fn doubt(reason: &Reason) -> String {
    match reason {
        Reason::TearDisagrees { trial, sds } => format!(
            "The tears of trial {trial} do not follow the bare shafts ({sds:.1} standard deviations)."
        ),
        Reason::BareScatter { ratio } => {
            format!("Bare shafts scatter {ratio:.1} times as far as fletched ones.")
        }
        Reason::TrialDisagrees { trial, sds } => {
            format!("Trial {trial} disagrees with the others ({sds:.1} standard deviations).")
        }
        Reason::WalkBackShows {
            meaning,
            slant_mm_per_m,
            sd_mm_per_m,
            near_m,
            far_m,
        } => walk_back(*meaning, (*slant_mm_per_m, *sd_mm_per_m), (*near_m, *far_m)),
        Reason::OlderEpochs { trials } => format!(
            "{trials} older trials (before a change of parts) count only for how the bow answers."
        ),
        Reason::DistancesCombined { model_error } => format!(
            "Distances were combined with the flight model, {:.0} % allowed per doubling; never divided.",
            100.0 * model_error
        ),
        // Worded by the groups above; listed so that a new kind must be given words.
        Reason::NothingShot
        | Reason::TooFewArrows { .. }
        | Reason::NoReference { .. }
        | Reason::TrialWithoutFitting { .. }
        | Reason::SplitIsReal { .. }
        | Reason::SplitMayBeScatter { .. }
        | Reason::WithinTolerance { .. }
        | Reason::NotYetShot { .. }
        | Reason::PaperAlone
        | Reason::NotYetSeenOnThisBow
        | Reason::SeenOnThisBow { .. }
        | Reason::AnswersTheOtherWay { .. }
        | Reason::DirectionOpen { .. }
        | Reason::RestDirectionDisputed
        | Reason::RestDirectionSeen { .. }
        | Reason::CamDirectionDisputed
        | Reason::SpineLabelsDisputed
        | Reason::FittingPays { .. }
        | Reason::NoFittingPays { .. }
        | Reason::KitEnds { .. }
        | Reason::PrioritiesConflict { .. }
        | Reason::PiecesNotAtHand { .. }
        | Reason::UnequalAxles { .. }
        | Reason::MoreArrowsPay { .. }
        | Reason::CheckFirst { .. }
        | Reason::VerticalFirst { .. }
        | Reason::VerticalExplained { .. }
        | Reason::ArrowApart { .. }
        | Reason::ArrowHabit { .. } => String::new(),
    }
}

/// What fletched groups over several distances show.
fn walk_back(
    meaning: WalkBackMeaning,
    (slant_mm_per_m, sd_mm_per_m): (f64, f64),
    (near_m, far_m): (f64, f64),
) -> String {
    let (wandering, look) = wander(meaning);
    format!(
        "If every group was aimed at the same line, fletched arrows {wandering} from {near_m:.0} to {far_m:.0} m \
         ({:.1} ± {:.1} mm {} per m): {look}.",
        slant_mm_per_m.abs(),
        2.0 * sd_mm_per_m,
        side(slant_mm_per_m),
    )
}

/// How fletched groups wander with distance, and where to look.
fn wander(meaning: WalkBackMeaning) -> (String, &'static str) {
    let to = |side| match side {
        Side::Left => "left",
        Side::Right => "right",
    };
    match meaning {
        WalkBackMeaning::OnTheLine => ("stay on it".into(), "nothing to change"),
        WalkBackMeaning::Slant { far_side } => (
            format!("drift {}", to(far_side)),
            "look at rest, centre-shot and sight, not at the cams",
        ),
        WalkBackMeaning::Bend { far_side } => (
            format!("bend {}", to(far_side)),
            "look for contact, grip torque or wind",
        ),
        WalkBackMeaning::Beside { side } => (
            format!("stay {} of it", to(side)),
            "look at how it was hung and aimed at",
        ),
    }
}

fn height(y_mm: f64) -> &'static str {
    if y_mm < 0.0 { "low" } else { "high" }
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
