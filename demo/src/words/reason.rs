//! Reasons as short sentences.

use super::doubt::doubt;
use super::verdict::{measured_name, setup_check};
use super::{
    aside, counted, distance, height, in_hundred, kind_name, out_in_height, probe, side, sideways,
    taken_off,
};
use shimwright::evidence::Probe;
use shimwright::verdict::{CheckItem, Direction, MeasuredUnit, NextLook, OutOfRange, Reason};

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
            kind: Probe::Paper,
            have,
            need,
            ..
        } => format!("Paper tears: {have} so far; {need} are needed."),
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
        Reason::TrialOutvoted { trial } => format!(
            "Trial {trial} is not counted: what was shot more than once shows something else."
        ),
        Reason::SplitIsReal {
            kind,
            x_mm,
            plus_minus_mm,
            p,
            distance_m,
            ..
        } => format!(
            "{}; chance alone would do that {}.",
            lands(*kind, *distance_m, *x_mm, *plus_minus_mm),
            times(*p)
        ),
        Reason::SplitMayBeScatter {
            kind,
            x_mm,
            plus_minus_mm,
            p,
            distance_m,
            ..
        } => format!(
            "{}, which may be scatter: chance alone does that {}.",
            lands(*kind, *distance_m, *x_mm, *plus_minus_mm),
            times(*p)
        ),
        Reason::WithinTolerance {
            kind,
            x_mm,
            tolerance_mm,
            chance,
        } => format!(
            "{} are expected {:.0} mm {}: {} to be inside {tolerance_mm:.0} mm.",
            probe(*kind),
            x_mm.abs(),
            side(*x_mm),
            in_hundred(*chance)
        ),
        Reason::NotYetShot { kind } => format!("{} have not been shot yet.", probe(*kind)),
        Reason::FirstIsIn { first, other } => format!(
            "{} are in, and were asked for first; no step that is left brings {} in as well.",
            probe(*first),
            probe(*other).to_lowercase()
        ),
        Reason::NotShotSince { kind } => format!(
            "{} were shot before the last move and not since: where it took them is only expected.",
            probe(*kind)
        ),
        Reason::PaperAlone => "Tears alone do not fix where bare shafts land.".into(),
        _ => return None,
    })
}

fn lands(kind: Probe, distance_m: Option<f64>, x_mm: f64, plus_minus_mm: f64) -> String {
    let amount = if plus_minus_mm > 0.0 {
        sideways(x_mm, plus_minus_mm)
    } else {
        aside(x_mm)
    };
    let shot_at = distance_m.map_or_else(String::new, |at| format!(" at {}", distance(at)));
    match kind {
        Probe::Paper => format!("{}{shot_at}", super::tear(x_mm)),
        Probe::Bare | Probe::Broadhead => {
            format!("{}{shot_at} land {amount} of field points", probe(kind))
        }
    }
}

/// A chance as a frequency.
fn times(p: f64) -> String {
    if p < 0.001 {
        "less than once in 1000 tries".into()
    } else if p < 0.5 {
        format!("about once in {:.0} tries", two_digits(1.0 / p))
    } else {
        "more often than not".into()
    }
}

/// A count to two digits: no chance is known better.
fn two_digits(count: f64) -> f64 {
    let step = 10_f64.powf(count.log10().floor() - 1.0).max(1.0);
    (count / step).round() * step
}

/// How the bow answers.
fn bow(reason: &Reason) -> Option<String> {
    Some(match reason {
        Reason::NotYetSeenOnThisBow => "Response not measured yet: direction and size are common \
            practice, one swap on this bow shows them."
            .into(),
        Reason::SeenOnThisBow { least, most, .. } => format!(
            "This bow has shown between {least:.0} and {most:.0} mm of split at 20 yd per mm of cam shift, four times in five."
        ),
        Reason::AnswersTheOtherWay { chance } => format!(
            "This bow responds opposite to common practice: {}.",
            in_hundred(*chance)
        ),
        Reason::DirectionOpen { wrong_way_chance } => format!(
            "Which way this bow responds is still open: {} for opposite.",
            in_hundred(*wrong_way_chance)
        ),
        Reason::RestDirectionDisputed => {
            "Schools disagree which way the rest moves a split; this bow has not shown it.".into()
        }
        Reason::RestDirectionSeen { mm_per_mm, chance } => format!(
            "A millimetre of rest to the right takes this bow's split {:.0} mm {}: {} for that way.",
            mm_per_mm.abs(),
            side(*mm_per_mm),
            in_hundred(*chance)
        ),
        Reason::FamilyKnown { relatives } => {
            let bows = counted(*relatives, "other bow");
            format!("What was shown by {bows} of its family counts for this one.")
        }
        Reason::SwapRemembered => "A swap from memory counts, as far as it is sure.".into(),
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
        Reason::StepPays {
            now,
            after,
            minutes,
        } => format!(
            "As it is: {} inside tolerance; after: {}. About {minutes:.0} minutes.",
            in_hundred(*now),
            in_hundred(*after)
        ),
        Reason::TearsTeach => "Three tears in the same paper before and after, beside the faces, \
            teach most."
            .into(),
        Reason::RestBeforePress => "The rest is moved in minutes and can be put back: it goes \
            before the press."
            .into(),
        Reason::PutBack => "It stood no worse before.".into(),
        Reason::NothingPays {
            kind,
            best_mm,
            chance,
        } => {
            let best = format!(
                "the best that is left is {}, {} inside tolerance: not worth its work.",
                aside(*best_mm),
                in_hundred(*chance)
            );
            kind.map_or_else(|| capital(&best), |kind| format!("{}: {best}", probe(kind)))
        }
        Reason::LookNext { look } => look_next(*look).into(),
        Reason::MayBeInside { chance } => format!(
            "It may be inside tolerance already: {}.",
            in_hundred(*chance)
        ),
        Reason::KitEnds { remaining_mm } => format!(
            "The kit ends before the split does: about {:.0} mm remain with its best fitting.",
            remaining_mm.abs()
        ),
        Reason::StepsCoarse { left_mm, right_mm } => format!(
            "The kit's steps are too coarse here: the nearest fittings leave {} and {}.",
            aside(*left_mm),
            aside(*right_mm)
        ),
        Reason::PiecesNotAtHand { pair, after_mm } => {
            format!("Pair {pair} would leave {after_mm:.0} mm, but its pieces are not at hand.")
        }
        Reason::UnequalAxles { tilt_mm } => format!(
            "The axles would carry different seats: the cams stand {:.2} mm out of line.",
            tilt_mm.abs()
        ),
        Reason::MoreArrowsPay { saving_mm, arrows } => {
            let more = counted(*arrows, "more arrow");
            format!(
                "With {more} {saving_mm:.0} mm are expected to be saved, split and work together."
            )
        }
        _ => return None,
    })
}

/// A measured check outside what the bow maker states.
fn outside(check: CheckItem, found: &OutOfRange) -> String {
    let unit = match found.unit {
        MeasuredUnit::Millimetre => "mm",
        MeasuredUnit::Newton => "N",
    };
    let decimals = decimals_that_tell(found);
    let stated = match (found.low, found.high) {
        (Some(low), Some(high)) => format!("{low:.decimals$} to {high:.decimals$} {unit}"),
        (Some(low), None) => format!("at least {low:.decimals$} {unit}"),
        (None, Some(high)) => format!("at most {high:.decimals$} {unit}"),
        (None, None) => "another figure".into(),
    };
    format!(
        "{}: {:.decimals$} {unit} was measured; the bow maker states {stated}.",
        measured_name(check),
        found.measured
    )
}

/// As many decimals as tell what was measured from what it is outside of; three are as fine as anything is entered.
fn decimals_that_tell(found: &OutOfRange) -> usize {
    let bounds = [found.low, found.high];
    let told = |decimals: &usize| {
        let shown = |value: f64| format!("{value:.decimals$}", decimals = *decimals);
        let mut bounds = bounds.iter().flatten();
        bounds.all(|bound| shown(*bound) != shown(found.measured))
    };
    (1..3).find(told).unwrap_or(3)
}

/// Where to look when spacers cannot do it.
fn look_next(look: NextLook) -> &'static str {
    match look {
        NextLook::Heads => "Spin-test the broadheads, and look whether vanes touch.",
        NextLook::CentreShot => {
            "Look at centre shot: how far the rest stands from where the bow maker sets it."
        }
        NextLook::CableOrYoke => "Look at cable or yoke twists, and cam lean with them.",
        NextLook::Timing => "Look at cam timing.",
        NextLook::Spine => "Look at spine and nock fit.",
        NextLook::Grip => "Look at grip and anchor.",
        NextLook::AnotherKit => "Another kit may reach farther.",
    }
}

/// What comes before spacers.
fn first(reason: &Reason) -> Option<String> {
    Some(match reason {
        Reason::CheckFirst {
            check,
            found: Some(found),
            ..
        } => outside(*check, found),
        Reason::CheckFirst { check, failed, .. } => {
            let state = if *failed { "has failed" } else { "is open" };
            format!("A set-up check {state}: {}.", setup_check(*check))
        }
        Reason::VerticalFirst {
            kind,
            y_mm,
            sd_mm,
            direction,
        } => format!(
            "{} ± {:.0}{}: nocking point {}.",
            out_in_height(*kind, *y_mm),
            2.0 * sd_mm,
            taken_off(*kind),
            match direction {
                Direction::Up => "up",
                Direction::Down => "down",
            }
        ),
        Reason::CamsApart { tilt_mm, limit_mm } => format!(
            "The cams stand {:.2} mm apart; {limit_mm:.2} is the limit.",
            tilt_mm.abs()
        ),
        Reason::SwapMadeItWorse {
            before_mm,
            after_mm,
        } => format!(
            "The last swap took it from {:.0} mm {} to {:.0} mm {}.",
            before_mm.abs(),
            side(*before_mm),
            after_mm.abs(),
            side(*after_mm)
        ),
        Reason::HeadsAlone => "Broadheads alone do not tell the bow from its heads: spin-test \
            them, and shoot bare shafts."
            .into(),
        Reason::VerticalExplained {
            kind,
            y_mm,
            left_mm,
        } => {
            let left = left_mm.map_or_else(String::new, |left_mm| {
                format!(", {:.0} mm {} is left", left_mm.abs(), height(left_mm))
            });
            format!(
                "Gravity and drag alone put {} {:.0} mm {}: that is taken off{left}.",
                probe(*kind).to_lowercase(),
                y_mm.abs(),
                height(*y_mm)
            )
        }
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
             ({}; chance alone would do that {}): check nock, vanes and straightness.",
            capital(kind_name(*kind)),
            x_mm.abs(),
            side(*x_mm),
            y_mm.abs(),
            height(*y_mm),
            counted(*trials, "group"),
            times(*p)
        ),
        _ => return None,
    })
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
