//! Paper tears: from one tap and the shaft's diameter to the tear vector, mm.
//!
//! ```text
//!        \  | vane slits meet at F, where the nock end passed
//!         \ |
//!   ---____(F)
//!         // /
//!        // /   the body: swept by the shaft, a capsule from P to F
//!       ( P )   the point's hole
//! ```
//!
//! Tear = F - P, x right and y up: "nock left" is negative x (see [`crate::frame`]).

mod capsule;
mod cells;
mod paper;
mod slits;

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::frame::PointMm;
use crate::impact::Surface;

pub use slits::Slit;

/// Half the patch read around the tap, mm: room for a tear as long as a vane.
const HALF_MM: f64 = 46.0;
const STEP_MM: f64 = 0.2;
/// Shaft diameters that exist, mm. Common practice, no source.
pub const SHAFT_RANGE_MM: (f64, f64) = (3.5, 12.0);
/// Disc that fits into the shaft's opening and not into a vane's slit, mm. The thinnest shaft (3.5 mm)
/// leaves a wider one; a vane is under 1 mm thick (common practice, no source).
const OPENING_MM: f64 = 1.25;
/// The slits miss the place where they meet by no more than this, mm. Chosen by hand;
/// `tests/photo-table` measures what passes.
const MOST_AXIS_MISS_MM: f64 = 0.8;
/// The opening and the track of a shaft differ by no more than this share of the opening. Chosen by
/// hand; `tests/photo-table` measures what passes.
const MOST_XOR_SHARE: f64 = 0.25;

/// A tear that could be read.
#[derive(Debug, Clone, PartialEq)]
pub struct Tear {
    /// Middle of the point's hole on the plane, mm.
    pub point: PointMm,
    /// Where the shaft's axis was when the nock end passed, mm.
    pub nock: PointMm,
    /// Nock minus point, mm.
    pub vector: PointMm,
    /// Standard deviation of the vector on each axis, mm, without the plane's own error.
    pub sd_mm: f64,
    /// The slits of the vanes.
    pub slits: Vec<Slit>,
}

/// Why a tear was not read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TearRefusal {
    /// The diameter is no arrow shaft's.
    #[error("the shaft's outer diameter is outside {} to {} mm; measure it again", SHAFT_RANGE_MM.0, SHAFT_RANGE_MM.1)]
    BadShaft,
    /// No opening stands out at the tap.
    #[error(
        "no torn opening stands out here; hold something dark behind the paper and tap into the tear"
    )]
    NothingTorn,
    /// The opening does not end within 46 mm of the tap.
    #[error("the opening is too large or runs into another one; shoot a fresh spot of paper")]
    TooLarge,
    /// Fewer than two vane slits can be seen.
    #[error(
        "fewer than two vane slits can be seen; mark the point's hole and the nock end by hand"
    )]
    TooFewSlits,
    /// The slits do not meet in one place.
    #[error(
        "the vane slits do not meet in one place; mark the point's hole and the nock end by hand"
    )]
    SlitsDisagree,
    /// The opening is not the track of a shaft of this diameter.
    #[error(
        "the opening does not look like the track of this shaft; check its diameter, or mark both ends by hand"
    )]
    ShapeUnclear,
    /// The tear reaches out of the picture.
    #[error("the tear is too near the edge of the photo; take it with more room around")]
    PictureEdge,
}

/// Reads the tear under `tap` (mm on the plane); `shaft_mm` is the shaft's outer diameter.
///
/// # Errors
/// [`TearRefusal`]; never `PictureEdge`, which only the caller can see.
pub fn read_tear(tap: PointMm, shaft_mm: f64, surface: &impl Surface) -> Result<Tear, TearRefusal> {
    if !(SHAFT_RANGE_MM.0..=SHAFT_RANGE_MM.1).contains(&shaft_mm) {
        return Err(TearRefusal::BadShaft);
    }
    let mut relief = surface.patch(tap, HALF_MM, STEP_MM);
    paper::subtract(&mut relief);
    let opening = cells::opening_under(&relief, tap).ok_or(TearRefusal::NothingTorn)?;
    if opening.core.touches_border() {
        return Err(TearRefusal::TooLarge);
    }
    let body = opening.core.opened(OPENING_MM / STEP_MM).largest();
    if body.count() == 0 {
        return Err(TearRefusal::NothingTorn);
    }
    let slits = slits::find(&opening, &body, &relief);
    let meeting = slits::meeting(slits).ok_or(TearRefusal::TooFewSlits)?;
    if meeting.worst_miss_mm > MOST_AXIS_MISS_MM || meeting.is_one_line() {
        return Err(TearRefusal::SlitsDisagree);
    }
    let fit = capsule::fit(&body, &relief, &meeting, shaft_mm / 2.0);
    if fit.xor_share > MOST_XOR_SHARE {
        return Err(TearRefusal::ShapeUnclear);
    }
    Ok(Tear {
        point: fit.point,
        nock: meeting.at,
        vector: meeting.at - fit.point,
        sd_mm: meeting.sd_mm.hypot(fit.sd_mm),
        slits: meeting.slits,
    })
}

#[cfg(test)]
mod tests;
