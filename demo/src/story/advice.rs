//! The verdict on a bow, and how it is told: the answer first, then what is expected, then why.

use super::teller::Teller;
use crate::words::{self, in_hundred};
use shimwright::evidence::Probe;
use shimwright::verdict::{Call, Choice, Predicted, Reason, SplitReading, Verdict};
use shimwright::workshop::Forecast;

/// Tells a verdict: what to do, what was shot, what is expected, then why.
pub(super) fn tell_verdict(teller: &mut Teller, verdict: &Verdict) {
    teller.answer(&words::answer(verdict));
    let faces = verdict
        .splits
        .iter()
        .filter(|shot| shot.kind != Probe::Paper);
    for shot in faces {
        teller.say(&split(shot));
    }
    let swap = matches!(verdict.call, Call::Fit { .. });
    if swap || matches!(verdict.call, Call::Trim { .. }) {
        teller.say(&expected(&verdict.predicted));
    }
    for other in &verdict.alternatives {
        teller.item(&format!(
            "Instead, {:.0} mm worse, split and work together: {}",
            other.behind_mm,
            words::call(&other.call)
        ));
    }
    if swap {
        tell_choices(teller, &verdict.options, verdict.predicted.kind);
    }
    let news = verdict.reasons.iter().filter(|reason| !is_a_split(reason));
    for reason in news {
        teller.news(&words::reason(reason));
    }
}

/// Splits are told with their arrows, above the reasons.
fn is_a_split(reason: &Reason) -> bool {
    matches!(
        reason,
        Reason::SplitIsReal { .. } | Reason::SplitMayBeScatter { .. }
    )
}

/// "After it: bare shafts expected 2 mm right, between 90 mm left and 70 mm right nineteen times in
/// twenty."
fn expected(predicted: &Predicted) -> String {
    format!(
        "After it: {} expected {:.0} mm {}, {} nineteen times in twenty.",
        words::probe(predicted.kind).to_lowercase(),
        predicted.x_mm.abs(),
        words::side(predicted.x_mm),
        words::between(predicted.low95_mm, predicted.high95_mm),
    )
}

fn tell_choices(teller: &mut Teller, options: &[Choice], kind: Probe) {
    teller.say(&format!(
        "Every choice, best first ({} after it; chance to be inside the tolerance):",
        words::probe(kind).to_lowercase()
    ));
    for choice in options {
        let axles = match choice.axles_opened {
            0 => "nothing to open".to_owned(),
            1 => "1 axle to open".to_owned(),
            many => format!("{many} axles to open"),
        };
        teller.row(&format!(
            "{:<16} {:>12}   {:>14}   {axles}",
            words::fitted_short(&choice.fitting),
            format!("{:.0} mm {}", choice.x_mm.abs(), words::side(choice.x_mm)),
            in_hundred(choice.within_tolerance),
        ));
    }
}

/// A split as it was shot: "Bare shafts land 61 mm right of field points (3 + 3 arrows), between 31
/// and 91 mm right nineteen times in twenty: real."
pub(super) fn split(reading: &SplitReading) -> String {
    let sure = if reading.is_real {
        "real"
    } else {
        "may be scatter"
    };
    format!(
        "{} land {:.0} mm {} of field points ({} + {} arrows), {} nineteen times in twenty: {sure}.",
        words::probe(reading.kind),
        reading.x_mm.abs(),
        words::side(reading.x_mm),
        reading.probe_arrows,
        reading.reference_arrows,
        words::between(reading.low95_mm, reading.high95_mm),
    )
}

/// A prediction held against what was shot.
pub(super) fn forecast(tested: &Forecast) -> String {
    let inside = match (tested.within_80, tested.within_95) {
        (true, _) => "inside what holds four times in five",
        (false, true) => "inside what holds nineteen times in twenty",
        (false, false) => "outside what was expected: look for something that moved",
    };
    format!(
        "Expected {:.0} mm {}, {} nineteen times in twenty; shot {:.0} mm {}: {inside}.",
        tested.expected_mm.abs(),
        words::side(tested.expected_mm),
        words::between(tested.expected_low95_mm, tested.expected_high95_mm),
        tested.shot_mm.abs(),
        words::side(tested.shot_mm)
    )
}
