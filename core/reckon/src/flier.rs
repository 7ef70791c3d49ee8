//! The arrow that stands apart from its group.

use serde::{Deserialize, Serialize};

use crate::frame::{ArrowKind, PointMm};
use crate::group::{Group, GroupError, Impact};
use crate::scatter::{KindScatter, PRIOR_DOF, PooledScatter};
use crate::stats::f_upper_p;
use crate::units::TWENTY_YARDS_M;

/// Level of the test over a whole group: one clean group in thirty is looked at for nothing, which
/// costs one arrow; a wild one that is believed costs a move of the bow.
const LEVEL: f64 = 0.03;
/// Two arrows cannot say which of them stands apart.
const FEWEST: u32 = 3;

/// An impact that stands apart from its group. It is flagged, never dropped.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Flier {
    /// Its place in the list of impacts, from 0.
    pub index: u32,
    /// From the centre of the others to it, mm.
    pub away: PointMm,
    /// Chance that any arrow of a sound group stands so far apart, 0..1.
    pub p: f64,
}

/// The counted impact of `kind` that stands apart from the others of its group, if one does.
///
/// Each arrow in turn is held against the centre of the others with the scatter pooled over all
/// groups *without it*, both axes alike (leave-one-out residual; F on 2 and the pooled degrees of
/// freedom, Bonferroni over the group). So two arrows within a few mm show a third at 140 mm, which a test on the
/// group's own spread cannot. `others` are the further groups of this shooter with their distances, m.
///
/// # Errors
/// As [`Group::of`].
pub fn flier(
    kind: ArrowKind,
    impacts: &[Impact],
    distance_m: f64,
    others: &[(&Group, f64)],
) -> Result<Option<Flier>, GroupError> {
    let n = Group::of(kind, impacts)?.n;
    if n < FEWEST {
        return Ok(None);
    }
    let counted = |(_, impact): &(usize, &Impact)| impact.kind == kind && impact.counts();
    let mut worst: Option<Flier> = None;
    for (index, impact) in impacts.iter().enumerate().filter(counted) {
        let rest: Vec<Impact> = impacts
            .iter()
            .enumerate()
            .filter(|(other, _)| *other != index)
            .map(|(_, impact)| impact.clone())
            .collect();
        let rest = Group::of(kind, &rest)?;
        let away = impact.point - rest.centre;
        let p = (chance(away, &rest, distance_m, others) * f64::from(n)).min(1.0);
        if p < worst.map_or(LEVEL, |worst| worst.p) {
            worst = Some(Flier {
                index: index as u32,
                away,
                p,
            });
        }
    }
    Ok(worst)
}

/// Chance of an arrow so far from the centre of the rest of its group.
fn chance(away: PointMm, rest: &Group, distance_m: f64, others: &[(&Group, f64)]) -> f64 {
    let groups = others.iter().copied().chain([(rest, distance_m)]);
    let KindScatter { x, y } = *PooledScatter::pooled(groups).kind(rest.kind);
    let squares = x.dof * x.sd_mm.powi(2) + y.dof * y.sd_mm.powi(2);
    let var_mm2 = squares / (x.dof + y.dof);
    // The prior is one guess at the shooter, not one on each axis.
    let dof = x.dof + y.dof - PRIOR_DOF;
    let grown = (distance_m / TWENTY_YARDS_M).powi(2) * (1.0 + 1.0 / f64::from(rest.n));
    let away_mm2 = away.x_mm.powi(2) + away.y_mm.powi(2);
    f_upper_p(0.5 * away_mm2 / (var_mm2 * grown), 2.0, dof)
}
