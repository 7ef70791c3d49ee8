//! The bow on the bench: press, axles and spacers at one moment of a swap.

use serde::{Deserialize, Serialize};

use super::StepKind;
use crate::spacer::{Axle, Fitting, Seat};

/// Where the spacers of one axle are.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Spacers {
    /// Both pieces of a matched pair sit beside the cam.
    In {
        /// How they sit.
        seat: Seat,
    },
    /// Both pieces lie on the bench; nobody has confirmed yet what they are.
    OutUnchecked {
        /// What the record says they are.
        recorded: Seat,
    },
    /// Both pieces are out and confirmed.
    Out,
}

/// One axle on the bench.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AxleState {
    /// Its spacers.
    pub spacers: Spacers,
    /// Whether the axle runs through both limb tips and the cam.
    pub axle_in: bool,
    /// Whether its screw and washer are in place.
    pub screw_in: bool,
}

impl AxleState {
    /// An axle ready to shoot with this seat.
    pub fn closed(seat: Seat) -> Self {
        Self {
            spacers: Spacers::In { seat },
            axle_in: true,
            screw_in: true,
        }
    }

    /// The seat, where both spacers are in.
    pub fn seat(&self) -> Option<&Seat> {
        match &self.spacers {
            Spacers::In { seat } => Some(seat),
            _ => None,
        }
    }
}

/// The whole bow on the bench.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bench {
    /// Whether the press holds the limbs.
    pub pressed: bool,
    /// The upper axle.
    pub top: AxleState,
    /// The lower axle.
    pub bottom: AxleState,
}

impl Bench {
    /// A bow as it hangs on the wall: closed, out of the press.
    pub fn closed(fitting: &Fitting) -> Self {
        Self {
            pressed: false,
            top: AxleState::closed(fitting.top.clone()),
            bottom: AxleState::closed(fitting.bottom.clone()),
        }
    }

    /// One of its axles.
    pub fn axle(&self, axle: Axle) -> &AxleState {
        match axle {
            Axle::Top => &self.top,
            Axle::Bottom => &self.bottom,
        }
    }

    /// One of its axles, to be changed.
    pub(crate) fn axle_mut(&mut self, axle: Axle) -> &mut AxleState {
        match axle {
            Axle::Top => &mut self.top,
            Axle::Bottom => &mut self.bottom,
        }
    }

    /// What is fitted, where both axles carry their spacers.
    pub fn fitting(&self) -> Option<Fitting> {
        Some(Fitting {
            top: self.top.seat()?.clone(),
            bottom: self.bottom.seat()?.clone(),
        })
    }

    /// The bench after one step. `seat` is the pair the step handles, where it handles one.
    #[must_use]
    pub(crate) fn after(&self, kind: StepKind, axle: Option<Axle>, seat: Option<&Seat>) -> Self {
        let mut next = self.clone();
        match kind {
            StepKind::PressEvenly => next.pressed = true,
            StepKind::ReleasePress => next.pressed = false,
            _ => {
                if let Some(axle) = axle {
                    next.axle_mut(axle).apply(kind, seat);
                }
            }
        }
        next
    }
}

impl AxleState {
    fn apply(&mut self, kind: StepKind, seat: Option<&Seat>) {
        match (kind, seat) {
            (StepKind::TakeOutScrew, _) => self.screw_in = false,
            (StepKind::PushAxleOut, _) => self.axle_in = false,
            (StepKind::AxleHome, _) => self.axle_in = true,
            (StepKind::ScrewSnug, _) => self.screw_in = true,
            (StepKind::TakeSpacersOut, Some(seat)) => {
                self.spacers = Spacers::OutUnchecked {
                    recorded: seat.clone(),
                };
            }
            (StepKind::ConfirmFound, _) => self.spacers = Spacers::Out,
            (StepKind::SetSpacers, Some(seat)) => {
                self.spacers = Spacers::In { seat: seat.clone() };
            }
            _ => {}
        }
    }
}
