//! A flat sheet or card of known size.

use super::candidates::{Candidate, candidates};
use super::channels::Channels;
use super::choose::choose;
use super::fitted::{Mode, checked_length};
use super::gates::{ShapeTest, check_shape, check_tilt, edge_warnings, lens_warning, rim_sd_mm};
use super::lens::UNKNOWN_K1_SD;
use super::refine::{Look, Traced, is_clipped, refine, refuse_two};
use super::rim;
use super::solve::{Solved, Start};
use super::stretch;
use super::trace::Outline;
use super::{
    Edge, Homography, Lens, Pair, Plane, PlaneError, PlaneWarning, ReferenceKind, ScaleSd,
};
use crate::frame::{PointMm, PointPx};
use crate::photo::Photo;

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

    /// Whether it is as small as a card, and as stiff.
    pub(crate) fn is_card(&self) -> bool {
        self.width_mm.max(self.height_mm) <= LONGEST_CARD_MM
    }

    /// Corners top left, top right, bottom right, bottom left, mm from the middle.
    pub fn corners_mm(&self) -> [PointMm; 4] {
        let (w, h) = (self.width_mm / 2.0, self.height_mm / 2.0);
        [(-w, h), (w, h), (w, -h), (-w, -h)].map(|(x, y)| PointMm::new(x, y))
    }
}

/// A finger's error is the larger the more of the photograph a millimetre of the screen shows: this
/// share of half the diagonal, and some px in any case.
const USUAL_TAP_SD: f64 = 12.0 / 2500.0;
const LEAST_TAP_SD_PX: f64 = 5.0;

/// Where a card's rim shows, its edge is looked for within this share of it.
const BESIDE_RIM: f64 = 0.4;
/// Loose paper is seen to wave by about this, mm.
const WAVES_MM: f64 = 1.2;
/// A sheet no longer than this is a card, mm.
const LONGEST_CARD_MM: f64 = 130.0;

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
    fn tap_sd_px(&self, lens: &Lens) -> f64 {
        let usual = (USUAL_TAP_SD * lens.half_diagonal_px()).max(LEAST_TAP_SD_PX);
        self.tap_sd_px
            .filter(|s| *s > 0.0 && s.is_finite())
            .unwrap_or(usual)
    }
}

impl Sheet {
    /// Fits the sheet to four corner taps (top left, top right, bottom right, bottom left as seen
    /// upright), refined by its edges.
    ///
    /// # Errors
    /// [`PlaneError`] for corners out of order or degenerate, a sheet of another shape or turned,
    /// and edges that cannot be seen (unless [`SheetFit::accept_raw`]).
    pub fn fit(
        &self,
        photo: &Photo,
        taps: &[PointPx; 4],
        with: &SheetFit,
    ) -> Result<Plane, PlaneError> {
        self.fit_judged(photo, taps, with).map(|(plane, _)| plane)
    }

    /// The same with how clear the edges are: to compare one fit with another.
    pub(crate) fn fit_judged(
        &self,
        photo: &Photo,
        taps: &[PointPx; 4],
        with: &SheetFit,
    ) -> Result<(Plane, f64), PlaneError> {
        let outline = if self.is_card() {
            Outline::CARD
        } else {
            Outline::SHEET
        };
        self.fit_outline(photo, taps, with, &outline)
    }

    /// The same for any outline whose corners span the sheet.
    pub(crate) fn fit_outline(
        &self,
        photo: &Photo,
        taps: &[PointPx; 4],
        with: &SheetFit,
        outline: &Outline<'_>,
    ) -> Result<(Plane, f64), PlaneError> {
        check_order(taps)?;
        let lens = Lens::new(
            with.remembered_k1.unwrap_or(0.0),
            photo.width(),
            photo.height(),
        );
        let start = Start {
            taps: *taps,
            tap_sd_px: with.tap_sd_px(&lens),
            lens,
            // A flat sheet tells the lens anew: what is remembered is only where to start.
            k1_sd: UNKNOWN_K1_SD,
        };
        let shape = ShapeTest::new(&lens, with.focal_px);
        let look = Look {
            channels: &Channels::of(photo),
            outline,
            waves_px: self.waves_px(taps),
            narrow_px: f64::INFINITY,
        };
        let found = self
            .pick(&look, &start, &shape)
            .and_then(|(corners, clear)| {
                let (solved, traced) = refine(&look, &start, corners)?;
                let on_face = self.on_face(&look, &start, &solved, with.focal_px);
                let (solved, traced) = on_face.unwrap_or((solved, traced));
                Ok((solved, traced, clear))
            });
        let whole = outline.parts.len() == 1;
        match found {
            Ok((solved, traced, clear)) => {
                let mut plane = self.by_edges(&solved, &traced, with, (&shape, whole))?;
                if is_clipped(&look, &solved) && plane.warnings.is_empty() {
                    let rms_px = solved.rms_px;
                    plane.warnings.push(PlaneWarning::Rough { rms_px });
                }
                Ok((plane, clear))
            }
            Err(_) if with.accept_raw => Ok((self.by_corners(&start, with, &shape)?, 0.0)),
            Err(unseen) => Err(unseen),
        }
    }

    /// The fit of a card whose rim shows, with no rim taken for its face; none where none shows.
    fn on_face(
        &self,
        look: &Look<'_>,
        start: &Start,
        solved: &Solved,
        focal_px: Option<f64>,
    ) -> Option<(Solved, Traced)> {
        let h = Homography::fit(&self.pairs(&solved.corners)).ok()?;
        let focal_px = focal_px.filter(|_| self.is_card())?;
        let reach_px = rim::reach_px(self, &h, &solved.lens, focal_px)?;
        let rims = reach_px.into_iter().filter(|px| *px > 0.0);
        let narrowest_px = rims.reduce(f64::min)?;
        let corners = rim::onto_face(
            look.channels,
            &solved.lens,
            &solved.corners,
            &reach_px,
            look.outline,
        )?;
        let narrow = Look {
            narrow_px: BESIDE_RIM * narrowest_px,
            ..*look
        };
        refine(&narrow, start, corners).ok()
    }

    /// How far its edges may wave, px of a picture in which its corners are there.
    fn waves_px(&self, corners: &[PointPx; 4]) -> f64 {
        if self.is_card() {
            return 0.0;
        }
        let across = corners[0].distance_px(corners[1]) + corners[3].distance_px(corners[2]);
        WAVES_MM * across / (2.0 * self.width_mm)
    }

    /// Corners where the lines meet that are most likely the sheet's sides, undistorted px.
    fn pick(
        &self,
        look: &Look<'_>,
        start: &Start,
        shape: &ShapeTest,
    ) -> Result<([PointPx; 4], f64), PlaneError> {
        let taps = start.taps.map(|t| start.lens.undistort(t));
        let half_px = 3.2 * start.tap_sd_px + 6.0;
        let mut missing = Vec::new();
        let sides: [Vec<Candidate>; 4] = Edge::ALL.map(|edge| {
            let i = edge as usize;
            let ends = (taps[i], taps[(i + 1) % 4]);
            candidates(look.channels, &start.lens, ends, half_px, look.outline).unwrap_or_else(
                |seen| {
                    missing.push((edge, seen));
                    Vec::new()
                },
            )
        });
        refuse_two(&missing, look.channels, &start.taps)?;
        let chosen = choose(self, &sides, &taps, start.tap_sd_px, shape, &start.lens);
        chosen.ok_or(PlaneError::Degenerate)
    }

    fn by_edges(
        &self,
        solved: &Solved,
        traced: &Traced,
        with: &SheetFit,
        (shape, whole): (&ShapeTest, bool),
    ) -> Result<Plane, PlaneError> {
        let homography = Homography::fit(&self.pairs(&solved.corners))?;
        let doubtful = check_shape(self, &homography, &solved.lens, shape)?;
        let oblique = check_tilt(self, &homography, &solved.lens, shape)?;
        let modes = solved.modes().into_iter().filter_map(|(corners, lens)| {
            let homography = Homography::fit(&self.pairs(&corners)).ok()?;
            Some(Mode { homography, lens })
        });
        let plane = self.plane(homography, solved.lens, modes.collect(), Vec::new());
        let px_per_mm = plane.px_per_mm(PointMm::default());
        let mut warnings = edge_warnings(self, solved, &traced.sides, px_per_mm);
        warnings.extend(lens_warning(&solved.lens, with));
        warnings.extend(doubtful);
        warnings.extend(oblique.map(|degrees| PlaneWarning::Oblique { degrees }));
        let hidden = traced.missing.iter().map(|(edge, _)| *edge);
        warnings.extend(hidden.map(|edge| PlaneWarning::EdgeLeftOut { edge }));
        if whole {
            warnings.extend(stretch::left_out(solved, &traced.sides));
        }
        Ok(Plane {
            residual_px: solved.rms_px,
            residual_mm: solved.rms_px / px_per_mm,
            k1_sd: Some(solved.k1_sd()),
            scale_sd: self.scale_sd(oblique),
            warnings,
            ..plane
        })
    }

    /// The fallback: corner taps as they are.
    fn by_corners(
        &self,
        start: &Start,
        with: &SheetFit,
        shape: &ShapeTest,
    ) -> Result<Plane, PlaneError> {
        let lens = start.lens;
        let flat = start.taps.map(|t| lens.undistort(t));
        let homography = Homography::fit(&self.pairs(&flat))?;
        let mut warnings = vec![PlaneWarning::RawCorners];
        warnings.extend(check_shape(self, &homography, &lens, shape)?);
        warnings.extend(lens_warning(&lens, with));
        let modes = (0..8).filter_map(|i| {
            let mut corners = flat;
            let corner = &mut corners[i / 2];
            let value = if i % 2 == 0 {
                &mut corner.x_px
            } else {
                &mut corner.y_px
            };
            *value += start.tap_sd_px;
            let homography = Homography::fit(&self.pairs(&corners)).ok()?;
            Some(Mode { homography, lens })
        });
        Ok(self.plane(homography, lens, modes.collect(), warnings))
    }

    fn plane(
        &self,
        homography: Homography,
        lens: Lens,
        modes: Vec<Mode>,
        warnings: Vec<PlaneWarning>,
    ) -> Plane {
        Plane {
            homography,
            lens,
            residual_px: 0.0,
            residual_mm: 0.0,
            scale_sd: self.scale_sd(None),
            warnings,
            reference: ReferenceKind::Sheet {
                width_mm: self.width_mm,
                height_mm: self.height_mm,
            },
            rings_mm: Vec::new(),
            up_sd_rad: 0.0,
            k1_sd: None,
            modes,
        }
    }

    /// How wrong its size may be, seen `oblique` degrees from the side.
    fn scale_sd(&self, oblique: Option<f64>) -> ScaleSd {
        let edge_mm = oblique.map_or(0.0, |degrees| rim_sd_mm(self, degrees));
        let sd_mm = self.cut_sd_mm.hypot(edge_mm);
        ScaleSd {
            x: sd_mm / self.width_mm,
            y: sd_mm / self.height_mm,
        }
    }

    fn pairs(&self, undistorted: &[PointPx; 4]) -> [Pair; 4] {
        let mm = self.corners_mm();
        std::array::from_fn(|i| (mm[i], undistorted[i]))
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
    if turns.iter().any(|t| t.abs() <= 1e-3 * size) {
        return Err(PlaneError::Degenerate);
    }
    if turns.iter().all(|t| *t > 0.0) {
        Ok(())
    } else {
        Err(PlaneError::CornersOutOfOrder)
    }
}

#[cfg(test)]
#[path = "sheet_tests.rs"]
mod tests;
#[cfg(test)]
#[path = "sheet_scenes.rs"]
mod scenes;
