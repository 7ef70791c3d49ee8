//! The verdict on a bow, and how it is told: the answer first, then what is expected, then why.

use super::teller::Teller;
use crate::case::sentence;
use crate::words::{self, in_hundred, sideways};
use shimwright::evidence::{Probe, Reading, Shot, TrialEvidence};
use shimwright::flight::TransferTable;
use shimwright::group::Impact;
use shimwright::record::{Surface, Trial};
use shimwright::spacer::Kit;
use shimwright::verdict::{BowState, Case, Choice, Predicted, Settings, SplitReading, Verdict};
use shimwright::workshop::Workshop;

/// The verdict on everything shot with a bow so far.
pub(super) fn advise(workshop: &Workshop, bow_id: i64, _now_ms: i64) -> Result<Verdict, String> {
    let page = workshop.bow_page(bow_id).map_err(sentence)?;
    let kit = page.kit.ok_or("no kit")?;
    let fitted = page.fitted.ok_or("not fitted")?;
    let trials = workshop.trials(bow_id).map_err(sentence)?;
    let case = Case {
        kit: Kit::new(kit.kit).map_err(sentence)?,
        stock: None,
        bow: BowState {
            axle_to_axle_mm: page.bow.details.axle_to_axle_mm,
            top_weight: 0.5,
            fitted: fitted.fitting,
            rest_mm: None,
            nock_mm: None,
            epoch: None,
        },
        settings: Settings::default(),
        trials: trials.iter().map(evidence).collect(),
        checks: Vec::new(),
    };
    shimwright::verdict::decide(&case, TransferTable::unrecorded()).map_err(sentence)
}

fn evidence(trial: &Trial) -> TrialEvidence {
    let shot = match trial.shot.surface {
        Surface::Face => Shot::Face {
            distance_m: trial.shot.distance_m,
            impacts: trial
                .shot
                .impacts
                .iter()
                .map(|i| Impact::new(i.kind, i.at.x_mm, i.at.y_mm))
                .collect(),
            reading: Reading::default(),
        },
        Surface::Paper => Shot::Paper {
            paper_m: trial.shot.distance_m,
            tears: trial.shot.tears.iter().map(|t| t.tear).collect(),
        },
    };
    TrialEvidence {
        id: trial.id,
        fitted: Some(trial.fitting.clone()),
        offset_mm: None,
        rest_mm: 0.0,
        nock_mm: 0.0,
        epoch: 0,
        shot,
    }
}

/// Tells a verdict.
pub(super) fn tell_verdict(teller: &Teller, verdict: &Verdict, tolerance_mm: f64) {
    teller.answer(&words::call(&verdict.call));
    if matches!(verdict.call, shimwright::verdict::Call::Fit { .. }) {
        teller.say(&format!(
            "After the swap: {}",
            expected(&verdict.predicted, tolerance_mm)
        ));
        tell_choices(teller, &verdict.options, verdict.predicted.kind);
    }
    for reason in &verdict.reasons {
        teller.item(&words::reason(reason));
    }
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

fn tell_choices(teller: &Teller, options: &[Choice], kind: Probe) {
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
            "{:<18} {:>20}   {:>13}   {axles}",
            words::fitted_short(&choice.fitting),
            sideways(choice.x_mm, 2.0 * choice.sd_mm),
            in_hundred(choice.within_tolerance),
        ));
    }
}

/// A split as it was shot: "Bare shafts land 61 mm right ± 30 of fletched (3 + 3 arrows)".
pub(super) fn split(reading: &SplitReading) -> String {
    let amount = sideways(reading.x_mm, 2.0 * reading.sd_x_mm);
    let sure = if reading.is_real {
        "more than scatter"
    } else {
        "not told from scatter"
    };
    format!(
        "{} land {amount} of fletched ({} + {} arrows): {sure}.",
        words::probe(reading.kind),
        reading.probe_arrows,
        reading.reference_arrows
    )
}
