//! Rounds with nothing changed between them whose newest lie elsewhere than all before: something has moved, and what counts is
//! where the bow is now.

use crate::evidence::{Belief, Observation};
use crate::verdict::Settings;
use crate::verdict::limits::{APART_SDS, MOVED_SDS};

use super::outvoted::rounds;
use super::splits::tolerance_mm;

/// Fewer rounds on a side of the step do not bear each other out.
const FEWEST: usize = 2;

/// Which way rounds are looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Axis {
    Sideways,
    Height,
}

/// Where one round lies on one axis, with its variance.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Round {
    pub(crate) mm: f64,
    pub(crate) var_mm2: f64,
}

impl Axis {
    pub(crate) fn of(self, one: &Observation) -> Round {
        let (mm, var_mm2) = match self {
            Self::Sideways => (one.split.offset.x_mm, one.var_x_mm2),
            Self::Height => (one.split.offset.y_mm, one.var_y_mm2),
        };
        Round { mm, var_mm2 }
    }
}

impl Round {
    /// The mean of rounds, each weighed by how well it is known.
    pub(crate) fn mean(rounds: &[Self]) -> Self {
        let weight: f64 = rounds.iter().map(|one| one.var_mm2.recip()).sum();
        let sum: f64 = rounds.iter().map(|one| one.mm / one.var_mm2).sum();
        Self {
            mm: sum / weight,
            var_mm2: weight.recip(),
        }
    }

    /// How many standard deviations two of them lie apart.
    pub(crate) fn apart_sds(self, other: Self) -> f64 {
        (self.mm - other.mm).abs() / (self.var_mm2 + other.var_mm2).sqrt()
    }
}

/// How many of the newest rounds lie together and elsewhere than all before, with the means of before and of the newest, mm; `None`
/// where no step shows.
pub(crate) fn step(rounds: &[Round]) -> Option<(usize, [f64; 2])> {
    let last = rounds.len().checked_sub(FEWEST)?;
    let steps = (FEWEST..=last).map(|kept| {
        let (before, newest) = rounds.split_at(rounds.len() - kept);
        (kept, newest, Round::mean(before), Round::mean(newest))
    });
    let together = |newest: &[Round], mean: Round| {
        let mut each = newest.iter();
        each.all(|one| (one.mm - mean.mm).powi(2) < APART_SDS.powi(2) * one.var_mm2)
    };
    let shown = steps.filter(|(_, newest, before, now)| {
        now.apart_sds(*before) > MOVED_SDS && together(newest, *now)
    });
    let clearest = shown.max_by(|a, b| a.3.apart_sds(a.2).total_cmp(&b.3.apart_sds(b.2)));
    clearest.map(|(kept, _, before, now)| (kept, [before.mm, now.mm]))
}

/// The newest of three rounds or more that lies elsewhere than all before, and out of tolerance, with the standard deviations
/// between: it is shot again, however many there were before.
pub(crate) fn alone(belief: &Belief, settings: &Settings) -> Option<(usize, f64)> {
    rounds(belief).into_iter().find_map(|places| {
        let of = |at: &usize| Axis::Sideways.of(&belief.observations[*at]);
        let rounds: Vec<Round> = places.iter().map(of).collect();
        let (newest, before) = rounds.split_last()?;
        if before.len() < FEWEST {
            return None;
        }
        let last = *places.last()?;
        let sds = newest.apart_sds(Round::mean(before));
        let allowed_mm = tolerance_mm(&belief.observations[last].split, settings);
        (sds > MOVED_SDS && newest.mm.abs() > allowed_mm).then_some((last, sds))
    })
}
