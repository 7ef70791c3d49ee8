//! What a workshop remembers: plain data without SQL, clock or files.
//!
//! Lists that grow (fittings, trials, verdicts, checks, changes) are append-only: what was once
//! believed stays readable, and a correction is a later entry that names the earlier one.
//! Ids are positive and given by the store; times are epoch milliseconds passed in by the caller.

mod arrows;
mod bow;
mod change;
mod check;
mod csv;
mod field;
mod fitting;
mod hand;
mod kit;
mod settings;
mod swap_progress;
mod trial;
mod verdict_given;

pub use arrows::ArrowSetupRecord;
pub use bow::{Bow, BowDetails};
pub use change::{ChangeKind, ChangeRecord, SetupChange, SetupState};
pub use check::{Reopened, SetupCheck};
pub use csv::{TrialLine, arrows_csv, trials_csv};
pub use field::{Field, FieldError};
pub use fitting::{FittingReason, FittingRecord};
pub use hand::Hand;
pub use kit::{KitRecord, PairOnShelf, Shelf};
pub use settings::{CameraCalibration, DistanceUnit, LengthUnit, Pace, WorkshopSettings};
pub use swap_progress::SwapProgress;
pub use trial::{
    Exclusion, PhotoRef, PlaneRecord, ReferenceUsed, Surface, Trial, TrialDraft, TrialImpact,
    TrialTear,
};
pub use verdict_given::{MoreArrows, Outcome, VerdictGiven};
