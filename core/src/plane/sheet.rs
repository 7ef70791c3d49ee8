//! A flat sheet or card of known size.

use super::fitted::{Mode, checked_length};
use super::{
    Edge, Homography, Lens, Pair, Plane, PlaneError, PlaneWarning, ReferenceKind, ScaleSd,
};
use crate::frame::{PointMm, PointPx};
use crate::photo::View;

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

    /// Corners top left, top right, bottom right, bottom left, mm from the middle.
    pub fn corners_mm(&self) -> [PointMm; 4] {
        let (w, h) = (self.width_mm / 2.0, self.height_mm / 2.0);
        [(-w, h), (w, h), (w, -h), (-w, -h)].map(|(x, y)| PointMm::new(x, y))
    }
}

/// What the sheet fit may use beside the picture.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SheetFit {
    /// Standard deviation of a corner tap, px.
    pub tap_sd_px: f64,
    /// The lens coefficient remembered for this camera.
    pub remembered_k1: Option<f64>,
    /// Focal length by EXIF, px.
    pub focal_px: Option<f64>,
}

impl Sheet {
    /// Fits the sheet to four corner taps: top left, top right, bottom right, bottom left.
    ///
    /// # Errors
    /// [`PlaneError`] for corners that are out of order or degenerate.
    pub fn fit(
        &self,
        view: &View<'_>,
        taps: &[PointPx; 4],
        with: &SheetFit,
    ) -> Result<Plane, PlaneError> {
        let k1 = with.remembered_k1.unwrap_or(0.0);
        let lens = Lens::new(k1, view.width(), view.height());
        self.from_corners(taps, with, lens)
    }

    /// The fallback: corner taps as they are.
    fn from_corners(
        &self,
        taps: &[PointPx; 4],
        with: &SheetFit,
        lens: Lens,
    ) -> Result<Plane, PlaneError> {
        check_order(taps)?;
        let pairs = self.pairs(&taps.map(|t| lens.undistort(t)));
        let homography = Homography::fit(&pairs)?;
        let modes = corner_modes(&pairs, lens, with.tap_sd_px.max(1.0));
        Ok(Plane {
            homography,
            lens,
            residual_px: 0.0,
            residual_mm: 0.0,
            scale_sd: self.scale_sd(),
            warnings: vec![PlaneWarning::RawCorners],
            reference: ReferenceKind::Sheet {
                width_mm: self.width_mm,
                height_mm: self.height_mm,
            },
            modes,
        })
    }

    fn pairs(&self, undistorted: &[PointPx; 4]) -> [Pair; 4] {
        let mm = self.corners_mm();
        std::array::from_fn(|i| (mm[i], undistorted[i]))
    }

    fn scale_sd(&self) -> ScaleSd {
        ScaleSd {
            x: self.cut_sd_mm / self.width_mm,
            y: self.cut_sd_mm / self.height_mm,
        }
    }
}

/// Corners must run clockwise on the screen and form a convex quadrilateral.
fn check_order(taps: &[PointPx; 4]) -> Result<(), PlaneError> {
    if !taps
        .iter()
        .all(|t| t.x_px.is_finite() && t.y_px.is_finite())
    {
        return Err(PlaneError::NotFinite);
    }
    let turn = |i: usize| {
        let [a, b, c] = [0, 1, 2].map(|k| taps[(i + k) % 4]);
        (b.x_px - a.x_px) * (c.y_px - b.y_px) - (b.y_px - a.y_px) * (c.x_px - b.x_px)
    };
    let turns: [f64; 4] = std::array::from_fn(turn);
    let size = taps[0]
        .distance_px(taps[2])
        .max(taps[1].distance_px(taps[3]))
        .powi(2);
    if turns.iter().any(|t| t.abs() < 1e-3 * size) {
        return Err(PlaneError::Degenerate);
    }
    if turns.iter().all(|t| *t > 0.0) {
        Ok(())
    } else {
        Err(PlaneError::CornersOutOfOrder)
    }
}

fn corner_modes(pairs: &[Pair; 4], lens: Lens, sd_px: f64) -> Vec<Mode> {
    let moved = |i: usize| {
        let mut pairs = *pairs;
        let p = &mut pairs[i / 2].1;
        *if i % 2 == 0 { &mut p.x_px } else { &mut p.y_px } += sd_px;
        Homography::fit(&pairs).ok()
    };
    (0..8)
        .filter_map(moved)
        .map(|homography| Mode { homography, lens })
        .collect()
}
