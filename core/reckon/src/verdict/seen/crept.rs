//! Rounds with nothing changed between them that go one way in the order they were shot, by and by or in one step: a string
//! creeps, a screw works loose. What counts is where they have gone.

use crate::evidence::{Belief, Observation, Probe};
use crate::verdict::{Reason, Settings};

use super::outvoted::present;
use super::splits::{again, tolerance_mm};
use super::stepped::step;

/// Fewer rounds do not tell a way they go from scatter.
const FEWEST_ROUNDS: usize = 4;
/// A slope over the rounds beyond this many of its standard deviations is more than scatter: one sound bow in a thousand.
const SLOPE_SDS: f64 = 3.3;
/// A round farther from the line than this many standard deviations jumped; it did not creep.
const OFF_THE_LINE_SDS: f64 = 2.6;
/// Rounds before the newest that lie within this many standard deviations of those after them count with them.
const WITH_THE_NEWEST_SDS: f64 = 1.0;
/// So many of the newest rounds count in any case: one is a wild one.
const NEWEST: usize = 2;

/// Rounds that go one way.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Crept {
    pub(crate) probe: Probe,
    pub(crate) rounds: usize,
    /// Sideways in the first and in the last of them, by their line or before and after the step, mm.
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
            from_mm: self.from_mm,
            to_mm: self.to_mm,
        }
    }
}

/// The first probe whose rounds with the bow as it stands go one way, by more than is allowed.
pub(crate) fn crept(belief: &Belief, settings: &Settings) -> Option<Crept> {
    let mut latest = present(belief);
    latest.find_map(|place| {
        let places = again(belief, place);
        let rounds: Vec<&Observation> = places.iter().map(|at| &belief.observations[*at]).collect();
        let creep = || ends_mm(&rounds).map(|ends_mm| (newest(&rounds), ends_mm));
        let (kept, [from_mm, to_mm]) = creep().or_else(|| step(&rounds))?;
        let first = rounds.first()?;
        let far = (to_mm - from_mm).abs() > tolerance_mm(&first.split, settings);
        far.then(|| Crept {
            probe: first.split.probe,
            rounds: rounds.len(),
            from_mm,
            to_mm,
            before: places[..places.len() - kept].to_vec(),
        })
    })
}

/// Both ends of the line through the rounds in their order, mm; `None` where it may as well be level.
fn ends_mm(rounds: &[&Observation]) -> Option<[f64; 2]> {
    if rounds.len() < FEWEST_ROUNDS {
        return None;
    }
    let each = || {
        rounds
            .iter()
            .zip(0_u32..)
            .map(|(one, at)| (f64::from(at), one.split.offset.x_mm, one.var_x_mm2.recip()))
    };
    let weight: f64 = each().map(|(_, _, w)| w).sum();
    let middle = each().map(|(at, _, w)| w * at).sum::<f64>() / weight;
    let mean_mm = each().map(|(_, x_mm, w)| w * x_mm).sum::<f64>() / weight;
    let precision: f64 = each().map(|(at, _, w)| w * (at - middle).powi(2)).sum();
    let pull: f64 = each().map(|(at, x_mm, w)| w * (at - middle) * x_mm).sum();
    let slope_mm = pull / precision;
    let last = f64::from(rounds.len() as u32 - 1);
    let line_mm = |at: f64| mean_mm + slope_mm * (at - middle);
    let shown = slope_mm.abs() > SLOPE_SDS * precision.sqrt().recip();
    let on_it =
        each().all(|(at, x_mm, w)| (x_mm - line_mm(at)).powi(2) * w < OFF_THE_LINE_SDS.powi(2));
    (shown && on_it).then(|| [0.0, last].map(line_mm))
}

/// How many of the newest rounds lie together.
fn newest(rounds: &[&Observation]) -> usize {
    let mut kept = 0;
    let (mut weight, mut sum_mm) = (0.0, 0.0);
    for one in rounds.iter().rev() {
        let mean_mm = sum_mm / weight;
        let sd_mm = (one.var_x_mm2 + f64::recip(weight)).sqrt();
        let apart = (one.split.offset.x_mm - mean_mm).abs() > WITH_THE_NEWEST_SDS * sd_mm;
        if kept >= NEWEST && apart {
            break;
        }
        kept += 1;
        weight += one.var_x_mm2.recip();
        sum_mm += one.split.offset.x_mm / one.var_x_mm2;
    }
    kept
}
