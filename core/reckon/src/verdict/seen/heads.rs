//! Broadheads that one move of the cams or the rest took the other way than the bare shafts.

use crate::evidence::{Belief, Observation, Probe, SAME_M, SAME_MM, within};
use crate::split::Split;
use crate::verdict::limits::{ALIKE_SDS, LIKELY, LOOKED_AT_ROUNDS};
use crate::verdict::{Reason, Settings};

use super::outvoted::rounds;
use super::splits::{as_it_stands, by_distance};

/// How far the last move of cams or rest took each, mm, positive right.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct MovedApart {
    pub(crate) heads_mm: f64,
    pub(crate) bare_mm: f64,
}

/// Broadheads and bare shafts that the last move of cams or rest took to opposite sides, each farther than scatter
/// does: no single fault of the bow does that.
pub(crate) fn moved_apart(belief: &Belief) -> Option<MovedApart> {
    let mut earlier = belief.observations.iter().rev();
    let before = earlier.find(|one| {
        belief.seen[one.trial].trial.epoch == belief.now.epoch && !stands_sideways(belief, one)
    })?;
    let place_mm = sideways_mm(belief, before);
    let then = |one: &Observation| {
        belief.seen[one.trial].trial.epoch == belief.now.epoch
            && same(sideways_mm(belief, one), place_mm)
    };
    let now = |one: &Observation| as_it_stands(belief, one);
    let moved = |probe: Probe| moved_mm(&shot(belief, probe, then), &shot(belief, probe, now));
    let (heads_mm, bare_mm) = (moved(Probe::Broadhead)?, moved(Probe::Bare)?);
    (heads_mm * bare_mm < 0.0).then_some(MovedApart { heads_mm, bare_mm })
}

/// Whether the heads were shot again.
pub(crate) fn looked_at(belief: &Belief) -> bool {
    let heads = |at: &usize| belief.observations[*at].split.probe == Probe::Broadhead;
    let again = |rounds: &Vec<usize>| rounds.len() >= LOOKED_AT_ROUNDS && rounds.iter().all(heads);
    rounds(belief).iter().any(again)
}

/// Whether heads lie so far from where the bare shafts let one expect them that no place of cams or rest brings both inside
/// tolerance, farther than scatter does, while the bare shafts as they were shot are more likely in than out, or the heads
/// lie on the other side.
pub(crate) fn lie_apart(belief: &Belief, settings: &Settings, [heads, bare]: &[Split; 2]) -> bool {
    let gain = |split: &Split| belief.predictive(split.probe, split.distance_m).gain;
    let lever = gain(heads) / gain(bare);
    let (heads_mm, expected_mm) = (heads.offset.x_mm, lever * bare.offset.x_mm);
    let (own_sd_mm, bare_sd_mm) = (heads.cov.sd_x_mm(), bare.cov.sd_x_mm());
    let sd_mm = own_sd_mm.hypot(lever * bare_sd_mm);
    let allowed = |split: &Split| settings.allowed_mm(split.probe, split.distance_m);
    let both_mm = allowed(heads) + lever.abs() * allowed(bare);
    let far = (heads_mm - expected_mm).abs() > both_mm.max(ALIKE_SDS * sd_mm);
    let bare_in = within(bare.offset.x_mm, bare_sd_mm, allowed(bare)) >= LIKELY;
    let other_side = heads_mm * expected_mm < 0.0 && heads_mm.abs() > ALIKE_SDS * own_sd_mm;
    far && (bare_in || other_side)
}

/// Broadheads and bare shafts that lie apart, as a reason.
pub(crate) fn heads_apart([heads, bare]: &[Split; 2]) -> Reason {
    Reason::HeadsApart {
        heads_mm: heads.offset.x_mm,
        bare_mm: bare.offset.x_mm,
    }
}

/// Where cams and rest stood, mm.
fn sideways_mm(belief: &Belief, observation: &Observation) -> [f64; 2] {
    let seen = &belief.seen[observation.trial];
    [seen.offset_mm, seen.trial.rest_mm]
}

fn stands_sideways(belief: &Belief, observation: &Observation) -> bool {
    let now = &belief.now;
    same(
        sideways_mm(belief, observation),
        [now.offset_mm, now.rest_mm],
    )
}

fn same(one: [f64; 2], other: [f64; 2]) -> bool {
    one.iter().zip(other).all(|(a, b)| (a - b).abs() <= SAME_MM)
}

/// What was shot of a probe in some of the trials, as one split per distance.
fn shot(belief: &Belief, probe: Probe, of: impl Fn(&Observation) -> bool) -> Vec<Split> {
    let shot = belief.observations.iter();
    let shot = shot.filter(|one| one.split.probe == probe && of(one));
    by_distance(&shot.map(|one| one.split).collect::<Vec<_>>())
}

/// How far a split moved at a distance shot before and after, mm, where it moved farther than scatter does.
fn moved_mm(before: &[Split], after: &[Split]) -> Option<f64> {
    after.iter().find_map(|after| {
        let near = |one: &&Split| (one.distance_m - after.distance_m).abs() < SAME_M;
        let before = before.iter().find(near)?;
        let moved_mm = after.offset.x_mm - before.offset.x_mm;
        let sd_mm = (after.cov.xx_mm2 + before.cov.xx_mm2).sqrt();
        (moved_mm.abs() > ALIKE_SDS * sd_mm).then_some(moved_mm)
    })
}
