//! The verdict: what to do next, what is expected of it, and why.
//!
//! In order: something else right first; stop where the bow is settled; then, in one table, a trim of
//! the rest, a fitting and more arrows, each weighed two steps ahead by what it is expected to leave
//! and by what it teaches, against the minutes it takes; and where none is worth its price although
//! the bow is outside tolerance, that spacers cannot do it.

mod aims;
mod call;
mod case;
mod check;
mod checked;
mod contact;
mod crept;
mod decide;
mod deliberation;
mod end;
mod error;
mod explain;
mod first;
mod heads;
mod held_back;
mod intake;
mod last_resort;
mod loss;
mod missing;
mod next;
mod next_look;
mod one_arrow;
mod options;
mod outliers;
mod outvoted;
mod reason;
mod remembered;
mod rests;
mod remarks;
mod shooters;
mod shown;
mod signs;
mod spine;
mod splits;
mod stepped;
mod suspect;
mod swapped;
mod track;
mod trim;
mod types;
mod weigh;

pub use call::{Adjustment, Arrows, Call, Direction, Knob, Trim};
pub use case::{BowState, Case, RestRoom, Settings};
pub use check::{CheckItem, CheckState, MeasuredUnit, SETTLING_SHOTS};
pub use checked::{CheckError, Checked, MakerRange, OutOfRange, finding};
pub use decide::decide;
pub use error::VerdictError;
pub use next_look::NextLook;
pub use reason::Reason;
pub use track::{TrackRecord, Verification, track_record, verify};
pub use types::{Alternative, Choice, Predicted, Response, SplitReading, Verdict};

pub(crate) use aims::Aim;
