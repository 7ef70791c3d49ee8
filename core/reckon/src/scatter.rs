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
/// How much more a prior is worth, at most, once other arrows have shown the shooter's level.
const LEVEL_KNOWN_DOF: f64 = 1.0;
/// An arrow that was left out counts as this many standard deviations away at most. Without it the
/// scatter is what is left once the worst is taken away, and intervals are a third too narrow after
/// one arrow was left out (`tests/virtual-bows`: .50 of true splits in 80 % intervals, .67 with it).
const LEFT_OUT_SDS: f64 = 2.5;
/// Chance of a mean this large among like arrows below which an arrow is set aside: one set in twenty, as a
/// split is called real.
const APART_P: f64 = 0.05;

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
    /// A scaled inverse chi-square prior of 4 degrees of freedom per kind and axis. It stands at what
    /// the other kinds and the other axis show against their own priors: the ratio between kinds
    /// belongs to the arrows, the level to the shooter, who scatters with all of them.
    pub fn pooled<'a>(groups: impl IntoIterator<Item = (&'a Group, f64)>) -> Self {
        let seen = Shown::of(groups);
        let kind = |kind| KindScatter {
            x: seen.axis(kind, 0),
            y: seen.axis(kind, 1),
        };
        Self {
            fletched: kind(ArrowKind::Fletched),
            bare: kind(ArrowKind::Bare),
            broadhead: kind(ArrowKind::Broadhead),
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
}

/// Prior deviation of one arrow of a kind at 20 yd, mm.
fn prior_sd_mm(kind: ArrowKind) -> f64 {
    PRIOR_FLETCHED_SD_MM
        * match kind {
            ArrowKind::Fletched => 1.0,
            ArrowKind::Bare => PRIOR_BARE_RATIO,
            ArrowKind::Broadhead => PRIOR_BROADHEAD_RATIO,
        }
}

/// What one axis of one group shows, against its prior.
struct Part {
    kind: ArrowKind,
    axis: usize,
    /// Sum of squares at 20 yd over the prior's variance, and its degrees of freedom.
    squares: f64,
    dof: f64,
    /// The same of arrows left out.
    out: f64,
    out_n: f64,
}

/// What all groups show.
struct Shown(Vec<Part>);

impl Shown {
    fn of<'a>(groups: impl IntoIterator<Item = (&'a Group, f64)>) -> Self {
        let parts = |(group, distance_m): (&Group, f64)| {
            let unit_mm2 = (prior_sd_mm(group.kind) * distance_m / TWENTY_YARDS_M).powi(2);
            let dof = f64::from(group.n) - 1.0;
            let out = group.left_out;
            [
                (0, group.cov.xx_mm2, out.xx_mm2),
                (1, group.cov.yy_mm2, out.yy_mm2),
            ]
            .map(|(axis, variance_mm2, out_mm2)| Part {
                kind: group.kind,
                axis,
                squares: dof * variance_mm2 / unit_mm2,
                dof,
                out: out_mm2 / unit_mm2,
                out_n: f64::from(out.n),
            })
        };
        let shot = groups
            .into_iter()
            .filter(|(_, distance_m)| *distance_m > 0.0);
        Self(shot.flat_map(parts).collect())
    }

    /// Sum of squares over the prior's variance and degrees of freedom, of one kind and axis or of
    /// all others.
    fn sum(&self, kind: ArrowKind, axis: usize, own: bool) -> (f64, f64) {
        let wanted = |part: &&Part| (part.kind == kind && part.axis == axis) == own;
        let parts = self.0.iter().filter(wanted);
        parts.fold((0.0, 0.0), |sum, part| {
            (sum.0 + part.squares, sum.1 + part.dof)
        })
    }

    fn axis(&self, kind: ArrowKind, axis: usize) -> AxisScatter {
        let (others, others_dof) = self.sum(kind, axis, false);
        let level = (PRIOR_DOF + others) / (PRIOR_DOF + others_dof);
        let prior_dof = PRIOR_DOF + LEVEL_KNOWN_DOF * others_dof / (PRIOR_DOF + others_dof);
        let (squares, more) = self.sum(kind, axis, true);
        let dof = prior_dof + more;
        let clean = (prior_dof * level + squares) / dof;
        let own = |part: &&Part| part.kind == kind && part.axis == axis;
        let (out, out_n) = self.0.iter().filter(own).fold((0.0, 0.0), |sum, part| {
            let most = part.out_n * LEFT_OUT_SDS.powi(2) * clean;
            (sum.0 + part.out.min(most), sum.1 + part.out_n)
        });
        AxisScatter {
            sd_mm: prior_sd_mm(kind) * ((dof * clean + out) / (dof + out_n)).sqrt(),
            dof: dof + out_n,
        }
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
        self.p < APART_P
    }
}

/// Habits of every numbered arrow that was shot at least twice in the trials (each a list of
/// impacts and its distance, m), the most suspicious first.
///
/// What of its own was left out of a trial because it stood apart speaks of it all the same: else one that was shot again each
/// time would never show its habit.
/// An arrow is held against what all others scatter: with itself among them a bad one of three made the
/// scatter that hid it.
pub fn arrow_habits(trials: &[(&[Impact], f64)]) -> Vec<ArrowHabit> {
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
        .filter_map(|(arrow, kind)| habit(arrow, kind, trials))
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
        let of_kind = || impacts.iter().filter(|i| i.kind == kind);
        let (own, others): (Vec<&Impact>, Vec<&Impact>) =
            of_kind().partition(|i| i.arrow == Some(arrow));
        let others: Vec<&Impact> = others.into_iter().filter(|i| i.counts()).collect();
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

/// How often an arrow was shot.
fn shots(arrow: i32, kind: ArrowKind, trials: &[(&[Impact], f64)]) -> usize {
    let all = trials.iter().flat_map(|(impacts, _)| impacts.iter());
    all.filter(|one| one.kind == kind && one.arrow == Some(arrow))
        .count()
}

fn mean_point(impacts: &[&Impact]) -> Option<PointMm> {
    let n = impacts.len() as f64;
    let sum = impacts.iter().fold(PointMm::default(), |s, i| s + i.point);
    (n > 0.0).then(|| PointMm::new(sum.x_mm / n, sum.y_mm / n))
}

/// What the arrows of all trials scatter without one of them.
fn scatter_without(arrow: i32, kind: ArrowKind, trials: &[(&[Impact], f64)]) -> PooledScatter {
    let is_own = |i: &Impact| i.kind == kind && i.arrow == Some(arrow);
    let groups: Vec<(Group, f64)> = trials
        .iter()
        .flat_map(|(impacts, distance_m)| {
            let others: Vec<Impact> = impacts.iter().filter(|i| !is_own(i)).cloned().collect();
            let of = move |kind| Some((Group::of(kind, &others).ok()?, *distance_m));
            [ArrowKind::Fletched, ArrowKind::Bare, ArrowKind::Broadhead]
                .into_iter()
                .filter_map(of)
        })
        .collect();
    PooledScatter::pooled(
        groups
            .iter()
            .map(|(group, distance_m)| (group, *distance_m)),
    )
}

fn habit(arrow: i32, kind: ArrowKind, trials: &[(&[Impact], f64)]) -> Option<ArrowHabit> {
    let found = deviations(arrow, kind, trials);
    if shots(arrow, kind, trials) < 2 || found.is_empty() {
        return None;
    }
    let n = found.len() as f64;
    let sum = found
        .iter()
        .fold(PointMm::default(), |s, (away, _)| s + *away);
    let away = PointMm::new(sum.x_mm / n, sum.y_mm / n);
    let spread = found.iter().map(|(_, share)| share).sum::<f64>().sqrt() / n;
    let others = scatter_without(arrow, kind, trials);
    let usual = others.kind(kind);
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
