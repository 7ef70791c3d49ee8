//! The splits as shot with what is fitted now, and how they stand to each other.

use crate::evidence::{Belief, Observation, Probe, SAME_M, SAME_MM, Seen};
use crate::split::Split;
use crate::verdict::{Settings, SplitReading};

/// Whether an observation was shot with the bow as it stands now.
pub(crate) fn as_it_stands(belief: &Belief, observation: &Observation) -> bool {
    stands(belief, &belief.seen[observation.trial])
}

/// Whether a trial was shot with the bow as it stands now.
pub(crate) fn stands(belief: &Belief, seen: &Seen) -> bool {
    is_set(belief, seen, belief.now.offset_mm)
}

/// Whether a trial of this epoch was shot with the cams at `offset_mm` and all else as it stands.
pub(crate) fn is_set(belief: &Belief, seen: &Seen, offset_mm: f64) -> bool {
    let now = &belief.now;
    let wanted_mm = [offset_mm, now.rest_mm, now.nock_mm];
    seen.trial.epoch == now.epoch && same_mm(&set_mm(seen), &wanted_mm)
}

/// Whether an observation was shot since the last change of parts; what was before cannot be shot again.
pub(crate) fn is_of_now(belief: &Belief, observation: &Observation) -> bool {
    belief.seen[observation.trial].trial.epoch == belief.now.epoch
}

/// Whether two observations are the same thing shot twice by one person: nothing was moved or changed between them.
pub(crate) fn is_repeat(belief: &Belief, one: &Observation, other: &Observation) -> bool {
    let [first, second] = [one, other].map(|observation| &belief.seen[observation.trial]);
    is_repeat_sideways(belief, one, other) && same_mm(&set_mm(first), &set_mm(second))
}

/// The same but for the nocking point, which moves nothing sideways.
pub(crate) fn is_repeat_sideways(belief: &Belief, one: &Observation, other: &Observation) -> bool {
    let [first, second] = [one, other].map(|observation| &belief.seen[observation.trial]);
    let [cams_and_rest_mm, those_mm] =
        [first, second].map(|seen| [seen.offset_mm, seen.trial.rest_mm]);
    one.trial != other.trial
        && one.split.probe == other.split.probe
        && (one.split.distance_m - other.split.distance_m).abs() < SAME_M
        && first.trial.epoch == second.trial.epoch
        && first.trial.shooter == second.trial.shooter
        && same_mm(&cams_and_rest_mm, &those_mm)
}

/// Where cams, rest and nocking point stood, mm.
fn set_mm(seen: &Seen) -> [f64; 3] {
    [seen.offset_mm, seen.trial.rest_mm, seen.trial.nock_mm]
}

fn same_mm<const N: usize>(one: &[f64; N], other: &[f64; N]) -> bool {
    one.iter().zip(other).all(|(a, b)| (a - b).abs() <= SAME_MM)
}

/// All that was shot of a probe with the bow as it stands, as one split per distance, by the person whose shots of it count:
/// another's grip turns the bow otherwise.
pub(crate) fn standing(belief: &Belief, probe: Probe) -> Vec<Split> {
    standing_of(belief, probe, counted_shooter(belief, probe))
}

/// Whose shots of a probe count with the bow as it stands: of whoever shoots it now, where he shot it, else of who shot it
/// last.
pub(crate) fn counted_shooter<'b>(belief: &'b Belief, probe: Probe) -> &'b Option<String> {
    let mut latest = belief.observations.iter().rev();
    let now = &belief.now.shooter;
    let of_probe = |one: &&Observation| one.split.probe == probe && as_it_stands(belief, one);
    let own = |one: &&Observation| of_probe(one) && shooter(belief, one) == now;
    if latest.clone().any(|one| own(&one)) {
        return now;
    }
    latest
        .find(of_probe)
        .map_or(now, |one| shooter(belief, one))
}

fn shooter<'b>(belief: &'b Belief, observation: &Observation) -> &'b Option<String> {
    &belief.seen[observation.trial].trial.shooter
}

/// Whether an observation is of the bow as it stands, shot by another person than the one whose shots of it count.
pub(crate) fn is_anothers(belief: &Belief, observation: &Observation) -> bool {
    as_it_stands(belief, observation)
        && shooter(belief, observation) != counted_shooter(belief, observation.split.probe)
}

/// What one shooter shot of a probe with the bow as it stands, as one split per distance.
pub(crate) fn standing_of(belief: &Belief, probe: Probe, shooter: &Option<String>) -> Vec<Split> {
    let of_shooter = belief.observations.iter().filter(|one| {
        one.split.probe == probe
            && as_it_stands(belief, one)
            && self::shooter(belief, one) == shooter
    });
    by_distance(&of_shooter.map(|one| one.split).collect::<Vec<_>>())
}

/// One split per distance, nearest first.
pub(crate) fn by_distance(splits: &[Split]) -> Vec<Split> {
    let mut distances: Vec<f64> = splits.iter().map(|one| one.distance_m).collect();
    distances.sort_by(f64::total_cmp);
    distances.dedup();
    let at = |distance_m: f64| -> Vec<Split> {
        let same = splits
            .iter()
            .filter(|one| one.distance_m.total_cmp(&distance_m).is_eq());
        same.copied().collect()
    };
    distances
        .into_iter()
        .filter_map(|distance_m| Split::pooled(&at(distance_m)))
        .collect()
}

/// The surest split of a probe with the bow as it stands.
pub(crate) fn surest(belief: &Belief, probe: Probe) -> Option<Split> {
    let mut splits = standing(belief, probe);
    splits.sort_by(|a, b| a.x().p.total_cmp(&b.x().p));
    splits.first().copied()
}

/// The surest splits of a probe and of the bare shafts, with the bow as it stands.
pub(crate) fn beside_bare(belief: &Belief, probe: Probe) -> Option<[Split; 2]> {
    Some([surest(belief, probe)?, surest(belief, Probe::Bare)?])
}

/// Whether two splits are real and show opposite faults: one launch fault cannot do that.
pub(crate) fn oppose(belief: &Belief, splits: &[Split; 2]) -> bool {
    let [one, other] = splits.map(|split| {
        let gain = belief.predictive(split.probe, split.distance_m).gain;
        split.offset.x_mm * gain
    });
    splits.iter().all(|split| split.x().is_real()) && one * other < 0.0
}

/// The latest trial of a probe with the bow as it stands.
pub(crate) fn latest(belief: &Belief, probe: Probe) -> Option<i64> {
    let latest = belief
        .observations
        .iter()
        .rev()
        .find(|one| one.split.probe == probe && as_it_stands(belief, one))?;
    Some(belief.seen.get(latest.trial)?.trial.id)
}

/// Places of an observation and of all its repeats.
pub(crate) fn again(belief: &Belief, place: usize) -> Vec<usize> {
    let own = &belief.observations[place];
    let all = belief.observations.iter().enumerate();
    let same = all.filter(|(other, one)| *other == place || is_repeat(belief, own, one));
    same.map(|(other, _)| other).collect()
}

/// Whether an observation and all its repeats are inside tolerance, as they were shot.
pub(crate) fn is_inside(belief: &Belief, place: usize, settings: &Settings) -> bool {
    again(belief, place).into_iter().all(|one| {
        let split = &belief.observations[one].split;
        split.offset.x_mm.abs() <= tolerance_mm(split, settings)
    })
}

/// The tolerance at a split's distance, mm.
pub(crate) fn tolerance_mm(split: &Split, settings: &Settings) -> f64 {
    settings.allowed_mm(split.probe, split.distance_m)
}

/// Whether a split lies outside the tolerance at its distance, 39 times in 40.
pub(crate) fn is_surely_out(split: &Split, settings: &Settings) -> bool {
    let (tolerance_mm, x) = (tolerance_mm(split, settings), split.x());
    x.low95_mm > tolerance_mm || x.high95_mm < -tolerance_mm
}

/// The splits of each probe and distance with the bow as it stands; where a probe was not shot
/// so, its latest one.
pub(crate) fn splits(belief: &Belief) -> Vec<SplitReading> {
    let mut readings = Vec::new();
    for probe in [Probe::Bare, Probe::Broadhead, Probe::Paper] {
        let mut found = standing(belief, probe);
        if found.is_empty() {
            let mut all = belief.observations.iter().rev();
            let latest = all.find(|one| one.split.probe == probe);
            found.extend(latest.map(|one| one.split));
        }
        readings.extend(found.iter().map(SplitReading::from));
    }
    readings
}
