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
    #[error("an arrow lies outside the sheet or face that was measured: the whole picture is kept")]
    MarkOutside,
    /// Nothing in it says where its plane is.
    #[error("this photograph has no sheet or face to crop it to: the whole picture is kept")]
    NoPlane,
    /// The library that packs pictures refused.
    #[error("the picture cannot be packed: {detail}")]
    Pack {
        /// What it says.
        detail: String,
    },
}
