//! How well predictions have held: each kept prediction against what was shot afterwards.

use serde::{Deserialize, Serialize};

use super::types::{Predicted, SplitReading};
use crate::evidence::{Probe, SAME_M};
use crate::stats::t_quantile;

/// One prediction against what was shot.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Verification {
    /// Which probe.
    pub kind: Probe,
    /// What was predicted, mm.
    pub predicted_mm: f64,
    /// What was shot, mm.
    pub shot_mm: f64,
    /// Shot minus predicted, mm.
    pub miss_mm: f64,
    /// Standard deviation to be expected of that: the prediction's and the shooting's, mm.
    pub sd_mm: f64,
    /// Whether the shot split lay inside the 80 % interval, widened by its own scatter.
    pub in80: bool,
    /// Whether it lay inside the 95 % interval, widened likewise.
    pub in95: bool,
}

/// The same over one bow, or over all bows.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TrackRecord {
    /// Predictions that were followed by shooting.
    pub predictions: u32,
    /// How many lay inside their 80 % interval.
    pub in80: u32,
    /// How many lay inside their 95 % interval.
    pub in95: u32,
    /// Mean of the misses, mm: far from zero, predictions lean to one side.
    pub mean_miss_mm: f64,
    /// Root mean square of the misses, mm.
    pub rms_miss_mm: f64,
    /// Root mean square of the misses in expected standard deviations: near 1 when intervals are
    /// honest, above it when they are too narrow.
    pub rms_sds: f64,
}

/// Compares a kept prediction with a split shot after the swap. `None` when they are not of the
/// same probe and distance.
///
/// ```
/// use shimwright_reckon::{evidence::Probe, verdict::{Predicted, SplitReading, verify}};
/// let predicted = Predicted { kind: Probe::Bare, distance_m: 18.288, x_mm: 4.0, sd_mm: 12.0,
///     low80_mm: -11.0, high80_mm: 19.0, low95_mm: -20.0, high95_mm: 28.0, within_tolerance: 0.94 };
/// let shot = SplitReading { kind: Probe::Bare, distance_m: 18.288, x_mm: 21.0, y_mm: 0.0, sd_x_mm: 9.0,
///     sd_y_mm: 9.0, dof: 10.0, low95_mm: 0.9, high95_mm: 41.1, p: 0.042, is_real: true, probe_arrows: 3, reference_arrows: 3 };
/// let one = verify(&predicted, &shot).unwrap();
/// assert!(one.in80 && one.sd_mm == 15.0); // 17 mm off, 19 mm allowed with the shooting's own scatter
/// ```
pub fn verify(predicted: &Predicted, shot: &SplitReading) -> Option<Verification> {
    let same =
        predicted.kind == shot.kind && (predicted.distance_m - shot.distance_m).abs() < SAME_M;
    same.then(|| {
        let miss_mm = shot.x_mm - predicted.x_mm;
        let inside = |low_mm: f64, high_mm: f64, tail: f64| {
            let edge = if miss_mm < 0.0 {
                predicted.x_mm - low_mm
            } else {
                high_mm - predicted.x_mm
            };
            miss_mm.abs() <= edge.hypot(t_quantile(1.0 - tail, shot.dof) * shot.sd_x_mm)
        };
        Verification {
            kind: predicted.kind,
            predicted_mm: predicted.x_mm,
            shot_mm: shot.x_mm,
            miss_mm,
            sd_mm: predicted.sd_mm.hypot(shot.sd_x_mm),
            in80: inside(predicted.low80_mm, predicted.high80_mm, 0.10),
            in95: inside(predicted.low95_mm, predicted.high95_mm, 0.025),
        }
    })
}

/// Sums up how predictions have held.
pub fn track_record(all: &[Verification]) -> TrackRecord {
    let n = all.len() as f64;
    if all.is_empty() {
        return TrackRecord::default();
    }
    let mean = |value: fn(&Verification) -> f64| all.iter().map(value).sum::<f64>() / n;
    let count =
        |inside: fn(&Verification) -> bool| all.iter().filter(|one| inside(one)).count() as u32;
    TrackRecord {
        predictions: all.len() as u32,
        in80: count(|one| one.in80),
        in95: count(|one| one.in95),
        mean_miss_mm: mean(|one| one.miss_mm),
        rms_miss_mm: mean(|one| one.miss_mm * one.miss_mm).sqrt(),
        rms_sds: mean(|one| (one.miss_mm / one.sd_mm).powi(2)).sqrt(),
    }
}
