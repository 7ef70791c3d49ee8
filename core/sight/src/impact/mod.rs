//! Impacts: from a tap on the picture to the centre of a hole, mm.
//!
//! ```text
//! tap -> relief (straight-on patch minus printed rings) -> vote (something round?)
//!     -> rim (where does brightness step, ray by ray) -> circle -> without what another hole took
//!     -> crisp, where nothing speaks against it
//! tap -> colours -> evidence (unlike the paper, like the inside of a hole) -> wound
//!     -> the middle of the wound, or say why not
//! ```
//!
//! A crisp rim gives a centre to a tenth of a millimetre, a torn hole its wound to a few tenths,
//! and either says how well. A tap that finds neither stays a raw tap with the tap's own
//! uncertainty and a [`NotSnapped`] reason, and [`propose`] only suggests.

mod backdrop;
mod circle;
mod colours;
mod crisp;
mod evidence;
mod hole;
mod in_black;
mod neighbour;
mod oblong;
mod outline;
mod polar;
mod propose;
mod relief;
mod rim;
mod seed;
mod shaft;
mod snap;
mod standing;
mod surface;
mod vote;
mod wound;
mod zone_numbers;

pub use circle::{Circle, Disc, fit_circle};
pub use colours::Colours;
pub use hole::{Backdrop, Hole, HoleTone, NotSnapped, SnapOptions};
pub use in_black::torn_in_black;
pub use propose::{Candidate, propose};
pub use relief::Relief;
pub use snap::{Sight, find};
pub use standing::Standing;
pub use surface::Surface;
pub use vote::Tones;
pub use zone_numbers::ZoneNumbers;
