//! What lies on the shelf.

use serde::{Deserialize, Serialize};

use super::{Fitting, Seat};

/// How many complete sets (one thin, one thick piece) of a pair there are.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PairCount {
    /// The pair's name.
    pub pair: String,
    /// Complete sets of it, on the shelf and in this bow together.
    pub sets: u32,
}

/// The pieces that one bow may draw on: those on the shelf and those it already carries. Pieces in
/// other bows are not in it. A pair that is not listed has none.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stock {
    /// Sets of each pair.
    pub counts: Vec<PairCount>,
}

impl Stock {
    /// Sets of the pair of that name.
    pub fn sets_of(&self, pair: &str) -> u32 {
        self.counts
            .iter()
            .filter(|count| count.pair == pair)
            .map(|count| count.sets)
            .sum()
    }

    /// Whether both axles can be filled; two axles with the same pair need two sets of it.
    pub fn allows(&self, fitting: &Fitting) -> bool {
        let needed = |seat: &Seat| {
            u32::from(seat.pair == fitting.top.pair) + u32::from(seat.pair == fitting.bottom.pair)
        };
        [&fitting.top, &fitting.bottom]
            .iter()
            .all(|seat| self.sets_of(&seat.pair) >= needed(seat))
    }
}
