//! The verdict: what to do next, what is expected of it, and why.
//!
//! In order: something else right first; stop where the bow is settled; then, in one table, a trim of
//! the rest, a fitting and more arrows, each weighed two steps ahead by what it is expected to leave
//! and by what it teaches, against the minutes it takes; and where none is worth its price although
//! the bow is outside tolerance, that spacers cannot do it.

mod decide;
mod deliberation;
mod error;
mod explain;
mod first;
mod given;
mod held_back;
mod intake;
mod last_resort;
mod limits;
mod seen;
mod steps;
mod told;

pub use decide::decide;
pub use error::VerdictError;
pub use given::case::{BowState, Case, RestRoom, Settings};
pub use given::check::{CheckItem, CheckState, MeasuredUnit, SETTLING_SHOTS};
pub use given::checked::{CheckError, Checked, MakerRange, OutOfRange, finding};
pub use told::call::{Adjustment, Arrows, Call, Direction, Knob, Trim};
pub use told::ending::Ending;
pub use told::next_look::NextLook;
pub use told::reason::Reason;
pub use told::track::{TrackRecord, Verification, track_record, verify};
pub use told::types::{Alternative, Choice, Predicted, Response, SplitReading, Verdict};

pub(crate) use seen::aims::Aim;
