//! A known reference in the picture to millimetres on its plane.
//!
//! Every reference ends in one [`Plane`]: a homography behind a [`Lens`], with what the fit leaves
//! over, how far the reference itself may be off, and warnings; or in one [`PlaneError`].

mod along;
mod beyond;
mod blob;
mod borders;
mod candidates;
mod channels;
mod choose;
mod clearest;
mod curled;
mod drawn;
mod ends;
mod error;
mod faces;
mod fitted;
mod figures;
mod find;
mod find_any;
mod gates;
mod homography;
mod lens;
mod listed;
mod line;
mod marks;
mod mask;
mod outline;
mod paper;
mod patches;
#[cfg(test)]
mod picture;
mod points;
mod polygon;
mod print_inside;
mod printed;
mod profile;
mod proportions;
mod quads;
mod rectify;
mod refine;
mod regions;
mod rim;
mod ring_check;
mod ring_grow;
mod ring_lean;
mod ring_refine;
mod ring_scale;
mod ring_solve;
mod ring_trace;
mod rings;
mod round;
mod segments;
mod sheet;
mod sheet_fit;
mod sheet_left_out;
mod small;
mod solve;
mod stretch;
mod strip;
mod trace;
mod up;

pub use error::{Edge, PlaneError, PlaneWarning};
pub use faces::{Face, Middle, PublishedFace};
pub use find_any::find_sheet;
pub use fitted::{Plane, Reading, ReferenceKind, ScaleSd, Strain};
pub use homography::{Homography, Pair};
pub use lens::{Lens, MAX_K1};
pub use listed::ListedSheet;
pub use marks::{MARK_MM, Marks};
pub use points::TwoPoints;
pub use printed::Paper;
pub use rectify::{Source, Window, rectify, rectify_averaged};
pub use rings::RingsFit;
pub use sheet::{Sheet, SheetFit};
pub use up::Up;
