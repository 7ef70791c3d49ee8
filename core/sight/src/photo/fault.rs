//! What can be wrong with a photograph as a picture.

use std::fmt;

/// What is wrong with a photograph, with the measured value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum QualityFault {
    /// Edges are spread over too many pixels.
    Blurred {
        /// Typical width of the sharpest edges (10 to 90 %), px.
        edge_width_px: f64,
    },
    /// Nearly everything is black.
    Dark {
        /// Brightness below which 99 % of the pixels lie, 0..=255.
        highlights: u8,
    },
    /// Much of the picture is pure white, so edges and holes may be eaten.
    BlownOut {
        /// Share of pixels at the top of the scale, 0..=1.
        share: f64,
    },
    /// The picture is nearly one shade: nothing to find an edge in.
    Flat {
        /// Range between the 1st and the 99th percentile of brightness.
        contrast: u8,
    },
}

impl fmt::Display for QualityFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Blurred { edge_width_px } => write!(
                f,
                "it is blurred (edges {edge_width_px:.0} px wide); hold still, tap to focus and take it again"
            ),
            Self::Dark { highlights } => write!(
                f,
                "it is too dark (brightest parts at {highlights} of 255); add light"
            ),
            Self::BlownOut { share } => write!(
                f,
                "{:.0} % of it is pure white; tap the brightest part to expose for it, or shade the target",
                share * 100.0
            ),
            Self::Flat { contrast } => write!(
                f,
                "it shows almost one shade (range {contrast} of 255); uncover the lens and point it at the target"
            ),
        }
    }
}
