//! Reasons that say what does not fit together.

use super::{aside, counted, distance, height, out_in_height, probe, raised, side, taken_off};
use shimwright::frame::{Probe, Side};
use shimwright::verdict::Reason;
use shimwright::walkback::WalkBackMeaning;

/// What does not fit together.
pub(super) fn doubt(reason: &Reason) -> String {
    opposed(reason).unwrap_or_else(|| doubtful(reason))
}

/// Two probes that one fault does not move so.
fn opposed(reason: &Reason) -> Option<String> {
    Some(match reason {
        Reason::OppositeSigns { tear_mm, bare_mm } => format!(
            "A nock-{} tear of {:.0} mm and bare shafts {} hardly come of one fault: \
             contact with rest or vanes, or grip.",
            side(*tear_mm),
            tear_mm.abs(),
            aside(*bare_mm)
        ),
        Reason::OppositeHeights { tear_mm, bare_mm } => format!(
            "A nock-{} tear of {:.0} mm and bare shafts {:.0} mm {}, gravity and drag taken off: no one height of \
             the nocking point does both. Contact with rest or vanes does.",
            height(*tear_mm),
            tear_mm.abs(),
            bare_mm.abs(),
            height(*bare_mm)
        ),
        Reason::HeadsApart { heads_mm, bare_mm } => format!(
            "Broadheads land {} and bare shafts {}: no single fault of the bow does \
             both. Spin-test the heads, look for vanes that touch, and shoot both again.",
            aside(*heads_mm),
            aside(*bare_mm)
        ),
        Reason::HeadsMovedApart { heads_mm, bare_mm } => format!(
            "The last move took broadheads {} and bare shafts {}: no single fault of the bow \
             does both.",
            aside(*heads_mm),
            aside(*bare_mm)
        ),
        Reason::HeadsOffHeight { y_mm } => format!(
            "Broadheads land {:.0} mm {} than gravity and drag explain, and bare shafts do not. Weigh \
             and spin-test the heads, look for vanes that touch, and shoot both again.",
            y_mm.abs(),
            if *y_mm < 0.0 { "lower" } else { "higher" }
        ),
        _ => return None,
    })
}

/// Rounds that went one way while nothing was changed.
fn crept(kind: Probe, rounds: u32, in_height: bool, ends_mm: [f64; 2]) -> String {
    let (ends, without, why) = if in_height {
        let why = "a nocking point slips, cam timing goes. Look at both";
        (ends_mm.map(raised), taken_off(Some(kind)), why)
    } else {
        let why = "a string creeps, a screw works loose. Look at cam timing and the rest";
        (ends_mm.map(aside), "", why)
    };
    let [from, to] = ends;
    format!(
        "{} went from {from} to {to} in {rounds} rounds with nothing changed{without}: {why}; only the newest rounds count.",
        probe(kind)
    )
}

/// The rest of what does not fit.
fn doubtful(reason: &Reason) -> String {
    match reason {
        Reason::HeightStays { kind, y_mm, sd_mm } => format!(
            "{} ± {:.0}{}. The nocking point was moved for that, and hardly changes it.",
            out_in_height(Some(*kind), *y_mm),
            2.0 * sd_mm,
            taken_off(Some(*kind))
        ),
        Reason::ShootersDiffer {
            kind,
            x_mm,
            plus_minus_mm,
            distance_m,
        } => shooters(*kind, *distance_m, *x_mm, *plus_minus_mm),
        Reason::Crept {
            kind,
            rounds,
            in_height,
            from_mm,
            to_mm,
        } => crept(*kind, *rounds, *in_height, [*from_mm, *to_mm]),
        Reason::BareScatter { ratio } => {
            format!("Bare shafts scatter {ratio:.1} times as far as fletched ones.")
        }
        Reason::HeadsScatter { ratio } => format!(
            "Broadheads scatter {ratio:.1} times as far as field points: spin-test every head, and look for vanes that touch."
        ),
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
            "{} from before a change of parts: only for how the bow answers.",
            counted(*trials, "older trial")
        ),
        Reason::DistancesCombined { model_error } => format!(
            "Distances were combined with the flight model, {:.0} % allowed per doubling.",
            100.0 * model_error
        ),
        // Worded by the groups above; listed so that a new kind must be given words.
        Reason::OppositeSigns { .. }
        | Reason::OppositeHeights { .. }
        | Reason::HeadsApart { .. }
        | Reason::HeadsMovedApart { .. }
        | Reason::HeadsOffHeight { .. }
        | Reason::NothingShot
        | Reason::TooFewArrows { .. }
        | Reason::NoReference { .. }
        | Reason::TrialWithoutFitting { .. }
        | Reason::TrialOutvoted { .. }
        | Reason::SplitIsReal { .. }
        | Reason::SplitMayBeScatter { .. }
        | Reason::WithinTolerance { .. }
        | Reason::NotYetShot { .. }
        | Reason::NotShotSince { .. }
        | Reason::FirstIsIn { .. }
        | Reason::PaperAlone
        | Reason::NotYetSeenOnThisBow
        | Reason::SeenOnThisBow { .. }
        | Reason::AnswersTheOtherWay { .. }
        | Reason::DirectionOpen { .. }
        | Reason::RestDirectionDisputed
        | Reason::RestDirectionSeen { .. }
        | Reason::FamilyKnown { .. }
        | Reason::SwapRemembered
        | Reason::SpineLabelsDisputed
        | Reason::StepPays { .. }
        | Reason::TearsTeach
        | Reason::RestBeforePress
        | Reason::PutBack
        | Reason::NothingPays { .. }
        | Reason::LookNext { .. }
        | Reason::MayBeInside { .. }
        | Reason::KitEnds { .. }
        | Reason::StepsCoarse { .. }
        | Reason::PiecesNotAtHand { .. }
        | Reason::UnequalAxles { .. }
        | Reason::MoreArrowsPay { .. }
        | Reason::CamsApart { .. }
        | Reason::SwapMadeItWorse { .. }
        | Reason::HeadsAlone
        | Reason::CheckFirst { .. }
        | Reason::VerticalFirst { .. }
        | Reason::VerticalExplained { .. }
        | Reason::ArrowApart { .. }
        | Reason::ArrowHabit { .. } => String::new(),
    }
}

fn shooters(kind: Probe, distance_m: f64, x_mm: f64, plus_minus_mm: f64) -> String {
    format!(
        "Not everybody shoots this bow alike. {} at {}: the one who shot last is {:.0} ± {plus_minus_mm:.0} mm {} of \
         another. The split shown is the last one's.",
        probe(kind),
        distance(distance_m),
        x_mm.abs(),
        side(x_mm)
    )
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
