//! How this bow and shooter scatter: arrows from [`PooledScatter`], tears beside it.

use crate::frame::ArrowKind;
use crate::group::Group;
use crate::scatter::{AxisScatter, PooledScatter};
use crate::units::TWENTY_YARDS_M;

use super::{Seen, Shot};

/// Prior scatter of one tear per axis, mm (common practice, no source: three tears of one bow
/// agree within a quarter of an inch or so).
const PRIOR_TEAR_SD_MM: f64 = 4.0;
/// Degrees of freedom that prior is worth.
const PRIOR_TEAR_DOF: f64 = 4.0;

/// Scatter of arrows and tears.
#[derive(Debug, Clone)]
pub(crate) struct Scatter {
    pub(crate) arrows: PooledScatter,
    tear_x: AxisScatter,
    tear_y: AxisScatter,
}

impl Scatter {
    pub(crate) fn pooled(seen: &[Seen]) -> Self {
        let mut groups: Vec<(&Group, f64)> = Vec::new();
        let mut tears = Vec::new();
        for trial in seen {
            match &trial.trial.shot {
                Shot::Face { distance_m, .. } => {
                    groups.extend(trial.groups().iter().map(|group| (group, *distance_m)));
                }
                Shot::Paper { .. } => tears.push(trial.tears()),
            }
        }
        Self {
            arrows: PooledScatter::pooled(groups),
            tear_x: tear_scatter(&tears, |tear| tear.0),
            tear_y: tear_scatter(&tears, |tear| tear.1),
        }
    }

    /// Variance of one arrow at a distance, (sideways, up and down), mm^2.
    pub(crate) fn of_arrow(&self, kind: ArrowKind, distance_m: f64) -> (f64, f64) {
        let grown = (distance_m / TWENTY_YARDS_M).powi(2);
        let one = self.arrows.kind(kind);
        (
            expected_variance(one.x) * grown,
            expected_variance(one.y) * grown,
        )
    }

    /// Variance of one tear, (sideways, up and down), mm^2.
    pub(crate) fn of_tear(&self) -> (f64, f64) {
        (
            expected_variance(self.tear_x),
            expected_variance(self.tear_y),
        )
    }

    /// Degrees of freedom behind a tear.
    pub(crate) fn tear_dof(&self) -> f64 {
        self.tear_x.dof
    }
}

/// The posterior mean of a variance whose scale is `sd^2` on `dof` degrees of freedom: larger than
/// `sd^2`, so that a normal of this variance covers as the t distribution does that it stands for.
fn expected_variance(scatter: AxisScatter) -> f64 {
    scatter.sd_mm * scatter.sd_mm * scatter.dof / (scatter.dof - 2.0)
}

fn tear_scatter(trials: &[Vec<(f64, f64)>], axis: fn(&(f64, f64)) -> f64) -> AxisScatter {
    let mut squares = PRIOR_TEAR_DOF * PRIOR_TEAR_SD_MM * PRIOR_TEAR_SD_MM;
    let mut dof = PRIOR_TEAR_DOF;
    for tears in trials.iter().filter(|tears| !tears.is_empty()) {
        let mean = tears.iter().map(axis).sum::<f64>() / tears.len() as f64;
        squares += tears
            .iter()
            .map(|tear| (axis(tear) - mean).powi(2))
            .sum::<f64>();
        dof += tears.len() as f64 - 1.0;
    }
    AxisScatter {
        sd_mm: (squares / dof).sqrt(),
        dof,
    }
}
