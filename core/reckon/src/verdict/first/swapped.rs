//! A swap that made it worse: before anything is concluded, the pieces and the strings are looked
//! at, and the result is shot again.

use crate::evidence::priors::MODEL_ERROR_PER_DOUBLING;
use crate::evidence::{Belief, Observation, Probe};
use crate::split::Split;
use crate::verdict::deliberation::Deliberation;
use crate::verdict::limits::{ENOUGH, FEWEST, LOOKED_AT_ROUNDS};
use crate::verdict::seen::heads::moved_apart;
use crate::verdict::seen::splits::{by_distance, counted_shooter, is_set, standing};
use crate::verdict::steps::trim;
use crate::verdict::{Adjustment, Aim, Arrows};

/// The last swap of this epoch moved the split the way that is not expected, and it is out; too few arrows stand
/// behind that to believe it of the bow.
pub(crate) fn confirm(deliberation: &Deliberation) -> Option<Adjustment> {
    let aims = deliberation.aims.iter();
    // Heads that went the other way than the bare shafts do not speak of the swap.
    let heads = moved_apart(&deliberation.belief).is_none();
    let mut faces = aims.filter(|aim| match aim.probe {
        Probe::Bare => true,
        Probe::Broadhead => heads,
        Probe::Paper => false,
    });
    faces.find_map(|aim| confirm_of(deliberation, aim))
}

fn confirm_of(deliberation: &Deliberation, aim: &Aim) -> Option<Adjustment> {
    let belief = &deliberation.belief;
    let (from_mm, before) = before(belief, aim)?;
    let (before_mm, after) = at_one_distance(belief, &before, &standing(belief, aim.probe), aim)?;
    let rounds = belief.observations.iter();
    let rounds = rounds.filter(|one| one.split.probe == aim.probe && is_since(belief, one));
    let rounds = rounds.count();
    let enough = after.n_probe.min(after.n_reference) >= ENOUGH && rounds >= LOOKED_AT_ROUNDS;
    // Shot from other distances too, it was looked at all the same.
    if enough || rounds > LOOKED_AT_ROUNDS {
        return None;
    }
    let after_mm = after.offset.x_mm;
    let expected = (belief.now.offset_mm - from_mm) * aim.predictive.gain;
    let along_mm = (after_mm - before_mm) * expected.signum();
    let out = after_mm.abs() > aim.tolerance_mm;
    (out && along_mm < 0.0 && before_mm.abs() < after_mm.abs()).then(|| Adjustment::ConfirmSwap {
        before_mm,
        after_mm,
        arrows: Arrows::round(aim.probe, FEWEST, after.distance_m),
    })
}

/// Whether an observation was shot since the last change of parts with the cams where they stand, wherever the rest was.
fn is_since(belief: &Belief, observation: &Observation) -> bool {
    let seen = &belief.seen[observation.trial];
    let here = (seen.offset_mm - belief.now.offset_mm).abs() <= trim::SWAPPED_MM;
    seen.trial.epoch == belief.now.epoch && here
}

/// What was shot before the last swap: the offset then, and the splits of the aim's probe, one per distance.
fn before(belief: &Belief, aim: &Aim) -> Option<(f64, Vec<Split>)> {
    let of_now = belief
        .seen
        .iter()
        .filter(|seen| seen.trial.epoch == belief.now.epoch);
    let away = |offset_mm: f64| (offset_mm - belief.now.offset_mm).abs() > trim::SWAPPED_MM;
    let mut places: Vec<f64> = of_now.map(|seen| seen.offset_mm).collect();
    places.reverse();
    let from_mm = places.into_iter().find(|place| away(*place))?;
    // Another hand turns the bow otherwise.
    let shooter = counted_shooter(belief, aim.probe);
    let shot: Vec<Split> = belief
        .observations
        .iter()
        .filter(|one| one.split.probe == aim.probe)
        .filter(|one| is_set(belief, &belief.seen[one.trial], from_mm))
        .filter(|one| belief.seen[one.trial].trial.shooter == *shooter)
        .map(|one| one.split)
        .collect();
    Some((from_mm, by_distance(&shot)))
}

/// What was shot after, and the split before it at the same distance, mm: as it was shot there, where it counts or else as far away
/// as both were; else carried from the nearest distance, as much larger as the flight model may err.
fn at_one_distance(
    belief: &Belief,
    before: &[Split],
    after: &[Split],
    aim: &Aim,
) -> Option<(f64, Split)> {
    let pairs = before
        .iter()
        .flat_map(|one| after.iter().map(move |other| (one, other)));
    let doublings =
        |(one, other): &(&Split, &Split)| (other.distance_m / one.distance_m).log2().abs();
    let away_m = |pair: &(&Split, &Split)| (pair.1.distance_m - aim.distance_m).abs();
    let (one, other) = pairs.min_by(|a, b| {
        let nearer = doublings(a).total_cmp(&doublings(b));
        nearer.then(away_m(a).total_cmp(&away_m(b)))
    })?;
    let gain = |split: &Split| belief.predictive(aim.probe, split.distance_m).gain;
    let may_err = 1.0 + MODEL_ERROR_PER_DOUBLING * doublings(&(one, other));
    let carried_mm = one.offset.x_mm * gain(other) / gain(one) * may_err;
    Some((carried_mm, *other))
}
