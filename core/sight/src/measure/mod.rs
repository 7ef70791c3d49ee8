//! The one call: a photograph and what a person says about it, to millimetres with uncertainty.
//!
//! [`measure`] does everything at once; [`PhotoSession`] keeps the decoded photograph, so that on
//! the phone a second tap costs milliseconds.

mod error;
mod look;
mod measured;
mod on_plane;
mod pixels;
mod reference;
mod request;
mod session;
mod shaft;
mod suggest;
mod trace;
mod two_groups;

pub use error::MeasureError;
pub use look::Looked;
pub use measured::{
    Measured, MeasuredImpact, MeasuredTear, PlaneFacts, Proposal, ReadAs, Rectified, Suggested,
    Trace, TraceKind,
};
pub use request::{
    DEFAULT_TAP_SD_PX, MeasureRequest, MeasuredLength, Pointing, Reference, Tap, TearTap, Up,
    tap_sd_px,
};
pub use session::{PhotoSession, measure};
pub use shaft::shaft_mm;
pub use two_groups::two_groups;

#[cfg(test)]
mod tests;
