//! A known reference in the picture to millimetres on its plane.
//!
//! Every reference ends in one [`Plane`]: a homography behind a [`Lens`], with what the fit leaves
//! over, how far the reference itself may be off, and warnings; or in one [`PlaneError`].
//!
//! `edges` follows straight sides, `sheets` fits what was tapped to them and asks what else it may be, `finding` finds
//! it without taps, `rings` does all of that for faces.

mod channels;
mod edges;
mod error;
mod finding;
mod fitted;
mod homography;
mod lens;
mod line;
mod mask;
#[cfg(test)]
mod picture;
mod points;
mod polygon;
mod profile;
mod rectify;
mod rings;
mod sheet;
mod sheets;
mod up;

pub use error::{Edge, PlaneError, PlaneWarning};
pub use finding::find_any::{find_faint_card, find_sheet};
pub use fitted::{Plane, Reading, ReferenceKind, ScaleSd, Strain};
pub use homography::{Homography, Pair};
pub use lens::{Lens, MAX_K1};
pub use points::TwoPoints;
pub use rectify::{Source, Window, rectify, rectify_averaged};
pub use rings::faces::{Face, Middle, PublishedFace};
pub use rings::first_look::FirstLook;
pub use rings::fit::RingsFit;
pub use sheet::{Sheet, SheetFit};
pub use sheets::listed::ListedSheet;
pub use sheets::marks::{MARK_MM, Marks};
pub use sheets::printed::Paper;
pub use up::Up;
