//! Impacts: from a tap on the picture to the centre of a hole, mm.
//!
//! ```text
//! tap -> relief (straight-on patch minus printed rings) -> vote (something round?)
//!     -> rim (where does brightness step, ray by ray) -> circle -> without what another hole took
//!     -> accept, or say why not
//! ```
//!
//! Nothing here guesses: a tap that finds no hole it can trust stays a raw tap with the tap's own
//! uncertainty and a [`NotSnapped`] reason, and [`propose`] only suggests.

mod backdrop;
mod circle;
mod neighbour;
mod outline;
mod polar;
mod propose;
mod relief;
mod rim;
mod seed;
mod shaft;
mod snap;
mod vote;

pub use circle::{Circle, Disc, fit_circle};
pub use propose::{Candidate, propose};
pub use relief::{Relief, Surface};
pub use snap::{Backdrop, Hole, HoleTone, NotSnapped, SnapOptions, snap};
