//! How far this shooter's arrows scatter with this bow: pooled over all groups, with a weak prior,
//! and the numbered arrow that keeps landing apart.

use crate::frame::{ArrowKind, Cov2, PointMm};
use crate::group::{Group, Impact};
use crate::stats::f_upper_p;
use crate::units::{MM_PER_INCH, TWENTY_YARDS_M};
use serde::{Deserialize, Serialize};

/// Prior deviation of one fletched arrow per axis at 20 yd, mm (0.60 in: a good shooter; common
/// practice, no source).
pub const PRIOR_FLETCHED_SD_MM: f64 = 0.60 * MM_PER_INCH;
/// How much more a bare shaft scatters than a fletched one (1.3 to 2; common practice, no source).
pub const PRIOR_BARE_RATIO: f64 = 1.5;
/// How much more a fixed-blade broadhead scatters than a field point: it answers launch faults
/// with about half of a bare shaft's extra (flight model), so half of its extra scatter.
pub const PRIOR_BROADHEAD_RATIO: f64 = 1.25;
/// Prior deviation of one tear per axis, mm (common practice, no source: three tears of one bow
/// agree within a quarter of an inch or so).
pub const PRIOR_TEAR_SD_MM: f64 = 4.0;
/// Degrees of freedom that each prior is worth.
pub const PRIOR_DOF: f64 = 4.0;

/// Scatter along one axis.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AxisScatter {
    /// Standard deviation of one arrow at 20 yd (18.288 m), mm.
    pub sd_mm: f64,
    /// Degrees of freedom behind it, the prior's included.
    pub dof: f64,
}

/// Scatter of one arrow kind.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KindScatter {
    /// Sideways.
    pub x: AxisScatter,
    /// Up and down.
    pub y: AxisScatter,
}

/// Scatter of every arrow kind, proportional to distance.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PooledScatter {
    /// Fletched field points.
    pub fletched: KindScatter,
    /// Bare shafts.
    pub bare: KindScatter,
    /// Fixed-blade broadheads.
    pub broadhead: KindScatter,
    /// Tears in paper, at whatever distance.
    pub tear: KindScatter,
}

impl PooledScatter {
    /// What is taken before this shooter has shot a group.
    pub fn prior() -> Self {
        Self::pooled([])
    }

    /// Scatter from groups and the distances they were shot at, m.
    ///
    /// A scaled inverse chi-square prior of 4 degrees of freedom per kind and axis. The priors of
    /// bare shafts and broadheads stand on what the fletched arrows showed, because their ratio
    /// belongs to the arrows and the level to the shooter.
    pub fn pooled<'a>(groups: impl IntoIterator<Item = (&'a Group, f64)>) -> Self {
        let groups: Vec<(&Group, f64)> = groups.into_iter().collect();
        let start = KindScatter::alike(PRIOR_FLETCHED_SD_MM);
        let fletched = learn(ArrowKind::Fletched, start, &groups);
        let other = |kind, ratio| learn(kind, fletched.as_prior(ratio), &groups);
        Self {
            fletched,
            bare: other(ArrowKind::Bare, PRIOR_BARE_RATIO),
            broadhead: other(ArrowKind::Broadhead, PRIOR_BROADHEAD_RATIO),
            tear: KindScatter::alike(PRIOR_TEAR_SD_MM),
        }
    }

    /// The same, having also seen these paper trials, each a list of tears (mm).
    #[must_use]
    pub fn with_tears(mut self, trials: &[&[PointMm]]) -> Self {
        let axis = |of: fn(&PointMm) -> f64| tear_scatter(trials, of);
        self.tear = KindScatter {
            x: axis(|tear| tear.x_mm),
            y: axis(|tear| tear.y_mm),
        };
        self
    }

    /// Scatter of one kind at 20 yd.
    pub fn kind(&self, kind: ArrowKind) -> &KindScatter {
        match kind {
            ArrowKind::Fletched => &self.fletched,
            ArrowKind::Bare => &self.bare,
            ArrowKind::Broadhead => &self.broadhead,
        }
    }

    /// Covariance of one arrow at `distance_m`, mm^2.
    pub fn cov(&self, kind: ArrowKind, distance_m: f64) -> Cov2 {
        let scatter = self.kind(kind);
        let grown = (distance_m / TWENTY_YARDS_M).powi(2);
        Cov2 {
            xx_mm2: scatter.x.sd_mm.powi(2) * grown,
            xy_mm2: 0.0,
            yy_mm2: scatter.y.sd_mm.powi(2) * grown,
        }
    }
}

fn tear_scatter(trials: &[&[PointMm]], axis: fn(&PointMm) -> f64) -> AxisScatter {
    let mut squares = PRIOR_DOF * PRIOR_TEAR_SD_MM * PRIOR_TEAR_SD_MM;
    let mut dof = PRIOR_DOF;
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

impl KindScatter {
    /// A prior that is the same on both axes.
    fn alike(sd_mm: f64) -> Self {
        let axis = AxisScatter {
            sd_mm,
            dof: PRIOR_DOF,
        };
        Self { x: axis, y: axis }
    }

    fn as_prior(self, ratio: f64) -> Self {
        let scaled = |axis: AxisScatter| AxisScatter {
            sd_mm: axis.sd_mm * ratio,
            dof: PRIOR_DOF,
        };
        Self {
            x: scaled(self.x),
            y: scaled(self.y),
        }
    }
}

fn learn(kind: ArrowKind, prior: KindScatter, groups: &[(&Group, f64)]) -> KindScatter {
    let of_kind = || groups.iter().filter(|(g, d)| g.kind == kind && *d > 0.0);
    let axis = |prior: AxisScatter, variance: fn(&Group) -> f64| {
        let start = (prior.dof * prior.sd_mm.powi(2), prior.dof);
        let (squares, dof) = of_kind().fold(start, |(squares, dof), (group, distance_m)| {
            let more = f64::from(group.n) - 1.0;
            let at_20 = (TWENTY_YARDS_M / distance_m).powi(2);
            (squares + more * variance(group) * at_20, dof + more)
        });
        AxisScatter {
            sd_mm: (squares / dof).sqrt(),
            dof,
        }
    };
    KindScatter {
        x: axis(prior.x, |g| g.cov.xx_mm2),
        y: axis(prior.y, |g| g.cov.yy_mm2),
    }
}

/// A numbered arrow's habit over several trials.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ArrowHabit {
    /// The number on the shaft.
    pub arrow: i32,
    /// What it was shot as.
    pub kind: ArrowKind,
    /// Groups it was part of.
    pub trials: u32,
    /// Mean of where it lands from the others of its group, brought to 20 yd in proportion, mm.
    pub away: PointMm,
    /// Standard deviation of that mean, mm, sideways.
    pub sd_x_mm: f64,
    /// Standard deviation of that mean, mm, up and down.
    pub sd_y_mm: f64,
    /// Chance of a mean this large for the worst of all numbered arrows if they were alike, 0..1.
    pub p: f64,
}

impl ArrowHabit {
    /// Whether the arrow should be set aside and looked at: fewer than one chance in twenty that
    /// any of a set of like arrows seems so.
    pub fn stands_apart(&self) -> bool {
        self.p < 0.05
    }
}

/// Habits of every numbered arrow that was shot in at least two of the trials (each a list of
/// impacts and its distance, m), the most suspicious first.
pub fn arrow_habits(trials: &[(&[Impact], f64)], scatter: &PooledScatter) -> Vec<ArrowHabit> {
    let mut seen: Vec<(i32, ArrowKind)> = trials
        .iter()
        .flat_map(|(impacts, _)| impacts.iter())
        .filter(|i| i.counts())
        .filter_map(|i| Some((i.arrow?, i.kind)))
        .collect();
    seen.sort_unstable_by_key(|(arrow, kind)| (*arrow, *kind as u8));
    seen.dedup();
    let count = seen.len() as f64;
    let mut habits: Vec<ArrowHabit> = seen
        .into_iter()
        .filter_map(|(arrow, kind)| habit(arrow, kind, trials, scatter))
        .map(|h| ArrowHabit {
            p: (h.p * count).min(1.0),
            ..h
        })
        .collect();
    habits.sort_by(|a, b| a.p.total_cmp(&b.p));
    habits
}

/// Deviation from the others, at 20 yd, and its variance in units of one arrow's.
fn deviations(arrow: i32, kind: ArrowKind, trials: &[(&[Impact], f64)]) -> Vec<(PointMm, f64)> {
    let mut found = Vec::new();
    for (impacts, distance_m) in trials {
        let of_kind = || impacts.iter().filter(|i| i.kind == kind && i.counts());
        let (own, others): (Vec<&Impact>, Vec<&Impact>) =
            of_kind().partition(|i| i.arrow == Some(arrow));
        let (Some(mine), Some(theirs)) = (mean_point(&own), mean_point(&others)) else {
            continue;
        };
        let at_20 = TWENTY_YARDS_M / distance_m.max(f64::MIN_POSITIVE);
        let away = mine - theirs;
        found.push((
            PointMm::new(away.x_mm * at_20, away.y_mm * at_20),
            1.0 / own.len() as f64 + 1.0 / others.len() as f64,
        ));
    }
    found
}

fn mean_point(impacts: &[&Impact]) -> Option<PointMm> {
    let n = impacts.len() as f64;
    let sum = impacts.iter().fold(PointMm::default(), |s, i| s + i.point);
    (n > 0.0).then(|| PointMm::new(sum.x_mm / n, sum.y_mm / n))
}

fn habit(
    arrow: i32,
    kind: ArrowKind,
    trials: &[(&[Impact], f64)],
    scatter: &PooledScatter,
) -> Option<ArrowHabit> {
    let found = deviations(arrow, kind, trials);
    if found.len() < 2 {
        return None;
    }
    let n = found.len() as f64;
    let sum = found
        .iter()
        .fold(PointMm::default(), |s, (away, _)| s + *away);
    let away = PointMm::new(sum.x_mm / n, sum.y_mm / n);
    let spread = found.iter().map(|(_, share)| share).sum::<f64>().sqrt() / n;
    let usual = scatter.kind(kind);
    let (sd_x_mm, sd_y_mm) = (usual.x.sd_mm * spread, usual.y.sd_mm * spread);
    let f = f64::midpoint((away.x_mm / sd_x_mm).powi(2), (away.y_mm / sd_y_mm).powi(2));
    Some(ArrowHabit {
        arrow,
        kind,
        trials: found.len() as u32,
        away,
        sd_x_mm,
        sd_y_mm,
        p: f_upper_p(f, 2.0, usual.x.dof.min(usual.y.dof)),
    })
}
