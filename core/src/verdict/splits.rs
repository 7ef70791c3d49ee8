//! The splits as shot with what is fitted now.

use crate::evidence::{Belief, Observation, Probe, Seen};
use crate::stats::t_two_sided_p;

use super::SplitReading;

/// Below this chance a split is called real.
const REAL_P: f64 = 0.05;
/// Settings closer than this are the same, mm.
const SAME_MM: f64 = 0.01;

/// Whether an observation was shot with the bow as it stands now.
pub(crate) fn as_it_stands(belief: &Belief, observation: &Observation) -> bool {
    stands(belief, &belief.seen[observation.trial])
}

/// Whether a trial was shot with the bow as it stands now.
pub(crate) fn stands(belief: &Belief, seen: &Seen) -> bool {
    seen.trial.epoch == belief.now.epoch
        && (seen.offset_mm - belief.now.offset_mm).abs() <= SAME_MM
        && (seen.trial.rest_mm - belief.now.rest_mm).abs() <= SAME_MM
        && (seen.trial.nock_mm - belief.now.nock_mm).abs() <= SAME_MM
}

/// The splits of each probe and distance with the bow as it stands; where a probe was not shot
/// so, its latest one.
pub(crate) fn splits(belief: &Belief) -> Vec<SplitReading> {
    let mut readings = Vec::new();
    for probe in [Probe::Bare, Probe::Broadhead, Probe::Paper] {
        let of_probe = || {
            belief
                .observations
                .iter()
                .filter(|observation| observation.probe == probe)
        };
        let present: Vec<&Observation> = of_probe()
            .filter(|observation| as_it_stands(belief, observation))
            .collect();
        if present.is_empty() {
            readings.extend(of_probe().next_back().map(|latest| pooled(&[latest])));
            continue;
        }
        let mut distances: Vec<f64> = present
            .iter()
            .map(|observation| observation.distance_m)
            .collect();
        distances.sort_by(f64::total_cmp);
        distances.dedup();
        for distance_m in distances {
            let same: Vec<&Observation> = present
                .iter()
                .copied()
                .filter(|observation| observation.distance_m.total_cmp(&distance_m).is_eq())
                .collect();
            readings.push(pooled(&same));
        }
    }
    readings
}

/// Trials of one probe and distance combined, each weighing as its variance allows.
fn pooled(same: &[&Observation]) -> SplitReading {
    let combine = |value: fn(&Observation) -> f64, variance: fn(&Observation) -> f64| {
        let weight: f64 = same.iter().map(|one| 1.0 / variance(one)).sum();
        let mean = same
            .iter()
            .map(|one| value(one) / variance(one))
            .sum::<f64>()
            / weight;
        (mean, (1.0 / weight).sqrt())
    };
    let (x_mm, sd_x_mm) = combine(|one| one.x_mm, |one| one.var_x_mm2);
    let (y_mm, sd_y_mm) = combine(|one| one.y_mm, |one| one.var_y_mm2);
    let dof = same.first().map_or(1.0, |one| one.dof);
    let p = t_two_sided_p(x_mm / sd_x_mm, dof);
    let arrows = |count: fn(&Observation) -> u32| same.iter().map(|one| count(one)).sum();
    SplitReading {
        kind: same.first().map_or(Probe::Bare, |one| one.probe),
        distance_m: same.first().map_or(0.0, |one| one.distance_m),
        x_mm,
        y_mm,
        sd_x_mm,
        sd_y_mm,
        p,
        is_real: p < REAL_P,
        probe_arrows: arrows(|one| one.probe_arrows),
        reference_arrows: arrows(|one| one.reference_arrows),
    }
}
