//! Rounds with nothing changed between them whose newest lie elsewhere than all before: something has moved, and what counts is
//! where the bow is now.

use crate::evidence::{Belief, Observation};
use crate::verdict::Settings;

use super::outvoted::present;
use super::splits::{again, tolerance_mm};

/// The newest rounds lie elsewhere than those before where their means differ by more standard deviations than this: one sound
/// bow in a thousand, as for a creep.
const STEP_SDS: f64 = 3.3;
/// One round alone lies elsewhere than all before at this many: three sound bows in a thousand, and it is only shot again.
const ALONE_SDS: f64 = 3.0;
/// A round farther than this many standard deviations from the mean of the newest is none of them.
const TOGETHER_SDS: f64 = 2.6;
/// Fewer rounds on a side of the step do not bear each other out.
const FEWEST: usize = 2;

/// A mean of rounds with its variance.
#[derive(Debug, Clone, Copy)]
struct Mean {
    x_mm: f64,
    var_mm2: f64,
}

impl Mean {
    fn of(rounds: &[&Observation]) -> Self {
        let weight: f64 = rounds.iter().map(|one| one.var_x_mm2.recip()).sum();
        let sum: f64 = rounds
            .iter()
            .map(|one| one.split.offset.x_mm / one.var_x_mm2)
            .sum();
        Self {
            x_mm: sum / weight,
            var_mm2: weight.recip(),
        }
    }

    /// How many standard deviations two means lie apart.
    fn apart_sds(self, other: Self) -> f64 {
        (self.x_mm - other.x_mm).abs() / (self.var_mm2 + other.var_mm2).sqrt()
    }
}

/// How many of the newest rounds lie together and elsewhere than all before, with the means of before and of the newest, mm; `None`
/// where no step shows.
pub(crate) fn step(rounds: &[&Observation]) -> Option<(usize, [f64; 2])> {
    let last = rounds.len().checked_sub(FEWEST)?;
    let steps = (FEWEST..=last).map(|kept| {
        let (before, newest) = rounds.split_at(rounds.len() - kept);
        (kept, newest, Mean::of(before), Mean::of(newest))
    });
    let together = |newest: &[&Observation], mean: Mean| {
        let mut each = newest.iter();
        each.all(|one| {
            (one.split.offset.x_mm - mean.x_mm).powi(2) < TOGETHER_SDS.powi(2) * one.var_x_mm2
        })
    };
    let shown = steps.filter(|(_, newest, before, now)| {
        now.apart_sds(*before) > STEP_SDS && together(newest, *now)
    });
    let clearest = shown.max_by(|a, b| a.3.apart_sds(a.2).total_cmp(&b.3.apart_sds(b.2)));
    clearest.map(|(kept, _, before, now)| (kept, [before.x_mm, now.x_mm]))
}

/// The newest of three rounds or more that lies elsewhere than all before, and out of tolerance, with the standard deviations
/// between: it is shot again, however many there were before.
pub(crate) fn alone(belief: &Belief, settings: &Settings) -> Option<(usize, f64)> {
    present(belief).find_map(|place| {
        let places = again(belief, place);
        let rounds: Vec<&Observation> = places.iter().map(|at| &belief.observations[*at]).collect();
        let (newest, before) = rounds.split_last()?;
        if before.len() < FEWEST {
            return None;
        }
        let sds = Mean::of(&[newest]).apart_sds(Mean::of(before));
        let out = newest.split.offset.x_mm.abs() > tolerance_mm(&newest.split, settings);
        (sds > ALONE_SDS && out).then_some((*places.last()?, sds))
    })
}
