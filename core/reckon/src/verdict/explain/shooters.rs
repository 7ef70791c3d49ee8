//! Whether whoever shoots now and somebody else land apart with the bow as it stands: said, and
//! nothing more. What each adds of their own the belief estimates by itself.

use crate::evidence::{Belief, Probe, SAME_M};
use crate::split::{REAL_P, Split};
use crate::stats::{t_quantile, t_two_sided_p};
use crate::verdict::Reason;
use crate::verdict::limits::FEWEST;
use crate::verdict::seen::splits::standing_of;

/// The split of whoever shoots now against another's.
struct Between {
    own: Split,
    x_mm: f64,
    plus_minus_mm: f64,
    p: f64,
}

/// The least likely difference to be chance between two shooters who are both named, where it is
/// more than chance among all that were compared (Bonferroni).
pub(crate) fn apart(belief: &Belief) -> Option<Reason> {
    let compared = compared(belief);
    let count = compared.len() as f64;
    let least = compared
        .into_iter()
        .min_by(|one, other| one.p.total_cmp(&other.p))?;
    (least.p * count < REAL_P).then_some(Reason::ShootersDiffer {
        kind: least.own.probe,
        x_mm: least.x_mm,
        plus_minus_mm: least.plus_minus_mm,
        distance_m: least.own.distance_m,
    })
}

/// Every probe and distance that whoever shoots now and another shot alike.
fn compared(belief: &Belief) -> Vec<Between> {
    let now = &belief.now.shooter;
    if now.is_none() {
        return Vec::new();
    }
    let mut found = Vec::new();
    for probe in [Probe::Bare, Probe::Broadhead] {
        let own = standing_of(belief, probe, now);
        for other in others(belief) {
            let theirs = standing_of(belief, probe, other);
            found.extend(own.iter().filter_map(|one| between(one, &theirs)));
        }
    }
    found
}

/// Everybody else who gave a name.
fn others<'b>(belief: &'b Belief) -> Vec<&'b Option<String>> {
    let named = belief.seen.iter().map(|seen| &seen.trial.shooter);
    let mut others: Vec<_> = named
        .filter(|one| one.is_some() && **one != belief.now.shooter)
        .collect();
    others.sort();
    others.dedup();
    others
}

fn between(own: &Split, theirs: &[Split]) -> Option<Between> {
    let alike = |one: &&Split| (one.distance_m - own.distance_m).abs() < SAME_M;
    let other = theirs.iter().find(alike)?;
    let enough = |one: &Split| one.n_probe.min(one.n_reference) >= FEWEST;
    let (one_mm2, two_mm2) = (own.cov.xx_mm2, other.cov.xx_mm2);
    let var_mm2 = one_mm2 + two_mm2;
    if !(enough(own) && enough(other) && var_mm2 > 0.0) {
        return None;
    }
    let sd_mm = var_mm2.sqrt();
    let x_mm = own.offset.x_mm - other.offset.x_mm;
    // Satterthwaite 1946, as for the split itself.
    let dof = var_mm2.powi(2) / (one_mm2.powi(2) / own.dof_x + two_mm2.powi(2) / other.dof_x);
    Some(Between {
        own: *own,
        x_mm,
        plus_minus_mm: t_quantile(0.975, dof) * sd_mm,
        p: t_two_sided_p(x_mm / sd_mm, dof),
    })
}
