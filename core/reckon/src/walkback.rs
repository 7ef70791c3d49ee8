//! Walk-back: fletched arrows shot at a plumb line from several distances with one sight pin. How
//! their sideways places change with distance says what is off.
//!
//! A sight that is off shows as a straight slant through the bow, just as an off rest or an off
//! centre-shot does; a launch fault that the vanes have not yet worked out, or contact, shows as a
//! bend. The reading therefore separates place, slant and bend, and names no screw to turn:
//! which way a rest has to move is disputed in the trade until this bow has shown it.

use crate::distance::{self, DistanceError};
use crate::frame::{ArrowKind, Side};
use crate::group::Group;
use crate::scatter::PooledScatter;
use crate::stats;
use serde::{Deserialize, Serialize};

/// Fewest different distances that can show a bend beside a slant.
const FEWEST: usize = 3;
/// Distances closer together than this, m, count as one.
const APART_M: f64 = 0.5;
/// Level of "shown": one reading in twenty is called so by chance.
const LEVEL: f64 = 0.05;

/// What a walk-back shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum WalkBackMeaning {
    /// The groups stay on the line as well as these arrows can show.
    OnTheLine,
    /// They move away from the line in proportion to distance: the arrow leaves the bow at an angle
    /// to the sight. Centre-shot, rest or sight, not the cams.
    Slant {
        /// The side that far groups lie to.
        far_side: Side,
    },
    /// They bend: something changes the arrow's path in flight, such as contact with rest or cable,
    /// grip torque, wind, or a launch fault that the vanes are still working out.
    Bend {
        /// The side that the far groups bend to.
        far_side: Side,
    },
    /// They lie beside the line by the same amount at every distance: how the line was hung, or where
    /// it was aimed at.
    Beside {
        /// The side that they lie to.
        side: Side,
    },
}

/// A fitted coefficient with its uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Coefficient {
    /// Its value.
    pub value: f64,
    /// Its standard deviation.
    pub sd: f64,
    /// Chance of a value this large if it were zero, 0..1.
    pub p: f64,
}

/// A walk-back reading. `x(D) = beside + slant D + bend (D - near)(D - far) / m²`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WalkBack {
    /// Sideways place where the straight line meets the bow, mm.
    pub beside_mm: Coefficient,
    /// Sideways per distance, mm per m, positive right.
    pub slant_mm_per_m: Coefficient,
    /// Bend, mm per m²; none below three distances.
    pub bend_mm_per_m2: Option<Coefficient>,
    /// Nearest distance, m.
    pub near_m: f64,
    /// Farthest distance, m.
    pub far_m: f64,
    /// What it means.
    pub meaning: WalkBackMeaning,
}

/// Why a walk-back could not be read.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum WalkBackError {
    /// Too few distances.
    #[error(
        "a walk-back needs groups at two distances or more, at least {APART_M} m apart; shoot at another one (three show a bend as well)"
    )]
    TooFewDistances,
    /// A group of another kind.
    #[error(
        "a walk-back is read from fletched arrows with field points only; leave the others out"
    )]
    NotFletched {
        /// What was given.
        kind: ArrowKind,
    },
    /// A distance out of range.
    #[error(transparent)]
    Distance(#[from] DistanceError),
}

/// Reads groups of fletched arrows, each with its distance, m, against a plumb line at x = 0.
///
/// # Errors
/// [`WalkBackError`] for too few distances, other arrows, or a distance out of range.
pub fn read(groups: &[(Group, f64)], scatter: &PooledScatter) -> Result<WalkBack, WalkBackError> {
    for (group, distance_m) in groups {
        distance::checked_m(*distance_m)?;
        if group.kind != ArrowKind::Fletched {
            return Err(WalkBackError::NotFletched { kind: group.kind });
        }
    }
    let distances = different(groups);
    let (Some(near_m), Some(far_m)) = (distances.first().copied(), distances.last().copied())
    else {
        return Err(WalkBackError::TooFewDistances);
    };
    let straight = fit(groups, scatter, |d| vec![1.0, d]).ok_or(WalkBackError::TooFewDistances)?;
    if distances.len() < 2 {
        return Err(WalkBackError::TooFewDistances);
    }
    let bent = |d: f64| vec![1.0, d, (d - near_m) * (d - far_m)];
    let bend = (distances.len() >= FEWEST)
        .then(|| fit(groups, scatter, bent))
        .flatten()
        .and_then(|c| c.get(2).copied());
    let [beside_mm, slant_mm_per_m] = straight[..] else {
        return Err(WalkBackError::TooFewDistances);
    };
    Ok(WalkBack {
        beside_mm,
        slant_mm_per_m,
        bend_mm_per_m2: bend,
        near_m,
        far_m,
        meaning: meaning(beside_mm, slant_mm_per_m, bend),
    })
}

/// Distances in order, those within half a metre as one.
fn different(groups: &[(Group, f64)]) -> Vec<f64> {
    let mut distances: Vec<f64> = groups.iter().map(|(_, d)| *d).collect();
    distances.sort_by(f64::total_cmp);
    distances.dedup_by(|later, first| *later - *first < APART_M);
    distances
}

/// Weighted least squares with the pooled scatter as known noise, tested with its degrees of freedom.
fn fit(
    groups: &[(Group, f64)],
    scatter: &PooledScatter,
    terms: impl Fn(f64) -> Vec<f64>,
) -> Option<Vec<Coefficient>> {
    let dof = scatter.fletched.x.dof;
    let (mut rows, mut places) = (Vec::new(), Vec::new());
    for (group, distance_m) in groups {
        let one = scatter.cov(ArrowKind::Fletched, *distance_m).xx_mm2;
        let sd_mm = (one / f64::from(group.n) + group.reading.xx_mm2).sqrt();
        rows.push(terms(*distance_m).into_iter().map(|v| v / sd_mm).collect());
        places.push(group.centre.x_mm / sd_mm);
    }
    let fit = stats::least_squares(&rows, &places)?;
    let width = fit.coefficients.len();
    let known = fit.unscaled.iter().step_by(width + 1);
    Some(
        fit.coefficients
            .iter()
            .zip(known)
            .map(|(value, variance)| Coefficient {
                value: *value,
                sd: variance.sqrt(),
                p: stats::t_two_sided_p(value / variance.sqrt(), dof),
            })
            .collect(),
    )
}

/// A bend outweighs a slant, a slant what lies beside.
fn meaning(beside: Coefficient, slant: Coefficient, bend: Option<Coefficient>) -> WalkBackMeaning {
    let side = |value: f64| if value < 0.0 { Side::Left } else { Side::Right };
    match bend {
        Some(bend) if bend.p < LEVEL => WalkBackMeaning::Bend {
            far_side: side(bend.value),
        },
        _ if slant.p < LEVEL => WalkBackMeaning::Slant {
            far_side: side(slant.value),
        },
        _ if beside.p < LEVEL => WalkBackMeaning::Beside {
            side: side(beside.value),
        },
        _ => WalkBackMeaning::OnTheLine,
    }
}
