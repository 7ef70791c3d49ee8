//! Why a photograph was not copied.

use thiserror::Error;

use crate::measure::MeasureError;
use crate::photo::PhotoError;

/// Why a photograph was not copied. The photograph itself is as it was.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum AlbumError {
    /// It cannot be read as a picture.
    #[error(transparent)]
    Photo(#[from] PhotoError),
    /// Its reference is not found again.
    #[error(transparent)]
    Measure(#[from] MeasureError),
    /// A mark lies outside what a crop would keep.
    #[error(
        "an arrow lies outside the sheet or face that was measured, so the whole picture is kept; correct the mark to crop it"
    )]
    MarkOutside,
    /// Nothing in it says where its plane is.
    #[error(
        "this photograph has no sheet or face to crop it to, so the whole picture is kept; measure it to crop it"
    )]
    NoPlane,
    /// The library that packs pictures refused.
    #[error("the picture cannot be packed ({detail}) and is as it was; try again with another one")]
    Pack {
        /// What it says.
        detail: String,
    },
}
