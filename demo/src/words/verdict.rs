//! What to do next, in a sentence a person would say.

use super::{distance, kind_name, out_in_height, probe, side_name, taken_off};
use shimwright::evidence::Probe;
use shimwright::spacer::{Fitting, Seat};
use shimwright::verdict::{
    Adjustment, Arrows, Call, CheckItem, Direction, Ending, Knob, Trim, Verdict,
};

/// The verdict's first sentence.
pub(crate) fn answer(verdict: &Verdict) -> String {
    match verdict.ending() {
        Some(end) => ending(&end),
        None => call(&verdict.call),
    }
}

fn ending(end: &Ending) -> String {
    match end {
        Ending::FirstIn { first } => {
            format!("{} come first and are in: leave it here.", probe(*first))
        }
        Ending::LikelyIn => "Leave it here: it is more likely inside tolerance than not.".into(),
        Ending::HeightStays => {
            "The height stays, and the nocking point does not cure it: look elsewhere.".into()
        }
        Ending::HeadsApart => {
            "The broadheads keep apart from the bare shafts: look at the heads, not at the bow.".into()
        }
        Ending::PiecesMissing { pair } => {
            format!("Not with the pieces at hand: another set of pair {pair} is needed.")
        }
        Ending::TooWide => {
            "Groups too wide for this tolerance: a split cannot be told from scatter. Grip and form first.".into()
        }
        Ending::Beyond => call(&Call::SpacersCannot),
    }
}

/// One step, in a sentence.
pub(crate) fn call(call: &Call) -> String {
    match call {
        Call::AdjustFirst { what } => adjust(what),
        Call::Stop => "Stop here: the bow is inside tolerance.".into(),
        Call::Trim {
            knob,
            trim,
            put_back,
            arrows,
        } => moved(*knob, trim, *put_back, arrows),
        Call::Fit {
            fitting: to,
            experiment: true,
        } => format!("Fit {}, as an experiment.", fitting(to)),
        Call::Fit { fitting: to, .. } => format!("Fit {}.", fitting(to)),
        Call::ShootMore { arrows } => format!(
            "Shoot {} at {}.",
            listed(arrows),
            distance(arrows.distance_m)
        ),
        Call::SpacersCannot => "Spacers cannot cure this: look elsewhere.".into(),
    }
}

/// "pair C, thick side right, on both axles".
pub(crate) fn fitting(fitting: &Fitting) -> String {
    let seat = |seat: &Seat| format!("pair {}, thick side {}", seat.pair, side_name(seat.thick));
    if fitting.top == fitting.bottom {
        format!("{}, on both axles", seat(&fitting.top))
    } else {
        format!(
            "{}, on the top axle; {}, on the bottom axle",
            seat(&fitting.top),
            seat(&fitting.bottom)
        )
    }
}

/// "Move the rest 0.8 mm left, shoot three and three, put it back if worse."
fn moved(knob: Knob, trim: &Trim, put_back: bool, arrows: &Arrows) -> String {
    let then = format!("{} at {}", listed(arrows), distance(arrows.distance_m));
    let amount = trim.move_mm.abs();
    let way = match knob {
        Knob::Rest => super::side(trim.move_mm),
        Knob::Nock if trim.move_mm < 0.0 => "down",
        Knob::Nock => "up",
    };
    match (knob, put_back) {
        (Knob::Rest, true) => format!("Put the rest back, {amount:.1} mm {way}, and shoot {then}."),
        (Knob::Rest, false) => format!(
            "Move the rest {amount:.1} mm {way} and shoot {then}; put it back if that is worse."
        ),
        (Knob::Nock, _) => format!("Move the nocking point {amount:.1} mm {way} and shoot {then}."),
    }
}

/// "3 fletched arrows and 3 bare shafts".
fn listed(arrows: &Arrows) -> String {
    let wanted = [
        (arrows.fletched, "fletched arrow", "fletched arrows"),
        (arrows.bare, "bare shaft", "bare shafts"),
        (arrows.broadhead, "broadhead", "broadheads"),
        (
            arrows.paper,
            "fletched arrow through paper",
            "fletched arrows through paper",
        ),
    ];
    let each: Vec<String> = wanted
        .into_iter()
        .filter(|(count, ..)| *count > 0)
        .map(|(count, one, many)| format!("{count} {}", if count == 1 { one } else { many }))
        .collect();
    each.join(" and ")
}

fn adjust(what: &Adjustment) -> String {
    match what {
        Adjustment::Check {
            check,
            failed: true,
            ..
        } => format!("Put this right first: {}.", setup_check(*check)),
        Adjustment::Check { check, .. } => format!("Look at this first: {}.", setup_check(*check)),
        Adjustment::CamsApart { .. } => {
            "Bring the cams of both axles in line first: fit one axle as the other is, the same pair the same way round."
                .into()
        }
        Adjustment::Vertical {
            probe,
            y_mm,
            direction,
            trim,
            seen_on_this_bow,
            ..
        } => {
            let out = format!("{}{}", out_in_height(*probe, *y_mm), taken_off(*probe));
            vertical(&out, *direction, trim, *seen_on_this_bow)
        }
        Adjustment::Arrow {
            trial,
            arrow_kind,
            index,
            arrow,
            keeps,
        } => {
            let kind = kind_name(*arrow_kind);
            let which = arrow.map_or_else(
                || format!("{kind} arrow {} of trial {trial}", index + 1),
                |number| format!("{kind} arrow number {number} (trial {trial})"),
            );
            if *keeps {
                format!(
                    "Lay {which} aside: it keeps landing apart. Leave it out of its trials, and shoot another in its place."
                )
            } else {
                format!("Shoot that one again: {which} stands apart. Or leave it out, and say why.")
            }
        }
        Adjustment::ConfirmSwap { arrows, .. } => format!(
            "Confirm the swap first: the right pieces, the right way round, every string in its track; then shoot {} at {}.",
            listed(arrows),
            distance(arrows.distance_m)
        ),
        Adjustment::Contact {
            in_height: true, ..
        } => "Look for contact first: paper and bare shafts do not show the same height.".into(),
        Adjustment::Contact { .. } => {
            "Look for contact or grip first: paper and bare shafts do not show the same fault."
                .into()
        }
        Adjustment::Spine { ratio } => format!(
            "Look at shafts and nocks first: bare shafts scatter {ratio:.1} times as far as fletched ones."
        ),
        Adjustment::Contradiction {
            trial,
            probe: Some(Probe::Broadhead),
        } => format!(
            "Look at the broadheads first: those of trial {trial} do not land where the other arrows let one \
             expect. Spin-test every head, look for vanes that touch, and shoot them again."
        ),
        Adjustment::Contradiction { trial, .. } => format!(
            "Trial {trial} contradicts the others: something moved, an arrow or a head is not true, or its \
             fitting was noted wrongly. Look, and shoot it again."
        ),
    }
}

fn vertical(out: &str, direction: Direction, trim: &Trim, seen: bool) -> String {
    let way = match direction {
        Direction::Up => "up",
        Direction::Down => "down",
    };
    let so_much = if seen { "by" } else { "by about" };
    format!(
        "Height first. {out}. Nocking point {way} {so_much} {:.1} mm, then shoot again.",
        trim.move_mm.abs()
    )
}

/// What was measured, by its short name.
pub(crate) fn measured_name(check: CheckItem) -> &'static str {
    match check {
        CheckItem::AxleToAxle => "Axle to axle",
        CheckItem::BraceHeight => "Brace height",
        CheckItem::LimbBoltsEven => "Draw weight",
        CheckItem::CamTiming => "Cam timing",
        CheckItem::CamLean => "Cam lean",
        CheckItem::CentreShot => "Centre shot",
        CheckItem::NockingPoint => "Nocking point",
        other => setup_check(other),
    }
}

/// A set-up check as a thing to be true.
pub(crate) fn setup_check(check: CheckItem) -> &'static str {
    match check {
        CheckItem::LimbDamage => "limbs and cams without damage",
        CheckItem::StringAndCables => "string and cables without frayed strands",
        CheckItem::AxleToAxle => "axle to axle within what the bow maker states",
        CheckItem::BraceHeight => "brace height within what the bow maker states",
        CheckItem::LimbBoltsEven => "both limb bolts turned alike, within the maker's limit",
        CheckItem::CamTiming => "cams reach their stops together",
        CheckItem::CamLean => "cam lean as intended at rest and at full draw",
        CheckItem::RestSound => "rest tight, dropping in time, touching nothing",
        CheckItem::CentreShot => "centre shot over the rest's hole, on the line of the string",
        CheckItem::NockingPoint => "nocking point near level, loop tight",
        CheckItem::ArrowSpine => "shafts straight and of one spine that suits the bow",
        CheckItem::PeepTrue => "the peep turns true at full draw",
        CheckItem::NockFit => "nocks fit the string alike",
        CheckItem::VaneClearance => "neither cables nor rest touch the vanes",
        CheckItem::BroadheadsTrue => "broadheads mounted true and of the field points' mass",
        CheckItem::ShooterSettled => "grip, anchor and draw length settled",
        CheckItem::SightSet => "the sight set to where field points land now",
    }
}
