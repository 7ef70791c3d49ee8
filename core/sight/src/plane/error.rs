//! Why no trustworthy millimetres came out, and what to keep in mind when they did.

use std::fmt;

use thiserror::Error;

/// One side of a sheet as seen in the upright picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Edge {
    /// From the first to the second corner.
    Top,
    /// From the second to the third corner.
    Right,
    /// From the third to the fourth corner.
    Bottom,
    /// From the fourth to the first corner.
    Left,
}

impl Edge {
    /// All four, in corner order.
    pub const ALL: [Self; 4] = [Self::Top, Self::Right, Self::Bottom, Self::Left];
}

impl fmt::Display for Edge {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Top => "top",
            Self::Right => "right",
            Self::Bottom => "bottom",
            Self::Left => "left",
        })
    }
}

/// Why a picture could not be turned into millimetres.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum PlaneError {
    /// Fewer known points than the fit needs.
    #[error("{got} known points are too few; mark {need} or more")]
    TooFewPoints {
        /// Points given.
        got: usize,
        /// Points needed.
        need: usize,
    },
    /// A coordinate is infinite or not a number.
    #[error("a point is not a number; tap it again")]
    NotFinite,
    /// Points coincide or lie in a line, or the reference is seen edge-on.
    #[error("the points lie in a line or on top of each other; tap the four corners again")]
    Degenerate,
    /// The corners cross over or run the wrong way round.
    #[error(
        "the corners are out of order; tap top left, top right, bottom right, bottom left as seen in the photo"
    )]
    CornersOutOfOrder,
    /// A length or size is not usable.
    #[error(
        "{value} mm as {what} is outside {min} to {max} mm; measure it again and check the unit"
    )]
    Size {
        /// What was given, e.g. "sheet width".
        what: &'static str,
        /// Value given, mm.
        value: f64,
        /// Smallest accepted, mm.
        min: f64,
        /// Largest accepted, mm.
        max: f64,
    },
    /// The reference's proportions do not fit the picture: another sheet was chosen.
    #[error(
        "the sheet in the photo is {percent_wide:+.0} % wider for its height than the one chosen; check which size it is, and that the corners are on it"
    )]
    WrongShape {
        /// How much wider than chosen, percent.
        percent_wide: f64,
    },
    /// The sheet lies the other way round.
    #[error(
        "the sheet lies turned by a quarter; swap its width and height, or start at another corner"
    )]
    Turned,
    /// Too little of one side of the reference could be seen.
    #[error(
        "only {percent_seen:.0} % of the {edge} edge was found; move the corners onto the sheet, or photograph it against a background of another shade"
    )]
    EdgeNotFound {
        /// Which side.
        edge: Edge,
        /// Share of probes that saw an edge, percent.
        percent_seen: f64,
    },
    /// What was found for a card has sharp corners.
    #[error(
        "what was found has sharp corners, as print on a card has; move the corners onto the card's edge, or photograph it against a background of another shade"
    )]
    SharpCorners,
    /// Seen too much from the side to be measured by.
    #[error(
        "the sheet is seen too much from the side ({degrees:.0} degrees); photograph it from straight in front"
    )]
    TooOblique {
        /// Angle between the camera's axis and the sheet's normal.
        degrees: f64,
    },
    /// One side of the reference lies at the border of the picture or beyond it.
    #[error("the {edge} edge runs out of the photo; take it again with room around the sheet")]
    EdgeCut {
        /// Which side.
        edge: Edge,
    },
    /// No reference, or more than one candidate, in the picture.
    #[error("no single sheet stands out in the photo; tap its four corners")]
    NotFound,
    /// One ring fixes no scale: its ellipse fits a whole family of tilted circles.
    #[error(
        "one ring alone can be wrong by a metre; enter the radii of all rings that can be seen, or tap the middle again"
    )]
    SingleRing,
    /// Fewer rings than a face of one's own needs: evenly spaced ones fit in several sizes.
    #[error(
        "only {found} of the rings were found, and at least {need} are needed; tap the middle again, or photograph the face from straight in front"
    )]
    TooFewRings {
        /// Rings found.
        found: usize,
        /// Rings needed.
        need: usize,
    },
    /// The rings fit in more than one size.
    #[error(
        "the rings fit in more than one size; check the radii, enter all rings that can be seen, or tap the middle again"
    )]
    RingsAmbiguous,
    /// No published face has this key.
    #[error(
        "there is no face called \"{key}\"; choose one from the list, or enter your own ring radii"
    )]
    UnknownFace {
        /// The key asked for.
        key: String,
    },
    /// The rings near the tap do not fit the face chosen.
    #[error(
        "the rings of this face were not found around the tap; tap its centre again, or choose another face"
    )]
    RingsNotFound,
}

/// What makes a measurement less certain than usual, with the value that says so.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PlaneWarning {
    /// The edges could not be refined: the raw corner taps are used.
    RawCorners,
    /// Nothing but a distance was known: tilt of the camera is not corrected.
    ScaleOnly,
    /// The sheet's sides are bowed.
    NotFlat {
        /// Bow of the worst side, px.
        sag_px: f64,
        /// The same on the sheet, mm.
        sag_mm: f64,
    },
    /// The edges are ragged, the background is uneven, or the paper is blown out or black.
    Rough {
        /// Root mean square of the edge residuals, px.
        rms_px: f64,
    },
    /// One side was hidden or unclear and left out.
    EdgeLeftOut {
        /// Which side.
        edge: Edge,
    },
    /// A stretch of one side does not follow it (a fold, a curl, something that lies across) and was
    /// left out.
    StretchLeftOut {
        /// Which side.
        edge: Edge,
        /// Where the stretch begins, as a share of the side: 0 at its first corner, clockwise.
        from: f64,
        /// Where it ends.
        to: f64,
    },
    /// The photograph does not tell its focal length, so only gross errors of shape are caught.
    ShapeUnchecked,
    /// The reference's sides do not seem to be square to each other.
    NotSquare {
        /// Deviation from 90 degrees.
        degrees: f64,
    },
    /// The reference is seen much from the side: its edge may be taken for its rim.
    Oblique {
        /// Angle between the camera's axis and the sheet's normal.
        degrees: f64,
    },
    /// The lens does not bend lines as it did in earlier photographs of this camera.
    LensDiffers {
        /// Remembered coefficient.
        remembered_k1: f64,
        /// Fitted coefficient.
        fitted_k1: f64,
    },
    /// The lens is unknown: photograph a flat sheet once with this phone to learn it.
    LensUnknown,
    /// Nothing but the picture itself says which way is up on a round face.
    UpAssumed,
    /// A ring lies away from its published radius.
    RingOff {
        /// Published radius, mm.
        radius_mm: f64,
        /// Found minus published, mm.
        off_mm: f64,
    },
    /// Few rings were found.
    FewRings {
        /// Rings used.
        used: u32,
    },
}

impl fmt::Display for PlaneWarning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::RawCorners => f.write_str(
                "the sheet's edges were not clear, so the tapped corners are used as they are (millimetres, not tenths)",
            ),
            Self::ScaleOnly => f.write_str(
                "only a distance is known: hold the phone square to the target, tilt is not corrected",
            ),
            Self::NotFlat { sag_mm, .. } => {
                write!(f, "the sheet is not flat (its edge bows {sag_mm:.1} mm); press it flat")
            }
            Self::Rough { rms_px } => {
                write!(f, "the sheet's edges are unclear ({rms_px:.2} px of scatter)")
            }
            Self::EdgeLeftOut { edge } => write!(f, "the {edge} edge was not seen and is left out"),
            Self::StretchLeftOut { edge, from, to } => write!(
                f,
                "{:.0} % of the {edge} edge does not follow it and is left out",
                100.0 * (to - from)
            ),
            Self::ShapeUnchecked => f.write_str(
                "the photo does not tell its focal length, so the sheet's shape is only roughly checked",
            ),
            Self::NotSquare { degrees } => write!(
                f,
                "the sheet's corners look {degrees:.1} degrees out of square; is the photo cropped?"
            ),
            Self::Oblique { degrees } => write!(
                f,
                "the sheet is seen much from the side ({degrees:.0} degrees): check that the outline lies on its face, not on its rim, or photograph it from straight in front"
            ),
            Self::LensDiffers { remembered_k1, fitted_k1 } => write!(
                f,
                "the lens looks different from last time ({fitted_k1:+.3}, was {remembered_k1:+.3}): bent sheet, or another lens"
            ),
            Self::LensUnknown => f.write_str(
                "this phone's lens is not known yet: photograph a flat sheet once to learn it",
            ),
            Self::UpAssumed => f.write_str(
                "the picture is taken to be upright (to about 2 degrees): say which way is up by two taps or a level edge if the phone was tilted",
            ),
            Self::RingOff { radius_mm, off_mm } => write!(
                f,
                "the ring of radius {radius_mm:.0} mm lies {off_mm:+.1} mm from where it should be printed"
            ),
            Self::FewRings { used } => write!(f, "only {used} rings were found"),
        }
    }
}
