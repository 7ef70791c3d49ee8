//! The split: where a probe lands from its reference, how sure that is, and whether it is real.
//!
//! This is the only road from the arrows of a trial to a figure: evidence, verdict, history and
//! pictures all take the same [`Split`], so that two screens can never disagree about one group.
//! Its covariance is the plain pooled one; tests and intervals use Student's t on its degrees of
//! freedom. Only an inference that needs a normal takes [`Split::normal_variances`] instead.

use serde::{Deserialize, Serialize};

use crate::distance::{self, DistanceError};
use crate::frame::{ArrowKind, Cov2, PointMm, Probe};
use crate::group::Group;
use crate::scatter::{AxisScatter, KindScatter, PooledScatter};
use crate::stats;
use crate::units::TWENTY_YARDS_M;

/// Fewer arrows of either kind than this are not a group.
const FEWEST: u32 = 2;
/// A split this unlikely to be chance is called real.
pub(crate) const REAL_P: f64 = 0.05;
/// A split this unlikely to be chance is called likely.
const LIKELY_P: f64 = 0.20;

/// How well a face was read: all of it adds to every split of the trial. What moves both groups
/// alike does not: it cancels.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct FaceAccuracy {
    /// Standard deviation of a group centre from reading the photograph, mm per axis.
    pub sd_mm: f64,
    /// Relative standard deviation of the scale, e.g. 0.01 for one per cent.
    pub scale_sd: f64,
    /// How far "up" may be turned, one standard deviation, rad.
    pub turn_sd_rad: f64,
}

impl Default for FaceAccuracy {
    /// 0.3 mm a group (taps placed under a magnifier), half a per cent of scale (prior), upright.
    fn default() -> Self {
        Self {
            sd_mm: 0.3,
            scale_sd: 0.005,
            turn_sd_rad: 0.0,
        }
    }
}

impl FaceAccuracy {
    fn variances(&self, offset: PointMm) -> Cov2 {
        // A turn moves a split across itself, a scale along.
        let one = |along_mm: f64, across_mm: f64| {
            let (scale, turn) = (self.scale_sd * along_mm, self.turn_sd_rad * across_mm);
            self.sd_mm.powi(2) + scale.powi(2) + turn.powi(2)
        };
        Cov2 {
            xx_mm2: one(offset.x_mm, offset.y_mm),
            xy_mm2: -self.turn_sd_rad.powi(2) * offset.x_mm * offset.y_mm,
            yy_mm2: one(offset.y_mm, offset.x_mm),
        }
    }
}

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

/// Why a split could not be made.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum SplitError {
    /// The reference is not a group of fletched field points.
    #[error("a split is measured from fletched field points; shoot or mark some as the reference")]
    NotAReference {
        /// What was given as the reference.
        kind: ArrowKind,
    },
    /// The probe is the reference's own kind.
    #[error(
        "a split needs another kind of arrow beside the fletched ones; shoot or mark bare shafts or fixed-blade broadheads"
    )]
    NotAProbe,
    /// The distance is out of range.
    #[error(transparent)]
    Distance(#[from] DistanceError),
    /// The reading uncertainty is not a number, or negative.
    #[error("the picture's scale has no usable uncertainty; mark its corners again")]
    Plane,
}

/// A measured split, or the mean tear of a paper trial.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Split {
    /// What was compared with the fletched field points.
    pub probe: Probe,
    /// Where it was shot, m (paper: to the paper).
    pub distance_m: f64,
    /// Probe arrows that count (paper: tears).
    pub n_probe: u32,
    /// Reference arrows that count (paper: the same tears).
    pub n_reference: u32,
    /// Probe centre minus reference centre, mm; for paper where the nock passed minus the point.
    pub offset: PointMm,
    /// Its covariance, mm^2: pooled scatter of both groups, reading of the impacts and the plane.
    pub cov: Cov2,
    /// The part of it that reading makes, mm^2; the rest is scatter.
    pub reading: Cov2,
    /// The part of it that every probe of the trial shares: the reference group's, mm^2.
    pub shared: Cov2,
    /// Degrees of freedom behind the sideways variance (Satterthwaite 1946), at least 1.
    pub dof_x: f64,
    /// Degrees of freedom behind the vertical variance.
    pub dof_y: f64,
}

/// One axis of a split with its intervals and its test.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AxisSplit {
    /// The difference, mm.
    pub value_mm: f64,
    /// Its standard deviation, mm.
    pub sd_mm: f64,
    /// Degrees of freedom behind that deviation.
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
}

impl Split {
    /// The split of `probe` from `reference`, both shot at `distance_m` on the same face.
    ///
    /// # Errors
    /// [`SplitError`] when the kinds are not a probe and its reference, the distance is out of
    /// range or the reading's uncertainty is unusable.
    pub fn between(
        probe: &Group,
        reference: &Group,
        distance_m: f64,
        scatter: &PooledScatter,
        reading: FaceAccuracy,
    ) -> Result<Self, SplitError> {
        let kind = checked(probe, reference, reading)?;
        let distance_m = distance::checked_m(distance_m)?;
        let grown = (distance_m / TWENTY_YARDS_M).powi(2);
        let part =
            |group: &Group| Scattered::new(scatter.kind(group.kind), grown / f64::from(group.n));
        let (own, other) = (part(probe), part(reference));
        let offset = probe.centre - reference.centre;
        let read = probe.reading + reference.reading + reading.variances(offset);
        let both = own.with(other);
        Ok(Self {
            probe: kind,
            distance_m,
            n_probe: probe.n,
            n_reference: reference.n,
            offset,
            cov: both.cov + read,
            reading: read,
            shared: other.cov + reference.reading,
            dof_x: both.x.dof(),
            dof_y: both.y.dof(),
        })
    }

    /// The mean of the tears of one paper trial, each (x, y) mm; `None` without tears.
    pub fn of_tears(tears: &[PointMm], paper_m: f64, scatter: &PooledScatter) -> Option<Self> {
        let n = tears.len() as f64;
        let sum = tears
            .iter()
            .fold(PointMm::default(), |sum, tear| sum + *tear);
        let scattered = Scattered::new(&scatter.tear, 1.0 / n);
        (n > 0.0).then(|| Self {
            probe: Probe::Paper,
            distance_m: paper_m,
            n_probe: tears.len() as u32,
            n_reference: tears.len() as u32,
            offset: PointMm::new(sum.x_mm / n, sum.y_mm / n),
            cov: scattered.cov,
            reading: Cov2::default(),
            shared: Cov2::default(),
            dof_x: scattered.x.dof(),
            dof_y: scattered.y.dof(),
        })
    }

    /// Splits of one probe, distance and setting as one, each weighing as its variance allows;
    /// `None` of nothing. Their scatter is pooled already, so the degrees of freedom stay.
    pub fn pooled(same: &[Self]) -> Option<Self> {
        let first = same.first()?;
        let mean = |value: fn(&Self) -> f64, variance: fn(&Self) -> f64| {
            let weight: f64 = same.iter().map(|one| 1.0 / variance(one)).sum();
            let sum: f64 = same.iter().map(|one| value(one) / variance(one)).sum();
            (sum / weight, 1.0 / weight)
        };
        let (x_mm, xx_mm2) = mean(|one| one.offset.x_mm, |one| one.cov.xx_mm2);
        let (y_mm, yy_mm2) = mean(|one| one.offset.y_mm, |one| one.cov.yy_mm2);
        let count = |of: fn(&Self) -> u32| same.iter().map(of).sum();
        let share = xx_mm2 / first.cov.xx_mm2;
        Some(Self {
            n_probe: count(|one| one.n_probe),
            n_reference: count(|one| one.n_reference),
            offset: PointMm::new(x_mm, y_mm),
            cov: Cov2 {
                xx_mm2,
                xy_mm2: 0.0,
                yy_mm2,
            },
            reading: first.reading.scaled(share),
            shared: first.shared.scaled(share),
            ..*first
        })
    }

    /// Sideways.
    pub fn x(&self) -> AxisSplit {
        AxisSplit::new(
            self.offset.x_mm,
            self.cov.sd_x_mm(),
            self.dof_x,
            self.is_few(),
        )
    }

    /// Up and down.
    pub fn y(&self) -> AxisSplit {
        AxisSplit::new(
            self.offset.y_mm,
            self.cov.sd_y_mm(),
            self.dof_y,
            self.is_few(),
        )
    }

    /// Variances for an inference that needs a normal, (sideways, up and down), mm^2: scatter's
    /// part times dof / (dof - 2), the variance of the t distribution it stands for.
    pub fn normal_variances(&self) -> (f64, f64) {
        let widened =
            |whole: f64, read: f64, dof: f64| (whole - read) * normal_inflation(dof) + read;
        (
            widened(self.cov.xx_mm2, self.reading.xx_mm2, self.dof_x),
            widened(self.cov.yy_mm2, self.reading.yy_mm2, self.dof_y),
        )
    }

    fn is_few(&self) -> bool {
        self.probe != Probe::Paper && self.n_probe.min(self.n_reference) < FEWEST
    }
}

/// Variance of Student's t against its scale; below three degrees of freedom as at three.
pub(crate) fn normal_inflation(dof: f64) -> f64 {
    let dof = dof.max(3.0);
    dof / (dof - 2.0)
}

fn checked(probe: &Group, reference: &Group, reading: FaceAccuracy) -> Result<Probe, SplitError> {
    if reference.kind != ArrowKind::Fletched {
        return Err(SplitError::NotAReference {
            kind: reference.kind,
        });
    }
    let usable = |v: f64| v.is_finite() && v >= 0.0;
    let all = [reading.sd_mm, reading.scale_sd, reading.turn_sd_rad];
    if !all.into_iter().all(usable) {
        return Err(SplitError::Plane);
    }
    Probe::of(probe.kind).ok_or(SplitError::NotAProbe)
}

impl AxisSplit {
    fn new(value_mm: f64, sd_mm: f64, dof: f64, few: bool) -> Self {
        let half = |p| stats::t_quantile(p, dof) * sd_mm;
        let (half80, half95) = (half(0.9), half(0.975));
        let p = if sd_mm > 0.0 {
            stats::t_two_sided_p(value_mm / sd_mm, dof)
        } else {
            1.0
        };
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
        }
    }

    /// Whether the difference is clearly more than scatter.
    pub fn is_real(&self) -> bool {
        self.reality == Reality::Clear
    }
}

fn reality(p: f64, few: bool) -> Reality {
    if few {
        Reality::TooFewArrows
    } else if p < REAL_P {
        Reality::Clear
    } else if p < LIKELY_P {
        Reality::Likely
    } else {
        Reality::NotShown
    }
}

/// Scatter's part of a centre's covariance.
#[derive(Clone, Copy)]
struct Scattered {
    cov: Cov2,
    x: Variance,
    y: Variance,
}

impl Scattered {
    fn new(kind: &KindScatter, share: f64) -> Self {
        let (x, y) = (Variance::new(kind.x, share), Variance::new(kind.y, share));
        Self {
            cov: Cov2 {
                xx_mm2: x.value,
                xy_mm2: 0.0,
                yy_mm2: y.value,
            },
            x,
            y,
        }
    }

    fn with(self, other: Self) -> Self {
        Self {
            cov: self.cov + other.cov,
            x: self.x.with(other.x),
            y: self.y.with(other.y),
        }
    }
}

/// A sum of variances, each on degrees of freedom of its own.
#[derive(Clone, Copy)]
struct Variance {
    value: f64,
    /// Sum of the squares over their degrees of freedom.
    below: f64,
}

impl Variance {
    fn new(scatter: AxisScatter, share: f64) -> Self {
        let value = scatter.sd_mm.powi(2) * share;
        Self {
            value,
            below: value * value / scatter.dof,
        }
    }

    fn with(self, other: Self) -> Self {
        Self {
            value: self.value + other.value,
            below: self.below + other.below,
        }
    }

    /// Satterthwaite's degrees of freedom of the sum.
    fn dof(&self) -> f64 {
        self.value * self.value / self.below
    }
}
