//! What the technician answers, what that means for the record, and why a swap did not move.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::frame::Side;
use crate::spacer::{Axle, Fitting, KitError, Seat};

/// What the technician found on an opened axle.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Found {
    /// What the record says.
    AsRecorded,
    /// Another seat of the kit.
    Seat {
        /// How it sat.
        seat: Seat,
    },
    /// Two pieces, measured with calipers.
    Pieces {
        /// Left of the cam, mm.
        left_mm: f64,
        /// Right of the cam, mm.
        right_mm: f64,
    },
    /// Two pieces that are no matched pair, measured twice.
    MixedPair {
        /// Left of the cam, mm.
        left_mm: f64,
        /// Right of the cam, mm.
        right_mm: f64,
    },
    /// One piece measured where it sits, with a feeler gauge or calipers, because no more than the
    /// shoulders show: the kit then tells the pair.
    OnePiece {
        /// On which side of the cam it sits.
        side: Side,
        /// Its thickness, mm.
        thickness_mm: f64,
    },
    /// No more than the shoulders was seen: the thick side is known, the pair is not.
    ThickSide {
        /// The thick side.
        thick: Side,
        /// What was seen, in the technician's words.
        note: String,
    },
}

/// What a confirmed step means for the record.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SwapEvent {
    /// Nothing yet: the guide goes on.
    GoOn,
    /// The last check was confirmed: this is fitted now.
    Finished {
        /// What sits on both axles.
        fitting: Fitting,
    },
    /// Something else was inside than recorded: the record is wrong and the verdict with it. The
    /// guide now closes the bow with what was found.
    Mismatch {
        /// Which axle.
        axle: Axle,
        /// What the record said.
        recorded: Seat,
        /// What was found.
        found: Seat,
        /// What both axles must have carried before the swap began.
        corrected: Fitting,
    },
    /// No matched pair was inside: what was shot before is no evidence. The guide goes on to the
    /// wanted pair, because a mixed pair must not go back in.
    MixedPair {
        /// Which axle.
        axle: Axle,
        /// Left piece, mm.
        left_mm: f64,
        /// Right piece, mm.
        right_mm: f64,
    },
    /// Only the thick side was seen. The guide goes on to the wanted pair; where the side is not the
    /// recorded one, what was shot before is no evidence.
    PairUnknown {
        /// Which axle.
        axle: Axle,
        /// The thick side.
        thick: Side,
        /// Whether the record says the same side.
        as_recorded: bool,
        /// What was seen, in the technician's words.
        note: String,
    },
}

/// Why a swap did not move.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum SwapError {
    /// The wanted fitting is already in.
    #[error("this fitting is already in the bow; choose another one")]
    NothingToChange,
    /// The step asks what was found.
    #[error("this step asks what was found inside; say it before going on")]
    AnswerNeeded,
    /// The step does not ask what was found.
    #[error("this step does not ask what was found; confirm it as it stands")]
    NoQuestionHere,
    /// There is no earlier step.
    #[error("there is no step before the first; go on, or give the swap up")]
    AtFirstStep,
    /// There is no later step.
    #[error("the last step was already confirmed; go back to the bow")]
    AtEnd,
    /// A seat or loose pieces that the kit does not know.
    #[error(transparent)]
    Kit(#[from] KitError),
}
