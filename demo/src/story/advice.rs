//! The verdict on a bow, and how it is told: the answer first, then what is expected, then why.

use super::teller::Teller;
use crate::words::{self, in_hundred, sideways};
use shimwright::evidence::Probe;
use shimwright::verdict::{Call, Choice, Predicted, Reason, SplitReading, Verdict};
use shimwright::workshop::Foretold;

/// Tells a verdict: what to do, what was shot, what is expected, then why.
pub(super) fn tell_verdict(teller: &mut Teller, verdict: &Verdict, tolerance_mm: f64) {
    teller.answer(&words::call(&verdict.call));
    let faces = verdict
        .splits
        .iter()
        .filter(|shot| shot.kind != Probe::Paper);
    for shot in faces {
        teller.say(&split(shot));
    }
    if matches!(verdict.call, Call::Fit { .. }) {
        teller.say(&format!(
            "After the swap: {}",
            expected(&verdict.predicted, tolerance_mm)
        ));
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

/// "bare shafts 2 mm right of fletched; four times in five between 57 mm left and 46 mm right".
pub(super) fn expected(predicted: &Predicted, tolerance_mm: f64) -> String {
    let side = |x_mm: f64| format!("{:.0} mm {}", x_mm.abs(), words::side(x_mm));
    format!(
        "{} expected {}, four times in five between {} and {}; {} to be inside {tolerance_mm:.0} mm.",
        words::probe(predicted.kind).to_lowercase(),
        side(predicted.x_mm),
        side(predicted.low80_mm),
        side(predicted.high80_mm),
        in_hundred(predicted.within_tolerance)
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
            "{:<16} {:>19}   {:>14}   {axles}",
            words::fitted_short(&choice.fitting),
            sideways(choice.x_mm, 2.0 * choice.sd_mm),
            in_hundred(choice.within_tolerance),
        ));
    }
}

/// A split as it was shot: "Bare shafts land 61 mm right ± 30 of fletched (3 + 3 arrows)".
pub(super) fn split(reading: &SplitReading) -> String {
    let amount = sideways(reading.x_mm, 2.0 * reading.sd_x_mm);
    let chance = if reading.p < 0.5 {
        format!("chance alone would do that {}", words::times(reading.p))
    } else {
        "chance alone does that more often than not".into()
    };
    format!(
        "{} land {amount} of fletched ({} + {} arrows); {chance}.",
        words::probe(reading.kind),
        reading.probe_arrows,
        reading.reference_arrows
    )
}

/// A prediction held against what was shot.
pub(super) fn foretold(foretold: &Foretold) -> String {
    let inside = match (foretold.within_80, foretold.within_95) {
        (true, _) => "inside what holds four times in five",
        (false, true) => "inside what holds nineteen times in twenty",
        (false, false) => "outside what was foretold: look for something that moved",
    };
    format!(
        "Foretold {}, shot {:.0} mm {}: {inside}.",
        sideways(foretold.expected_mm, 2.0 * foretold.expected_sd_mm),
        foretold.shot_mm.abs(),
        words::side(foretold.shot_mm)
    )
}
