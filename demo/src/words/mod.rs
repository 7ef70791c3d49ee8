//! The English wording of everything the core says in message kinds: the core speaks in kinds with
//! values, every shell has words of its own.

mod doubt;
mod reason;
mod sheet;
mod swap;
mod verdict;

pub(crate) use reason::reason;
pub(crate) use sheet::sheet;
pub(crate) use swap::{cam_move, caution, step};
pub(crate) use verdict::{answer, call, fitting, setup_check};

use shimwright::evidence::Probe;
use shimwright::frame::{ArrowKind, Side};
use shimwright::record::FittingReason;
use shimwright::scene::{LabelText, Word};
use shimwright::spacer::{Fitting, Seat};
use shimwright::units::M_PER_YARD;
use shimwright::workshop::Waits;

/// The text of a drawing's label.
pub(crate) fn label(text: &LabelText) -> String {
    match text {
        LabelText::Fixed { word } => fixed(*word).into(),
        LabelText::Kind { kind } => kind_name(*kind).into(),
        LabelText::Own { text } => text.clone(),
        LabelText::SpacerPair { name } => format!("pair {name}"),
        LabelText::Thickness { thickness_mm } => format!("{thickness_mm:.2} mm"),
        LabelText::Length { length_mm } => format!("{length_mm:.0} mm"),
        LabelText::CamMove { shift_mm } => {
            format!(
                "cam moves {:.2} mm to the {}",
                shift_mm.abs(),
                side(*shift_mm)
            )
        }
        LabelText::Sideways {
            x_mm,
            plus_minus_mm,
        } => sideways(*x_mm, *plus_minus_mm),
        LabelText::Height {
            y_mm,
            plus_minus_mm,
        } => upright(*y_mm, *plus_minus_mm),
        LabelText::Offset {
            x_mm,
            y_mm,
            plus_minus_mm,
        } => format!("{} ± {plus_minus_mm:.0}", offset(*x_mm, *y_mm)),
        LabelText::Fitted { fitting } => fitted_short(fitting),
        LabelText::AxisValue { value_mm } => format!("{value_mm:.0}").replace('-', "\u{2212}"),
        LabelText::Day { at_ms } => day(*at_ms),
        LabelText::Number { number } => number.to_string(),
    }
}

/// "left" or "right" of a signed sideways amount.
pub(crate) fn side(x_mm: f64) -> &'static str {
    if x_mm < 0.0 { "left" } else { "right" }
}

/// An amount up or down with its uncertainty: "3 mm high ± 1".
fn upright(y_mm: f64, plus_minus_mm: f64) -> String {
    format!("{} ± {plus_minus_mm:.0}", raised(y_mm))
}

/// A difference on face or paper: "12 mm left, 3 mm high".
pub(crate) fn offset(x_mm: f64, y_mm: f64) -> String {
    let height = if y_mm < 0.0 { "low" } else { "high" };
    format!(
        "{:.0} mm {}, {:.0} mm {height}",
        x_mm.abs(),
        side(x_mm),
        y_mm.abs()
    )
}

/// "C, thick right" or "top A right, bottom C left".
pub(crate) fn fitted_short(fitting: &Fitting) -> String {
    let thick = |seat: &Seat| side_name(seat.thick);
    if fitting.top == fitting.bottom {
        return format!("{}, thick {}", fitting.top.pair, thick(&fitting.top));
    }
    format!(
        "top {} {}, bottom {} {}",
        fitting.top.pair,
        thick(&fitting.top),
        fitting.bottom.pair,
        thick(&fitting.bottom)
    )
}

pub(crate) fn side_name(side: Side) -> &'static str {
    match side {
        Side::Left => "left",
        Side::Right => "right",
    }
}

/// So many of a thing whose plural ends in s.
pub(crate) fn counted(count: u32, thing: &str) -> String {
    format!("{count} {thing}{}", if count == 1 { "" } else { "s" })
}

/// A distance the way it is paced off: whole yards as yards, everything else in metres.
pub(crate) fn distance(distance_m: f64) -> String {
    let yards = distance_m / M_PER_YARD;
    if (yards - yards.round()).abs() < 1e-3 {
        format!("{yards:.0} yd")
    } else {
        format!("{distance_m:.1} m")
    }
}

/// A chance as shooters say it: "79 in 100".
pub(crate) fn in_hundred(chance: f64) -> String {
    match chance * 100.0 {
        none if none < 0.5 => "under 1 in 100".into(),
        sure if sure >= 99.5 => "over 99 in 100".into(),
        some => format!("{some:.0} in 100"),
    }
}

/// Why a fitting is in the record.
pub(crate) fn why(reason: FittingReason) -> &'static str {
    match reason {
        FittingReason::TakenIn => "found in it when it was taken in",
        FittingReason::Verdict => "a verdict asked for it",
        FittingReason::OwnChoice => "the technician chose it",
        FittingReason::PutBack => "an earlier fitting was put back",
        FittingReason::FoundInside => "found inside during a swap",
    }
}

/// What a bow waits for.
pub(crate) fn waits(waits: &Waits) -> String {
    match waits {
        Waits::SwapHalfDone { confirmed, steps } => {
            format!("swap half done, {confirmed} of {steps} steps")
        }
        Waits::FailedCheck { .. } => "a set-up check has failed".into(),
        Waits::Kit => "choose its kit".into(),
        Waits::Fitting => "say what is fitted".into(),
        Waits::Trial => "shoot it with what is fitted".into(),
        Waits::Verdict => "ask for the verdict".into(),
        Waits::Arrows {
            bare,
            fletched,
            broadhead,
            paper,
        } => format!("needs {} more arrows", bare + fletched + broadhead + paper),
        Waits::Swap => "waits for its swap".into(),
        Waits::Trim => "waits for a small move of rest or nocking point".into(),
        Waits::Elsewhere => "spacers cannot cure it: look elsewhere".into(),
        Waits::Adjustment => "something else comes first".into(),
        Waits::Left => "left as it is".into(),
        Waits::Nothing => "settled".into(),
    }
}

/// A sideways amount with its half-width: "61 mm right ± 22".
pub(crate) fn sideways(x_mm: f64, plus_minus_mm: f64) -> String {
    format!("{} ± {plus_minus_mm:.0}", aside(x_mm))
}

/// How far to which side; what would be written as 0 mm is on neither.
pub(crate) fn aside(mm: f64) -> String {
    match format!("{:.0}", mm.abs()).as_str() {
        "0" => "0 mm sideways".into(),
        size => format!("{size} mm {}", side(mm)),
    }
}

/// How far up or down; what would be written as 0 mm is level.
pub(crate) fn raised(mm: f64) -> String {
    match format!("{:.0}", mm.abs()).as_str() {
        "0" => "level".into(),
        size => format!("{size} mm {}", height(mm)),
    }
}

/// A tear: "Nock-left tear, 23 mm"; one that would be written as 0 mm is none.
pub(crate) fn tear(x_mm: f64) -> String {
    match format!("{:.0}", x_mm.abs()).as_str() {
        "0" => "No tear sideways".into(),
        size => format!("Nock-{} tear, {size} mm", side(x_mm)),
    }
}

/// A 95 % interval sideways: "between 130 mm left and 110 mm right", "between 35 and 88 mm right".
pub(crate) fn between(low_mm: f64, high_mm: f64) -> String {
    let [near_mm, far_mm] = if high_mm < 0.0 {
        [high_mm, low_mm]
    } else {
        [low_mm, high_mm]
    };
    let [near, far] = [near_mm.abs(), far_mm.abs()];
    match (side(near_mm), side(far_mm)) {
        (one, other) if one == other => format!("between {near:.0} and {far:.0} mm {one}"),
        (one, other) => format!("between {near:.0} mm {one} and {far:.0} mm {other}"),
    }
}

/// A probe in the plural, at the start of a sentence.
pub(crate) fn probe(kind: Probe) -> &'static str {
    match kind {
        Probe::Bare => "Bare shafts",
        Probe::Broadhead => "Broadheads",
        Probe::Paper => "Paper tears",
    }
}

/// What is out in height, and how far, as a sentence begins.
pub(crate) fn out_in_height(kind: Option<Probe>, y_mm: f64) -> String {
    let (size, place) = (y_mm.abs(), height(y_mm));
    match kind {
        Some(Probe::Paper) => format!("The tear is nock-{place}, {size:.0} mm"),
        Some(kind) => format!("{} land {size:.0} mm {place}", probe(kind)),
        None => format!("{size:.0} mm {place}"),
    }
}

/// What a height on a face is counted without; paper is too near for it to matter.
pub(crate) fn taken_off(kind: Option<Probe>) -> &'static str {
    if kind == Some(Probe::Paper) {
        ""
    } else {
        ", gravity and drag taken off"
    }
}

/// "low" or "high".
pub(crate) fn height(y_mm: f64) -> &'static str {
    if y_mm < 0.0 { "low" } else { "high" }
}

/// The kind of arrow in the singular.
pub(crate) fn kind_name(kind: ArrowKind) -> &'static str {
    match kind {
        ArrowKind::Fletched => "fletched",
        ArrowKind::Bare => "bare",
        ArrowKind::Broadhead => "broadhead",
    }
}

fn fixed(word: Word) -> &'static str {
    match word {
        Word::Now => "now",
        Word::Fit => "fit",
        Word::Before => "before",
        Word::After => "after",
        Word::TopAxle => "top axle",
        Word::BottomAxle => "bottom axle",
        Word::Left => "left",
        Word::Right => "right",
        Word::ExpectedAfter => "expected after",
        Word::Tolerance => "tolerance",
        Word::SplitAxis => "mm right",
        Word::Thick => "thick",
        Word::Thin => "thin",
        Word::StringSide => "string side toward you",
        Word::CamStays => "cam stays where it is",
        Word::NotSnapped => "no hole found here",
        Word::Proposed => "perhaps a hole",
        Word::Point => "point",
        Word::Nock => "nock",
    }
}

/// A day such as "3 Oct", UTC (days to civil date: H. Hinnant, "chrono-compatible low-level date
/// algorithms", 2013).
pub(crate) fn day(at_ms: i64) -> String {
    const MONTHS: [&str; 12] = [
        "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
    ];
    let days = at_ms.div_euclid(86_400_000) + 719_468;
    let of_era = days.rem_euclid(146_097);
    let year_of_era = (of_era - of_era / 1_460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let shifted = (5 * of_year + 2) / 153;
    let day = of_year - (153 * shifted + 2) / 5 + 1;
    let month = MONTHS[((shifted + 2) % 12) as usize];
    format!("{day} {month}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_of_known_times() {
        assert_eq!(day(0), "1 Jan");
        assert_eq!(day(951_782_400_000), "29 Feb"); // 2000-02-29
        assert_eq!(day(1_735_603_200_000), "31 Dec"); // 2024-12-31
    }
}
