//! What was shot, as reasons.

use crate::evidence::{Belief, Probe, SAME_M};
use crate::split::{Reality, Split};
use crate::verdict::deliberation::{Deliberation, farthest};
use crate::verdict::seen::splits::{as_it_stands, is_anothers, standing};
use crate::verdict::{Adjustment, Call, Reason, SplitReading};

/// What the faces show with the bow as it stands, and, where paper counts, the tears, each with its distance where
/// there are several; one arrow of a kind shows nothing yet, and rounds that contradict each other have no mean.
pub(crate) fn of_splits(deliberation: &Deliberation, call: &Call, reasons: &mut Vec<Reason>) {
    let belief = &deliberation.belief;
    let mut settling = deliberation.aims.iter().filter(|aim| aim.settles);
    let torn = settling.any(|aim| aim.probe == Probe::Paper);
    let probes = [Probe::Bare, Probe::Broadhead, Probe::Paper].into_iter();
    let told = probes.filter(|probe| *probe != Probe::Paper || torn);
    let splits = told.flat_map(|probe| standing(belief, probe));
    let splits: Vec<Split> = splits
        .filter(|split| !is_mean_of_doubted(belief, call, split))
        .collect();
    let groups = splits
        .iter()
        .filter(|one| one.x().reality != Reality::TooFewArrows);
    let several = splits
        .windows(2)
        .any(|pair| (pair[0].distance_m - pair[1].distance_m).abs() > SAME_M);
    reasons.extend(groups.map(|one| of_split(&one.into(), several)));
}

/// Whether a split is the mean of rounds of which one contradicts the others, and the call is to look at that.
fn is_mean_of_doubted(belief: &Belief, call: &Call, split: &Split) -> bool {
    let Call::AdjustFirst {
        what: Adjustment::Contradiction { trial, .. },
    } = call
    else {
        return false;
    };
    let rounds = belief.observations.iter().filter(|one| {
        one.split.probe == split.probe
            && (one.split.distance_m - split.distance_m).abs() < SAME_M
            && as_it_stands(belief, one)
            && !is_anothers(belief, one)
    });
    let trials: Vec<i64> = rounds.map(|one| belief.seen[one.trial].trial.id).collect();
    trials.len() > 1 && trials.contains(trial)
}

fn of_split(reading: &SplitReading, several: bool) -> Reason {
    let SplitReading {
        kind,
        x_mm,
        sd_x_mm: sd_mm,
        p,
        ..
    } = *reading;
    let distance_m = several.then_some(reading.distance_m);
    let plus_minus_mm = (reading.high95_mm - reading.low95_mm) / 2.0;
    if reading.is_real {
        Reason::SplitIsReal {
            kind,
            x_mm,
            sd_mm,
            plus_minus_mm,
            p,
            distance_m,
        }
    } else {
        Reason::SplitMayBeScatter {
            kind,
            x_mm,
            sd_mm,
            plus_minus_mm,
            p,
            distance_m,
        }
    }
}

/// How likely the probe is inside that is least likely to be.
pub(crate) fn of_stop(deliberation: &Deliberation) -> Option<Reason> {
    let (aim, _) = farthest(deliberation)?;
    let belief = &deliberation.belief;
    let now = aim.predicted(belief, belief.now.offset_mm);
    Some(Reason::WithinTolerance {
        kind: aim.probe,
        x_mm: now.x_mm,
        tolerance_mm: aim.tolerance_mm,
        chance: now.within_tolerance,
    })
}
