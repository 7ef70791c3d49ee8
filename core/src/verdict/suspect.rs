//! Evidence that does not fit: a trial that contradicts the others, a tear that does not follow
//! the bare shafts, bare shafts that scatter too much.

use crate::evidence::{Belief, Probe, Shot};
use crate::frame::ArrowKind;
use crate::split::Split;
use crate::stats::f_upper_p;

use super::Adjustment;
use super::splits::{as_it_stands, standing};

/// A trial this many standard deviations from what all others say contradicts them: so far out
/// that heavy-tailed scatter rarely does it.
const CONTRADICTS_SDS: f64 = 4.0;
/// Fewer splits than this cannot outvote one.
const FEWEST_SPLITS: usize = 3;
/// Bare shafts are taken to scatter up to this many times as much as fletched ones (common
/// practice, no source: 1.3 to 2).
const USUAL_BARE_RATIO: f64 = 2.0;
/// Ratio of scatters that is worth a look.
const SUSPECT_BARE_RATIO: f64 = 3.0;
/// Chance of such a ratio by luck below which it is taken as shown.
const SPINE_P: f64 = 0.005;
/// Degrees of freedom of each kind before that: two groups of three arrows on both axes.
const SPINE_DOF: f64 = 8.0;

/// The observation that disagrees most, as (place in the list, standard deviations).
pub(crate) fn worst(belief: &Belief) -> Option<(usize, f64)> {
    if belief.observations.len() < FEWEST_SPLITS {
        return None;
    }
    let sizes = belief.surprises();
    let places = sizes.into_iter().enumerate();
    places
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .filter(|(_, sds)| *sds > CONTRADICTS_SDS)
}

/// A trial that contradicts all others.
pub(crate) fn contradiction(belief: &Belief) -> Option<Adjustment> {
    let (place, _) = worst(belief)?;
    let observation = belief.observations.get(place)?;
    let trial = belief.seen.get(observation.trial)?.trial.id;
    Some(Adjustment::Contradiction { trial })
}

/// Paper and bare shafts that are both real, with the bow as it stands, and show opposite faults:
/// one launch fault cannot do that, so something touches the arrow or turns the bow.
pub(crate) fn contact(belief: &Belief) -> Option<Adjustment> {
    let tear = real(belief, Probe::Paper)?;
    let bare = real(belief, Probe::Bare)?;
    let fault = |split: &Split| {
        let gain = belief.outlook(split.probe, split.distance_m).gain;
        split.offset.x_mm * gain
    };
    if fault(&tear) * fault(&bare) >= 0.0 {
        return None;
    }
    let of_paper = belief
        .observations
        .iter()
        .rev()
        .find(|one| one.split.probe == Probe::Paper && as_it_stands(belief, one))?;
    Some(Adjustment::Contact {
        trial: belief.seen.get(of_paper.trial)?.trial.id,
        tear_mm: tear.offset.x_mm,
        bare_mm: bare.offset.x_mm,
    })
}

/// The surest split of a probe with the bow as it stands, where it is more than scatter.
fn real(belief: &Belief, probe: Probe) -> Option<Split> {
    let splits = standing(belief, probe);
    let mut real: Vec<Split> = splits.into_iter().filter(|one| one.x().is_real()).collect();
    real.sort_by(|a, b| a.x().p.total_cmp(&b.x().p));
    real.first().copied()
}

/// Bare shafts that scatter far more than they should.
pub(crate) fn spine(belief: &Belief) -> Option<Adjustment> {
    let (bare, bare_dof) = raw_scatter(belief, ArrowKind::Bare);
    let (fletched, fletched_dof) = raw_scatter(belief, ArrowKind::Fletched);
    if bare_dof < SPINE_DOF || fletched_dof < SPINE_DOF || fletched <= 0.0 {
        return None;
    }
    let ratio = (bare / fletched).sqrt();
    let f = ratio * ratio / (USUAL_BARE_RATIO * USUAL_BARE_RATIO);
    let shown = ratio > SUSPECT_BARE_RATIO && f_upper_p(f, bare_dof, fletched_dof) < SPINE_P;
    shown.then_some(Adjustment::Spine { ratio })
}

/// Variance of one kind per axis at 20 yd from this epoch's groups alone, and its degrees of freedom.
fn raw_scatter(belief: &Belief, kind: ArrowKind) -> (f64, f64) {
    let (mut squares, mut dof) = (0.0, 0.0);
    for seen in belief
        .seen
        .iter()
        .filter(|seen| seen.trial.epoch == belief.now.epoch)
    {
        let Shot::Face { distance_m, .. } = seen.trial.shot else {
            continue;
        };
        let Some(group) = seen.group(kind) else {
            continue;
        };
        let more = f64::from(group.n) - 1.0;
        squares += more * (group.cov.xx_mm2 + group.cov.yy_mm2) / distance_m.powi(2);
        dof += 2.0 * more;
    }
    (if dof > 0.0 { squares / dof } else { 0.0 }, dof)
}
