//! Rounds with nothing changed between them that go one way in the order they were shot, by and by or in one step: a string
//! creeps, a screw works loose. What counts is where they have gone.

use crate::evidence::{Belief, Observation, Probe, SAME_MM};
use crate::verdict::limits::{APART_SDS, MOVED_SDS};
use crate::verdict::{Reason, Settings};

use super::outvoted::rounds;
use super::splits::{is_of_now, tolerance_mm};
use super::stepped::{Axis, Round, step};

/// Fewer rounds do not tell a way they go from scatter.
const FEWEST_ROUNDS: usize = 4;
/// So many of the newest of them count: one may be a wild one.
const NEWEST: usize = 2;

/// Rounds that go one way.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Crept {
    pub(crate) probe: Probe,
    pub(crate) rounds: usize,
    pub(crate) axis: Axis,
    /// In the first and in the last of them, by their line or before and after the step, mm; in height without what gravity
    /// and drag explain.
    pub(crate) from_mm: f64,
    pub(crate) to_mm: f64,
    /// Places of those from before, which do not count.
    pub(crate) before: Vec<usize>,
}

impl Crept {
    pub(crate) fn reason(&self) -> Reason {
        Reason::Crept {
            kind: self.probe,
            rounds: self.rounds as u32,
            in_height: self.axis == Axis::Height,
            from_mm: self.from_mm,
            to_mm: self.to_mm,
        }
    }
}

/// The first probe whose rounds with the bow as it stands go one way, by more than is allowed: sideways before in height.
pub(crate) fn crept(belief: &Belief, settings: &Settings) -> Option<Crept> {
    let each = rounds(belief);
    let mut axes = [Axis::Sideways, Axis::Height].into_iter();
    axes.find_map(|axis| {
        let mut each = each.iter();
        each.find_map(|places| along(belief, settings, axis, places))
    })
}

/// The rounds of one probe and distance, where they go one way on one axis.
fn along(belief: &Belief, settings: &Settings, axis: Axis, places: &[usize]) -> Option<Crept> {
    let of = |at: &usize| axis.of(&belief.observations[*at]);
    let rounds: Vec<Round> = places.iter().map(of).collect();
    let creep = || ends_mm(&rounds).map(|ends_mm| (NEWEST, ends_mm));
    let (kept, [from_mm, to_mm]) = creep().or_else(|| step(&rounds))?;
    let first = *places.first()?;
    let split = &belief.observations[first].split;
    if (to_mm - from_mm).abs() <= tolerance_mm(split, settings) {
        return None;
    }
    let mut before = places[..places.len() - kept].to_vec();
    let mut explained_mm = 0.0;
    if axis == Axis::Height {
        before.extend(at_other_heights(belief, first));
        explained_mm = belief.explained_y_mm(split.probe, split.distance_m);
    }
    Some(Crept {
        probe: split.probe,
        rounds: rounds.len(),
        axis,
        from_mm: from_mm - explained_mm,
        to_mm: to_mm - explained_mm,
        before,
    })
}

/// Rounds of a probe with the nocking point elsewhere: what its moves did was undone by what slipped.
fn at_other_heights(belief: &Belief, place: usize) -> impl Iterator<Item = usize> {
    let own = &belief.observations[place];
    let nock_mm = |one: &Observation| belief.seen[one.trial].trial.nock_mm;
    let all = belief.observations.iter().enumerate();
    let elsewhere = all.filter(move |(_, one)| {
        let moved = (nock_mm(one) - nock_mm(own)).abs() > SAME_MM;
        one.split.probe == own.split.probe && is_of_now(belief, one) && moved
    });
    elsewhere.map(|(at, _)| at)
}

/// Both ends of the line through the rounds in their order, mm; `None` where it may as well be level.
fn ends_mm(rounds: &[Round]) -> Option<[f64; 2]> {
    if rounds.len() < FEWEST_ROUNDS {
        return None;
    }
    let each = || {
        rounds
            .iter()
            .zip(0_u32..)
            .map(|(one, at)| (f64::from(at), one.mm, one.var_mm2.recip()))
    };
    let weight: f64 = each().map(|(_, _, w)| w).sum();
    let middle = each().map(|(at, _, w)| w * at).sum::<f64>() / weight;
    let mean_mm = each().map(|(_, mm, w)| w * mm).sum::<f64>() / weight;
    let precision: f64 = each().map(|(at, _, w)| w * (at - middle).powi(2)).sum();
    let pull: f64 = each().map(|(at, mm, w)| w * (at - middle) * mm).sum();
    let slope_mm = pull / precision;
    let last = f64::from(rounds.len() as u32 - 1);
    let line_mm = |at: f64| mean_mm + slope_mm * (at - middle);
    let shown = slope_mm.abs() > MOVED_SDS * precision.sqrt().recip();
    let on_it = each().all(|(at, mm, w)| (mm - line_mm(at)).powi(2) * w < APART_SDS.powi(2));
    (shown && on_it).then(|| [0.0, last].map(line_mm))
}
