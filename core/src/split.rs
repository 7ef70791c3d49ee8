//! The split: a probe group's centre minus the reference group's, with its covariance, interval
//! and the answer to "is it real?".

use crate::distance::{self, DistanceError};
use crate::frame::{ArrowKind, Cov2, PointMm};
use crate::group::Group;
use crate::scatter::{AxisScatter, PooledScatter};
use crate::stats::{self, Summary, TTest, VectorTest};
use crate::units::TWENTY_YARDS_M;
use serde::{Deserialize, Serialize};

/// Fewer arrows of either kind than this are not a group.
const FEWEST: u32 = 2;
/// A split this unlikely to be chance is called clear.
const CLEAR_P: f64 = 0.05;
/// A split this unlikely to be chance is called likely.
const LIKELY_P: f64 = 0.20;

/// Whether a difference is more than the arrows' own scatter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Reality {
    /// One arrow of a kind: nothing can be said.
    TooFewArrows,
    /// Chance makes a difference this large in more than one test of five.
    NotShown,
    /// Chance makes it in fewer than one test of five, but more than one of twenty.
    Likely,
    /// Chance makes it in fewer than one test of twenty.
    Clear,
}

impl Reality {
    fn from_p(p: f64) -> Self {
        if p < CLEAR_P {
            Self::Clear
        } else if p < LIKELY_P {
            Self::Likely
        } else {
            Self::NotShown
        }
    }
}

/// Why a split could not be made.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum SplitError {
    /// The reference is not a group of fletched field points.
    #[error("A split is measured from fletched field points. Shoot or mark some as the reference.")]
    NotAReference {
        /// What was given as the reference.
        kind: ArrowKind,
    },
    /// The probe is the reference's own kind.
    #[error("A split needs bare shafts or fixed-blade broadheads beside the fletched arrows.")]
    NotAProbe,
    /// The distance is out of range.
    #[error(transparent)]
    Distance(#[from] DistanceError),
    /// The plane's reading uncertainty is not a number, or negative.
    #[error("The picture's scale has no usable uncertainty. Mark its corners again.")]
    Plane,
}

/// One axis of a split.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AxisSplit {
    /// The difference, mm.
    pub value_mm: f64,
    /// Its standard deviation, mm.
    pub sd_mm: f64,
    /// Degrees of freedom behind that deviation (Satterthwaite).
    pub dof: f64,
    /// 80 % interval, lower end, mm.
    pub low80_mm: f64,
    /// 80 % interval, upper end, mm.
    pub high80_mm: f64,
    /// 95 % interval, lower end, mm.
    pub low95_mm: f64,
    /// 95 % interval, upper end, mm.
    pub high95_mm: f64,
    /// Chance of a difference this large if there were none, 0..1.
    pub p: f64,
    /// Whether it is more than scatter.
    pub reality: Reality,
    /// Welch's test on these arrows alone, without what other trials taught; none below two each.
    pub welch: Option<TTest>,
}

/// A measured split.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Split {
    /// The probe's kind: bare or broadhead.
    pub probe: ArrowKind,
    /// Where it was shot, m.
    pub distance_m: f64,
    /// Probe arrows that count.
    pub n_probe: u32,
    /// Reference arrows that count.
    pub n_reference: u32,
    /// Probe centre minus reference centre, mm.
    pub offset: PointMm,
    /// Its covariance, mm^2: both groups' scatter, reading of the impacts, reading of the plane.
    pub cov: Cov2,
    /// Sideways.
    pub x: AxisSplit,
    /// Up and down.
    pub y: AxisSplit,
    /// Both axes at once, with the pooled scatter.
    pub vector: Option<VectorTest>,
    /// Both axes at once, on these arrows alone (unequal scatter); none below three each.
    pub alone: Option<VectorTest>,
    /// Whether the split as a whole is more than scatter.
    pub reality: Reality,
}

impl Split {
    /// The split of `probe` from `reference`, both shot at `distance_m` on the same face.
    /// `plane` is what reading the plane adds to the difference, mm^2.
    ///
    /// # Errors
    /// [`SplitError`] when the kinds are not a probe and its reference, the distance is out of
    /// range or the plane's uncertainty is unusable.
    pub fn between(
        probe: &Group,
        reference: &Group,
        distance_m: f64,
        scatter: &PooledScatter,
        plane: Cov2,
    ) -> Result<Self, SplitError> {
        check(probe, reference, plane)?;
        let distance_m = distance::checked_m(distance_m)?;
        let read = probe.reading + reference.reading + plane;
        let scattered =
            Parts::new(probe, scatter, distance_m).with(Parts::new(reference, scatter, distance_m));
        let cov = scattered.cov + read;
        let offset = probe.centre - reference.centre;
        let few = probe.n < FEWEST || reference.n < FEWEST;
        let welch = |mean: fn(PointMm) -> f64, variance: fn(Cov2) -> f64| {
            let summary = |g: &Group| Summary {
                n: g.n as usize,
                mean: mean(g.centre),
                variance: variance(g.cov),
            };
            stats::welch(summary(probe), summary(reference))
        };
        let dof_x = scattered.dof_x(cov.xx_mm2);
        let dof_y = scattered.dof_y(cov.yy_mm2);
        let vector = stats::vector_test(offset, cov, dof_x.min(dof_y));
        let samples = (
            (probe.cov, probe.n as usize),
            (reference.cov, reference.n as usize),
        );
        Ok(Self {
            probe: probe.kind,
            distance_m,
            n_probe: probe.n,
            n_reference: reference.n,
            offset,
            cov,
            x: AxisSplit::new(
                offset.x_mm,
                cov.sd_x_mm(),
                dof_x,
                few,
                welch(|p| p.x_mm, |c| c.xx_mm2),
            ),
            y: AxisSplit::new(
                offset.y_mm,
                cov.sd_y_mm(),
                dof_y,
                few,
                welch(|p| p.y_mm, |c| c.yy_mm2),
            ),
            vector,
            alone: stats::hotelling_unequal(offset, samples.0, samples.1),
            reality: reality(vector.map_or(1.0, |v| v.p), few),
        })
    }
}

fn check(probe: &Group, reference: &Group, plane: Cov2) -> Result<(), SplitError> {
    if reference.kind != ArrowKind::Fletched {
        return Err(SplitError::NotAReference {
            kind: reference.kind,
        });
    }
    if probe.kind == ArrowKind::Fletched {
        return Err(SplitError::NotAProbe);
    }
    let usable = |v: f64| v.is_finite() && v >= 0.0;
    if usable(plane.xx_mm2) && usable(plane.yy_mm2) && plane.xy_mm2.is_finite() {
        Ok(())
    } else {
        Err(SplitError::Plane)
    }
}

fn reality(p: f64, few: bool) -> Reality {
    if few {
        Reality::TooFewArrows
    } else {
        Reality::from_p(p)
    }
}

impl AxisSplit {
    fn new(value_mm: f64, sd_mm: f64, dof: f64, few: bool, welch: Option<TTest>) -> Self {
        let half = |p| stats::t_quantile(p, dof) * sd_mm;
        let (half80, half95) = (half(0.9), half(0.975));
        let p = stats::t_two_sided_p(value_mm / sd_mm, dof);
        Self {
            value_mm,
            sd_mm,
            dof,
            low80_mm: value_mm - half80,
            high80_mm: value_mm + half80,
            low95_mm: value_mm - half95,
            high95_mm: value_mm + half95,
            p,
            reality: reality(p, few),
            welch,
        }
    }
}

/// Scatter's part of a centre's covariance, with what Satterthwaite's rule needs: the sum over
/// groups of variance squared over its degrees of freedom.
#[derive(Clone, Copy)]
struct Parts {
    cov: Cov2,
    below_x: f64,
    below_y: f64,
}

impl Parts {
    fn new(group: &Group, scatter: &PooledScatter, distance_m: f64) -> Self {
        let one = scatter.kind(group.kind);
        let grown = (distance_m / TWENTY_YARDS_M).powi(2) / f64::from(group.n);
        let variance = |axis: AxisScatter| axis.sd_mm.powi(2) * grown;
        Self {
            cov: Cov2 {
                xx_mm2: variance(one.x),
                xy_mm2: 0.0,
                yy_mm2: variance(one.y),
            },
            below_x: variance(one.x).powi(2) / one.x.dof,
            below_y: variance(one.y).powi(2) / one.y.dof,
        }
    }

    fn with(self, other: Self) -> Self {
        Self {
            cov: self.cov + other.cov,
            below_x: self.below_x + other.below_x,
            below_y: self.below_y + other.below_y,
        }
    }

    fn dof_x(&self, total: f64) -> f64 {
        total * total / self.below_x
    }

    fn dof_y(&self, total: f64) -> f64 {
        total * total / self.below_y
    }
}
