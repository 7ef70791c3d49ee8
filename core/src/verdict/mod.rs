//! The verdict: what to do next, what is expected of it, and why.
//!
//! For every allowed fitting, and for leaving the bow as it is, the expected size of the split over
//! the user's priority plus the price of the work is computed from the evidence; then, in order:
//! another adjustment first, more arrows where too few were shot, leaving the bow alone where it is
//! good enough or nothing pays, more arrows where they pay, the best fitting.

mod aims;
mod ballot;
mod case;
mod check;
mod checked;
mod decide;
mod error;
mod explain;
mod first;
mod intake;
mod reason;
mod remarks;
mod signs;
mod splits;
mod suspect;
mod track;
mod trim;
mod types;
mod worth;

pub use case::{BowState, Case, Settings};
pub use check::{CheckItem, CheckState, MeasuredUnit, SETTLING_SHOTS};
pub use checked::{CheckError, Checked, MakerRange, OutOfRange, finding};
pub use decide::decide;
pub use error::VerdictError;
pub use reason::Reason;
pub use track::{Held, TrackRecord, held, track_record};
pub use types::{Adjustment, Call, Choice, Predicted, Response, SplitReading, Trim, Verdict};

pub(crate) use aims::Aim;
pub(crate) use ballot::Ballot;
