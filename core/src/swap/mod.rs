//! The guided swap: from what is fitted to what shall be, one step at a time.
//!
//! [`plan`] turns the state of the bow on the bench into ordered steps; [`Swap`] walks them. Both
//! are pure: stopping half-way, resuming, undoing and closing up after a surprise inside are all
//! the same plan, made from wherever the bow stands. The record changes only when the last check
//! is confirmed, or when something else than recorded is found inside.
//!
//! The steps are common practice of the trade (no source); the bow maker's instructions and a
//! qualified technician come first, and the guide says so.

mod answer;
mod bench;
mod kind;
mod machine;
mod plan;
mod step;

pub use answer::{Found, SwapError, SwapEvent};
pub use bench::{AxleState, Bench, Spacers};
pub use kind::{Caution, StepKind};
pub use machine::{Purpose, Swap};
pub use plan::plan;
pub use step::Step;
