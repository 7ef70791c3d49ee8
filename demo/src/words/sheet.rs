//! What stands on a tune sheet.

use super::{between, call, caution, day, distance, fitting, label, side, why};
use shimwright::flight::ArrowSetup;
use shimwright::frame::Probe;
use shimwright::record::Hand;
use shimwright::sheet::{SheetHeading, SheetName, SheetSide, SheetText, SheetTime};
use shimwright::split::Reality;
use shimwright::units::{KG_PER_GRAIN, MM_PER_INCH, N_PER_POUND_FORCE};

/// One text of a sheet.
pub(crate) fn sheet(text: &SheetText) -> String {
    match text {
        SheetText::Language => "en".into(),
        SheetText::Title => "Tune sheet".into(),
        SheetText::AsOf { at_ms } => format!("as of {}", dated(*at_ms)),
        SheetText::Own { text } => text.clone(),
        SheetText::Label { label: text } => label(text),
        SheetText::Heading { of } => heading(*of).into(),
        SheetText::Name { of } => name(*of).into(),
        SheetText::Day { at_ms } => dated(*at_ms),
        SheetText::BowLength { length_mm } => {
            format!("{length_mm:.0} mm ({:.2} in)", length_mm / MM_PER_INCH)
        }
        SheetText::DrawForce { force_n } => {
            format!("{force_n:.0} N ({:.0} lb)", force_n / N_PER_POUND_FORCE)
        }
        SheetText::Hand { hand: Hand::Right } => "right-handed".into(),
        SheetText::Hand { hand: Hand::Left } => "left-handed".into(),
        SheetText::Kit { name, total_mm } => format!("{name}, each pair {total_mm:.2} mm together"),
        SheetText::Fitted { fitting: fitted } => fitting(fitted),
        SheetText::Contested => {
            "Two entries were recorded apart and differ: look what is in the bow before anything else."
                .into()
        }
        SheetText::NothingFitted => "Nobody has said what is fitted.".into(),
        SheetText::Why { reason } => why(*reason).into(),
        SheetText::RestAndNock { rest_mm, nock_mm } => rest_and_nock(*rest_mm, *nock_mm),
        SheetText::Verdict { call: what } => call(what),
        SheetText::Arrow { setup } => arrow(setup),
        SheetText::Shot {
            time,
            probe,
            distance_m,
            at_ms,
        } => shot(*time, *probe, *distance_m, *at_ms),
        SheetText::Split {
            probe,
            x,
            y,
            arrows,
        } => split(*probe, x, y, *arrows),
        SheetText::NothingShotSince => {
            "Nothing that counts was shot on what is fitted and set now.".into()
        }
        SheetText::IntervalNote => {
            "The range after each figure holds nineteen times in twenty. Left, right, high and low as the archer sees the target."
                .into()
        }
        SheetText::Caution { caution: what } => caution(*what).into(),
    }
}

fn heading(of: SheetHeading) -> &'static str {
    match of {
        SheetHeading::Fitted => "What is fitted",
        SheetHeading::Bow => "The bow",
        SheetHeading::Arrows => "Arrows",
        SheetHeading::Shot => "Before and after",
        SheetHeading::Cautions => "Before anybody works on it",
    }
}

fn name(of: SheetName) -> &'static str {
    match of {
        SheetName::Fitted => "Spacers",
        SheetName::Since => "Since",
        SheetName::Why => "Why",
        SheetName::RestAndNock => "Rest, nocking point",
        SheetName::Verdict => "Verdict",
        SheetName::Hand => "Hand",
        SheetName::AxleToAxle => "Axle to axle",
        SheetName::BraceHeight => "Brace height",
        SheetName::DrawWeight => "Draw weight",
        SheetName::DrawLength => "Draw length",
        SheetName::Cams => "Cams",
        SheetName::Kit => "Kit",
        SheetName::Notes => "Notes",
    }
}

/// "3 Oct 2026".
fn dated(at_ms: i64) -> String {
    let (mut year, mut start) = (1970, 0_i64);
    while let next = start + days_in(year) * 86_400_000
        && next <= at_ms
    {
        (year, start) = (year + 1, next);
    }
    format!("{} {year}", day(at_ms))
}

fn days_in(year: i64) -> i64 {
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    if leap { 366 } else { 365 }
}

fn rest_and_nock(rest_mm: f64, nock_mm: f64) -> String {
    let rest = match rest_mm.abs() {
        small if small < 0.05 => "rest where its record starts".to_owned(),
        far => format!(
            "rest {far:.1} mm {} of where its record starts",
            side(rest_mm)
        ),
    };
    let up = if nock_mm < 0.0 { "lower" } else { "higher" };
    let nock = match nock_mm.abs() {
        small if small < 0.05 => "nocking point too".to_owned(),
        far => format!("nocking point {far:.1} mm {up}"),
    };
    [rest, nock].join(", ")
}

/// "shaft 737 mm, 5.9 mm thick, 25.9 g (400 gr), point 6.5 g (100 gr)".
fn arrow(setup: &ArrowSetup) -> String {
    let mass = |what: &str, kg: f64| {
        let grain = kg / KG_PER_GRAIN;
        format!("{what}{:.1} g ({grain:.0} gr)", kg * 1000.0)
    };
    let parts = [
        Some(format!("shaft {:.0} mm", setup.shaft_length_mm)),
        setup.diameter_mm.map(|mm| format!("{mm:.1} mm thick")),
        setup.total_mass_kg.map(|kg| mass("", kg)),
        setup.point_mass_kg.map(|kg| mass("point ", kg)),
        setup.static_spine.map(|spine| format!("spine {spine:.0}")),
        setup.speed_mps.map(|speed| format!("{speed:.0} m/s")),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

fn shot(time: SheetTime, probe: Probe, distance_m: f64, at_ms: i64) -> String {
    let time = match time {
        SheetTime::Before => "Before",
        SheetTime::Now => "As it is",
    };
    let what = match probe {
        Probe::Bare => "bare shafts",
        Probe::Broadhead => "broadheads",
        Probe::Paper => "paper",
    };
    format!("{time}: {what} at {}, {}", distance(distance_m), day(at_ms))
}

fn split(probe: Probe, x: &SheetSide, y: &SheetSide, arrows: u32) -> String {
    let from = match probe {
        Probe::Paper => "nock end",
        Probe::Bare | Probe::Broadhead => "they land",
    };
    let ranged = |side: &SheetSide, figure: String, range: String| {
        if side.low95_mm.is_finite() && side.high95_mm.is_finite() {
            format!("{figure} ({range})")
        } else {
            figure
        }
    };
    let sideways = format!("{:.0} mm {}", x.value_mm.abs(), side(x.value_mm));
    let up = |mm: f64| if mm < 0.0 { "low" } else { "high" };
    let height = format!("{:.0} mm {}", y.value_mm.abs(), up(y.value_mm));
    let heights =
        format!("{:.0} to {:.0} mm high", y.low95_mm, y.high95_mm).replace('-', "\u{2212}");
    let real = match x.reality {
        Reality::Clear => "; sideways more than scatter",
        Reality::Likely => "; sideways likely more than scatter",
        Reality::NotShown => "; sideways no more than scatter",
        Reality::TooFewArrows => "; too few arrows to tell",
    };
    format!(
        "{from} {}, {}{real}; {arrows} shot",
        ranged(x, sideways, between(x.low95_mm, x.high95_mm)),
        ranged(y, height, heights)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn years_turn_at_new_year() {
        // By `date -u -d @N` of coreutils.
        assert_eq!(dated(0), "1 Jan 1970");
        assert_eq!(dated(951_782_400_000), "29 Feb 2000");
        assert_eq!(dated(1_735_689_599_999), "31 Dec 2024");
        assert_eq!(dated(1_735_689_600_000), "1 Jan 2025");
    }
}
