//! Seats of both axles, and the way from one fitting to another.

use serde::{Deserialize, Serialize};

use crate::frame::Side;

/// One of the bow's two axles.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Axle {
    /// The axle of the upper limb.
    Top,
    /// The axle of the lower limb.
    Bottom,
}

/// What sits on one axle: a pair, and the side of its thick piece.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Seat {
    /// The pair's name in its kit.
    pub pair: String,
    /// Where the thick piece is, as the archer sees it.
    pub thick: Side,
}

impl Seat {
    /// A seat of `pair` with the thick piece on `thick`.
    pub fn new(pair: &str, thick: Side) -> Self {
        Self {
            pair: pair.to_owned(),
            thick,
        }
    }

    /// The same pair turned round.
    #[must_use]
    pub fn turned(&self) -> Self {
        Self {
            pair: self.pair.clone(),
            thick: self.thick.opposite(),
        }
    }
}

/// The seats of both axles at one time.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Fitting {
    /// Upper axle.
    pub top: Seat,
    /// Lower axle.
    pub bottom: Seat,
}

impl Fitting {
    /// The same seat on both axles.
    pub fn alike(seat: Seat) -> Self {
        Self {
            top: seat.clone(),
            bottom: seat,
        }
    }

    /// The seat of one axle.
    pub fn seat(&self, axle: Axle) -> &Seat {
        match axle {
            Axle::Top => &self.top,
            Axle::Bottom => &self.bottom,
        }
    }

    /// This fitting with one axle's seat replaced.
    #[must_use]
    pub fn with_seat(&self, axle: Axle, seat: Seat) -> Self {
        match axle {
            Axle::Top => Self {
                top: seat,
                bottom: self.bottom.clone(),
            },
            Axle::Bottom => Self {
                top: self.top.clone(),
                bottom: seat,
            },
        }
    }

    /// Left and right exchanged on both axles.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        Self {
            top: self.top.turned(),
            bottom: self.bottom.turned(),
        }
    }

    /// The axles that must be opened to get from here to `to`, top first, and what changes on each.
    pub fn changes_to(&self, to: &Self) -> Vec<AxleChange> {
        [Axle::Top, Axle::Bottom]
            .into_iter()
            .filter(|&axle| self.seat(axle) != to.seat(axle))
            .map(|axle| AxleChange::between(axle, self.seat(axle), to.seat(axle)))
            .collect()
    }
}

/// How the spacers of one axle change.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SeatChange {
    /// The same two pieces change sides.
    TurnRound,
    /// Another pair goes in.
    NewPair,
}

/// One axle that must be opened.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AxleChange {
    /// Which axle.
    pub axle: Axle,
    /// What happens on it.
    pub change: SeatChange,
    /// What comes out.
    pub from: Seat,
    /// What goes in.
    pub to: Seat,
}

impl AxleChange {
    fn between(axle: Axle, from: &Seat, to: &Seat) -> Self {
        let change = if from.pair == to.pair {
            SeatChange::TurnRound
        } else {
            SeatChange::NewPair
        };
        Self {
            axle,
            change,
            from: from.clone(),
            to: to.clone(),
        }
    }
}
