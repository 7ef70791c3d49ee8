//! Why a photograph gave no measurement.

use thiserror::Error;

use crate::frame::PointPx;
use crate::photo::PhotoError;
use crate::plane::PlaneError;

/// Why a photograph gave no measurement, in words the person can act on.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum MeasureError {
    /// The file could not be read.
    #[error(transparent)]
    Photo(#[from] PhotoError),
    /// The reference could not be fitted.
    #[error(transparent)]
    Plane(#[from] PlaneError),
    /// A mark is not on the photograph, or not on the plane it shows.
    #[error(
        "{what} at ({x:.0}, {y:.0}) px is not on the {width} x {height} px photo; tap it again",
        x = at.x_px,
        y = at.y_px
    )]
    MarkOutside {
        /// Which mark, e.g. "tap 3".
        what: String,
        /// Where it was said to be, px.
        at: PointPx,
        /// Upright width of the photograph, px.
        width: usize,
        /// Upright height of the photograph, px.
        height: usize,
    },
    /// A number that must be a plain positive one is not.
    #[error("{value} as {what} is not a number above zero; enter it again")]
    BadNumber {
        /// Which number.
        what: &'static str,
        /// What was given.
        value: f64,
    },
    /// Something was to be measured before the reference was fitted.
    #[error("nothing in the photo is of known size yet; say first what is")]
    NoReference,
}
