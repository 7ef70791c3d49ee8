//! From trials to splits: the one way, for verdict, history and pictures alike.

use crate::frame::{ArrowKind, Probe};
use crate::split::Split;

use super::{Scatter, Seen, Shot, TrialEvidence};

/// Settings closer than this are the same, mm. As fine as calipers show.
pub(crate) const SAME_MM: f64 = 0.01;
/// Distances closer than this are the same, m. Chosen by hand; not tuned.
pub const SAME_M: f64 = 0.5;

/// One split or tear of one trial.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Observation {
    /// Place of its trial in the canonical list.
    pub(crate) trial: usize,
    pub(crate) split: Split,
    /// Variances for the normal inference, mm^2.
    pub(crate) var_x_mm2: f64,
    pub(crate) var_y_mm2: f64,
}

/// Every split and tear of the trials, in canonical order.
pub(crate) fn observe(seen: &[Seen], scatter: &Scatter) -> Vec<Observation> {
    let of_trial = |(trial, one): (usize, &Seen)| {
        let splits = of_seen(one, scatter).into_iter();
        splits.map(move |split| {
            let (var_x_mm2, var_y_mm2) = split.normal_variances();
            Observation {
                trial,
                split,
                var_x_mm2,
                var_y_mm2,
            }
        })
    };
    seen.iter().enumerate().flat_map(of_trial).collect()
}

/// The splits of each trial, in the order given, with the scatter pooled per shooter over all of
/// them: what a verdict on these trials reads, shown one by one. A face has one for every probe
/// with a fletched reference beside it, paper the mean of its tears.
pub fn splits_of(trials: &[TrialEvidence]) -> Vec<Vec<Split>> {
    let scatter = Scatter::of(trials);
    let seen = trials.iter().map(|trial| Seen::new(trial, 0.0));
    seen.map(|one| of_seen(&one, &scatter)).collect()
}

fn of_seen(seen: &Seen, scatter: &Scatter) -> Vec<Split> {
    let scatter = scatter.of_shooter(&seen.trial.shooter);
    match &seen.trial.shot {
        Shot::Face {
            distance_m,
            reading,
            ..
        } => {
            let Some(reference) = seen.group(ArrowKind::Fletched) else {
                return Vec::new();
            };
            [Probe::Bare, Probe::Broadhead]
                .into_iter()
                .filter_map(|probe| seen.group(probe.arrow()))
                .filter_map(|own| {
                    Split::between(own, reference, *distance_m, scatter, *reading).ok()
                })
                .collect()
        }
        Shot::Paper { paper_m, .. } => {
            Vec::from_iter(Split::of_tears(seen.tears(), *paper_m, scatter))
        }
    }
}
