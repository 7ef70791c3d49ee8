//! Why a photograph could not be read.

use thiserror::Error;

/// Why a photograph could not be read, in words the person holding the phone can act on.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum PhotoError {
    /// The bytes do not start like a JPEG file.
    #[error("this file is not a JPEG photograph; choose a photo straight from the camera")]
    NotJpeg,
    /// The file ends before the picture does, or its contents do not decode.
    #[error("the photo file is damaged or incomplete ({detail}); copy it again or take another")]
    Damaged {
        /// What the decoder met.
        detail: String,
    },
    /// Width or height is outside the accepted range.
    #[error(
        "the photo says it is {width} x {height} px; choose one of {min_side} px a side or more and at most {max_megapixels} megapixels"
    )]
    Size {
        /// Width in the header, px.
        width: usize,
        /// Height in the header, px.
        height: usize,
        /// Smallest side accepted, px.
        min_side: usize,
        /// Largest area accepted, millions of px.
        max_megapixels: usize,
    },
    /// The header announces more picture than the file can hold.
    #[error(
        "the photo says it is {width} x {height} px but the file holds only {bytes} bytes; copy it again"
    )]
    HeaderLies {
        /// Width in the header, px.
        width: usize,
        /// Height in the header, px.
        height: usize,
        /// Length of the file, bytes.
        bytes: usize,
    },
    /// A kind of JPEG no camera app writes by default.
    #[error("the photo is of the kind {kind} JPEG; save it as an ordinary 8-bit colour JPEG")]
    Unsupported {
        /// "CMYK", "12-bit", "lossless" or "arithmetic-coded".
        kind: &'static str,
    },
    /// The picture cannot be measured whatever the reference.
    #[error("the photo cannot be measured: {0}")]
    Unusable(super::QualityFault),
}
