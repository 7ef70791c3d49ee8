//! What the person says about a photograph.

use serde::{Deserialize, Serialize};

use super::pixels;
use crate::frame::{ArrowKind, PointPx};

/// Everything said about one photograph. All positions are in the upright picture, px.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MeasureRequest {
    /// What in the picture is of known size.
    pub reference: Reference,
    /// The lens coefficient remembered for this camera, from an earlier sheet photograph.
    #[serde(default)]
    pub lens_k1: Option<f64>,
    /// One length read off a steel rule, which corrects the reference's own size.
    #[serde(default)]
    pub measured_length: Option<MeasuredLength>,
    /// Impacts.
    #[serde(default)]
    pub taps: Vec<Tap>,
    /// Paper tears.
    #[serde(default)]
    pub tears: Vec<TearTap>,
    /// Whether to suggest where further holes are.
    #[serde(default)]
    pub propose: bool,
}

/// What in the picture is of known size.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case", deny_unknown_fields)]
pub enum Reference {
    /// A flat sheet or card.
    Sheet {
        /// Side to side as seen in the picture, mm.
        width_mm: f64,
        /// Top to bottom as seen in the picture, mm.
        height_mm: f64,
        /// Top left, top right, bottom right, bottom left; left out, a sheet that stands out alone
        /// is looked for.
        #[serde(default, with = "pixels::corners")]
        corners_px: Option<Vec<PointPx>>,
    },
    /// The corner marks of the printed reference sheet.
    Marks {
        /// Between the outer edges of the marks, sideways, mm.
        width_mm: f64,
        /// Between the outer edges of the marks, up and down, mm.
        height_mm: f64,
        /// Outer corners of the marks, in the order of a sheet's.
        #[serde(default, with = "pixels::corners")]
        corners_px: Option<Vec<PointPx>>,
    },
    /// Two points of known distance: scale only, the camera's tilt is not corrected.
    Points {
        /// One point.
        #[serde(with = "pixels::point")]
        a_px: PointPx,
        /// The other point.
        #[serde(with = "pixels::point")]
        b_px: PointPx,
        /// Distance between them, mm.
        distance_mm: f64,
    },
    /// A target face of concentric rings.
    Rings {
        /// Key of a published face; ignored when `radii_mm` is given.
        #[serde(default)]
        face: String,
        /// Radii of a face of one's own, mm.
        #[serde(default)]
        radii_mm: Option<Vec<f64>>,
        /// A tap on the middle.
        #[serde(with = "pixels::point")]
        centre_px: PointPx,
        /// Which way is up on the face: rings alone cannot tell.
        #[serde(default)]
        up: Up,
    },
}

/// Which way is up on a round face.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case", deny_unknown_fields)]
pub enum Up {
    /// The picture's own up.
    #[default]
    Picture,
    /// From one tap to another, both on the face.
    Taps {
        /// The lower point.
        #[serde(with = "pixels::point")]
        below_px: PointPx,
        /// The point straight above it.
        #[serde(with = "pixels::point")]
        above_px: PointPx,
    },
    /// Along a level edge on the face, such as the lower edge of its paper.
    Level {
        /// A point on its left.
        #[serde(with = "pixels::point")]
        left_px: PointPx,
        /// A point on its right.
        #[serde(with = "pixels::point")]
        right_px: PointPx,
    },
    /// By the phone's gravity sensor.
    Gravity {
        /// How far the true vertical is turned clockwise from the picture's up, rad.
        roll_rad: f64,
    },
}

/// A length measured on the target with a rule.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MeasuredLength {
    /// One end.
    #[serde(with = "pixels::point")]
    pub a_px: PointPx,
    /// The other end.
    #[serde(with = "pixels::point")]
    pub b_px: PointPx,
    /// The length, mm.
    pub length_mm: f64,
    /// How exactly it was read, one standard deviation, mm; half a millimetre when left out.
    #[serde(default = "half_a_millimetre")]
    pub sd_mm: f64,
}

fn half_a_millimetre() -> f64 {
    0.5
}

/// One tap on an impact.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tap {
    /// Which arrow made it.
    pub kind: ArrowKind,
    /// Where, px.
    #[serde(with = "pixels::point")]
    pub px: PointPx,
    /// How exactly the finger or mouse points, one standard deviation, photo px (see
    /// [`tap_sd_px`]); [`DEFAULT_TAP_SD_PX`] when left out.
    #[serde(default)]
    pub sd_px: Option<f64>,
    /// Outer diameter of the shaft that made the hole, mm, where it is known: a torn hole is read
    /// better with it.
    #[serde(default)]
    pub shaft_mm: Option<f64>,
}

/// One tap into a paper tear.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TearTap {
    /// Anywhere in the torn opening, px.
    #[serde(with = "pixels::point")]
    pub px: PointPx,
    /// Outer diameter of the shaft that made it, mm.
    pub shaft_mm: f64,
    /// Where the nock end passed, if the person marks both ends by hand; then `px` is taken as the
    /// middle of the point's hole. For bare shafts and tears too ragged to be read.
    #[serde(default, with = "pixels::optional")]
    pub nock_px: Option<PointPx>,
    /// As for [`Tap`].
    #[serde(default)]
    pub sd_px: Option<f64>,
}

/// Pointing error taken when none is given, photo px.
pub const DEFAULT_TAP_SD_PX: f64 = 12.0;

/// How a position was pointed at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Pointing {
    /// A bare finger on the photograph.
    Finger,
    /// Dragged under the magnifier.
    Magnifier,
}

/// Standard deviation of a position in photo px, when one millimetre of screen shows
/// `photo_px_per_screen_mm`. A finger covers what it points at (4 mm), a mark under the magnifier
/// is placed to 0.2 mm of screen.
pub fn tap_sd_px(pointing: Pointing, photo_px_per_screen_mm: f64) -> f64 {
    let screen_mm = match pointing {
        Pointing::Finger => 4.0,
        Pointing::Magnifier => 0.2,
    };
    (screen_mm * photo_px_per_screen_mm.abs()).max(0.5)
}
