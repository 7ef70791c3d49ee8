//! What to do next, in a sentence a person would say.

use super::{distance, kind_name, side_name};
use shimwright::spacer::{Fitting, Seat};
use shimwright::verdict::{Adjustment, Call, CheckItem, Trim};

/// The verdict's first sentence.
pub(crate) fn call(call: &Call) -> String {
    match call {
        Call::Fit { fitting: to } => format!("Fit {}.", fitting(to)),
        Call::Keep { rest, nock } => keep(rest.as_ref(), nock.as_ref()),
        Call::ShootMore {
            bare,
            fletched,
            broadhead,
            paper,
            distance_m,
        } => shoot_more([*fletched, *bare, *broadhead, *paper], *distance_m),
        Call::AdjustFirst { what } => adjust(what),
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

fn keep(rest: Option<&Trim>, nock: Option<&Trim>) -> String {
    let stay = "Leave the spacers as they are.".to_owned();
    let rest = rest.map(|trim| {
        format!(
            "Move the rest {:.1} mm {} (± {:.1}).",
            trim.move_mm.abs(),
            super::side(trim.move_mm),
            2.0 * trim.sd_mm
        )
    });
    let nock = nock.map(|trim| format!("Move the nocking point {}.", nock_move(trim)));
    let all: Vec<String> = std::iter::once(stay).chain(rest).chain(nock).collect();
    all.join(" ")
}

fn nock_move(trim: &Trim) -> String {
    let way = if trim.move_mm < 0.0 { "down" } else { "up" };
    format!(
        "{:.1} mm {way} (± {:.1})",
        trim.move_mm.abs(),
        2.0 * trim.sd_mm
    )
}

fn shoot_more([fletched, bare, broadhead, paper]: [u32; 4], distance_m: f64) -> String {
    let wanted = [
        (fletched, "fletched arrow", "fletched arrows"),
        (bare, "bare shaft", "bare shafts"),
        (broadhead, "broadhead", "broadheads"),
        (
            paper,
            "fletched arrow through paper",
            "fletched arrows through paper",
        ),
    ];
    let each: Vec<String> = wanted
        .into_iter()
        .filter(|(count, ..)| *count > 0)
        .map(|(count, one, many)| format!("{count} {}", if count == 1 { one } else { many }))
        .collect();
    format!(
        "Shoot {} more at {}.",
        each.join(" and "),
        distance(distance_m)
    )
}

fn adjust(what: &Adjustment) -> String {
    match what {
        Adjustment::FailedCheck { check } => {
            format!(
                "Put this right before touching spacers: {}.",
                setup_check(*check)
            )
        }
        Adjustment::OpenCheck { check } => {
            format!(
                "Look at this before touching spacers: {}.",
                setup_check(*check)
            )
        }
        Adjustment::NockingPoint { y_mm, sd_mm, trim } => {
            let place = if *y_mm < 0.0 { "low" } else { "high" };
            let next = trim.as_ref().map_or_else(
                || "move it a little and shoot again".to_owned(),
                |trim| format!("move it {}", nock_move(trim)),
            );
            format!(
                "Set the nocking point first: {:.0} mm {place} ± {:.0} is left after gravity and drag; {next}.",
                y_mm.abs(),
                2.0 * sd_mm
            )
        }
        Adjustment::Arrow {
            trial,
            kind,
            index,
            arrow,
        } => {
            let which = arrow.map_or_else(
                || format!("{} arrow {} of trial {trial}", kind_name(*kind), index + 1),
                |number| format!("{} arrow number {number} (trial {trial})", kind_name(*kind)),
            );
            format!(
                "Look at one arrow first: {which} stands apart. Check it, or leave it out and say why."
            )
        }
        Adjustment::Clearance { trial } => format!(
            "Look for contact first: the tears of trial {trial} and the bare shafts disagree."
        ),
        Adjustment::Spine { ratio } => format!(
            "Look at shafts and nocks first: bare shafts scatter {ratio:.1} times as far as fletched ones."
        ),
        Adjustment::Contradiction { trial } => format!(
            "Trial {trial} contradicts the others: something moved, or its fitting was noted wrongly."
        ),
    }
}

/// A set-up check as a thing to be true.
pub(crate) fn setup_check(check: CheckItem) -> &'static str {
    match check {
        CheckItem::LimbDamage => "limbs and cams without damage",
        CheckItem::StringAndCables => "string and cables without frayed strands",
        CheckItem::AxleToAxle => "axle-to-axle distance as the bow maker states",
        CheckItem::BraceHeight => "brace height as the bow maker states",
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
