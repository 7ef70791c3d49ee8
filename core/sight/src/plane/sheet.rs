//! A flat sheet or card of known size, and what is known before it is looked for.

use super::fitted::checked_length;
use super::homography::Pair;
use super::{Homography, Lens, PlaneError};
use crate::frame::{PointMm, PointPx};

/// A sheet no longer than this is a card, mm. Between the lengths of a card (85.6 mm) and of the
/// shortest listed sheet (279.4 mm).
const LONGEST_CARD_MM: f64 = 130.0;
/// Sides within this of a card's are entered for it, mm: other small cards differ from it by a millimetre or more.
const SAME_CARD_MM: f64 = 0.6;
/// A finger's error is the larger the more of the photograph a millimetre of the screen shows: this
/// share of half the diagonal. Chosen by hand; not tuned.
const USUAL_TAP_SD: f64 = 12.0 / 2500.0;
/// ... and some px in any case. Chosen by hand; not tuned.
const LEAST_TAP_SD_PX: f64 = 5.0;

/// Width over height of A4 and Letter differ by 9 %; sheets nearer to each other than half of that are one
/// shape (logarithm).
const OTHER_SHAPE: f64 = 0.045;

/// A sheet or card as it lies in the upright picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sheet {
    /// Side to side, mm.
    pub width_mm: f64,
    /// Top to bottom, mm.
    pub height_mm: f64,
    /// Standard deviation of each of the two, mm: how exactly it was cut.
    pub cut_sd_mm: f64,
}

impl Sheet {
    /// ISO 216 A4, portrait. Tolerance ±2 mm above 150 mm (ISO 216:2007, from memory), taken as
    /// two standard deviations.
    pub const A4: Self = Self {
        width_mm: 210.0,
        height_mm: 297.0,
        cut_sd_mm: 0.75,
    };
    /// ANSI/ASME Y14.1 size A (Letter), portrait, 8.5 x 11 in.
    pub const LETTER: Self = Self {
        width_mm: 215.9,
        height_mm: 279.4,
        cut_sd_mm: 0.75,
    };
    /// ISO 216 A3, portrait.
    pub const A3: Self = Self {
        width_mm: 297.0,
        height_mm: 420.0,
        cut_sd_mm: 0.75,
    };
    /// ISO/IEC 7810 ID-1 card, landscape, 85.60 x 53.98 mm (tolerance about ±0.1 mm, from memory).
    pub const ID1: Self = Self {
        width_mm: 85.6,
        height_mm: 53.98,
        cut_sd_mm: 0.06,
    };

    /// A sheet of any size, cut to `cut_sd_mm`.
    ///
    /// # Errors
    /// [`PlaneError::Size`] outside 5 to 5000 mm.
    pub fn new(width_mm: f64, height_mm: f64, cut_sd_mm: f64) -> Result<Self, PlaneError> {
        Ok(Self {
            width_mm: checked_length("sheet width", width_mm)?,
            height_mm: checked_length("sheet height", height_mm)?,
            cut_sd_mm: cut_sd_mm.abs(),
        })
    }

    /// The sheet lying the other way.
    #[must_use]
    pub fn turned(self) -> Self {
        Self {
            width_mm: self.height_mm,
            height_mm: self.width_mm,
            ..self
        }
    }

    /// Sheets of another shape that often lie in photographs: part of one of them may have the shape that
    /// was asked for.
    pub(super) fn rivals(&self) -> impl Iterator<Item = Self> + use<> {
        let shape = self.width_mm / self.height_mm;
        let lying = move |listed: Self| {
            if shape > 1.0 { listed.turned() } else { listed }
        };
        let other =
            move |sheet: &Self| (sheet.width_mm / sheet.height_mm / shape).ln().abs() > OTHER_SHAPE;
        let paper = !self.is_card();
        let listed = [Self::A4, Self::LETTER].into_iter();
        listed.filter(move |_| paper).map(lying).filter(other)
    }

    /// Whether it is as small as a card, and as stiff.
    pub(crate) fn is_card(&self) -> bool {
        self.width_mm.max(self.height_mm) <= LONGEST_CARD_MM
    }

    /// Whether it is a card by the norm: those have round corners.
    pub(super) fn has_round_corners(&self) -> bool {
        let like = |card: Self| {
            (self.width_mm - card.width_mm).abs() < SAME_CARD_MM
                && (self.height_mm - card.height_mm).abs() < SAME_CARD_MM
        };
        like(Self::ID1) || like(Self::ID1.turned())
    }

    /// Corners top left, top right, bottom right, bottom left, mm from the middle.
    pub fn corners_mm(&self) -> [PointMm; 4] {
        let (w, h) = (self.width_mm / 2.0, self.height_mm / 2.0);
        [(-w, h), (w, h), (w, -h), (-w, -h)].map(|(x, y)| PointMm::new(x, y))
    }

    /// How a picture sees it that has its corners there, undistorted px, in the order of [`Sheet::corners_mm`].
    ///
    /// # Errors
    /// [`PlaneError::NotFinite`], [`PlaneError::Degenerate`].
    pub(super) fn homography(&self, corners: &[PointPx; 4]) -> Result<Homography, PlaneError> {
        let mm = self.corners_mm();
        let pairs: [Pair; 4] = std::array::from_fn(|i| (mm[i], corners[i]));
        Homography::fit(&pairs)
    }
}

/// What the sheet fit may use beside the picture.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SheetFit {
    /// Standard deviation of a corner tap, px; by the picture's size if not given (12 px of 12 MP).
    pub tap_sd_px: Option<f64>,
    /// The lens coefficient remembered for this camera.
    pub remembered_k1: Option<f64>,
    /// Focal length by EXIF, px.
    pub focal_px: Option<f64>,
    /// Take the taps as they are where two or more edges cannot be seen, with the wide
    /// uncertainty that brings, instead of refusing.
    pub accept_raw: bool,
}

impl SheetFit {
    /// Standard deviation of a corner tap, px.
    pub(super) fn tap_sd_px(&self, lens: &Lens) -> f64 {
        let usual = (USUAL_TAP_SD * lens.half_diagonal_px()).max(LEAST_TAP_SD_PX);
        self.tap_sd_px
            .filter(|s| *s > 0.0 && s.is_finite())
            .unwrap_or(usual)
    }
}
