//! A flat sheet or card of known size.

use super::candidates::{Candidate, candidates, inside};
use super::channels::Channels;
use super::choose::choose;
use super::fitted::{Mode, checked_length};
use super::gates::{ShapeTest, check_shape, check_tilt, edge_warnings, lens_warning};
use super::lens::UNKNOWN_K1_SD;
use super::line::Line;
use super::solve::{Solved, Start, solve};
use super::stretch;
use super::trace::{Outline, Pass, Side, side};
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
/// A sheet nearer to the picture's border than this share of its size runs out of it.
const CUT: f64 = 0.012;

/// Levels at and beyond which nothing is told apart.
const CLIPPED: (f64, f64) = (6.0, 253.5);
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

/// The sides as last traced and the best corners so far (undistorted px).
pub(crate) struct Traced {
    pub(crate) sides: Vec<Side>,
    /// Sides not seen, with the share of probes that agreed.
    missing: Vec<(Edge, f64)>,
    corners: [PointPx; 4],
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
        };
        let found = self
            .pick(&look, &start, &shape)
            .and_then(|(corners, clear)| {
                refine(&look, &start, corners).map(|(solved, traced)| (solved, traced, clear))
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
        check_tilt(&homography, &solved.lens, shape)?;
        let modes = solved.modes().into_iter().filter_map(|(corners, lens)| {
            let homography = Homography::fit(&self.pairs(&corners)).ok()?;
            Some(Mode { homography, lens })
        });
        let plane = self.plane(homography, solved.lens, modes.collect(), Vec::new());
        let px_per_mm = plane.px_per_mm(PointMm::default());
        let mut warnings = edge_warnings(self, solved, &traced.sides, px_per_mm);
        warnings.extend(lens_warning(&solved.lens, with));
        warnings.extend(doubtful);
        let hidden = traced.missing.iter().map(|(edge, _)| *edge);
        warnings.extend(hidden.map(|edge| PlaneWarning::EdgeLeftOut { edge }));
        if whole {
            warnings.extend(stretch::left_out(solved, &traced.sides));
        }
        Ok(Plane {
            residual_px: solved.rms_px,
            residual_mm: solved.rms_px / px_per_mm,
            k1_sd: Some(solved.k1_sd()),
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
            scale_sd: ScaleSd {
                x: self.cut_sd_mm / self.width_mm,
                y: self.cut_sd_mm / self.height_mm,
            },
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

    fn pairs(&self, undistorted: &[PointPx; 4]) -> [Pair; 4] {
        let mm = self.corners_mm();
        std::array::from_fn(|i| (mm[i], undistorted[i]))
    }
}

/// What is looked at, and what for.
pub(crate) struct Look<'a> {
    pub(crate) channels: &'a Channels<'a>,
    pub(crate) outline: &'a Outline<'a>,
    /// How far the edge of loose paper may wave, px; 0 for what is stiff.
    pub(crate) waves_px: f64,
}

/// Two passes over the sides from corners that are nearly right (undistorted px), each in a narrower
/// window around a better guess; the lens joins in after the first. The last pass takes the filter
/// that suits the blur of each side.
pub(crate) fn refine(
    look: &Look<'_>,
    start: &Start,
    corners: [PointPx; 4],
) -> Result<(Solved, Traced), PlaneError> {
    let size = start.lens.half_diagonal_px() / 2500.0;
    let pass = |half: f64, tolerance: f64| Pass {
        half: (half * size).max(4.0).max(look.waves_px),
        sigma_px: [1.5; 4],
        tolerance: (tolerance * size).max(1.5).max(0.7 * look.waves_px),
    };
    let found = trace(look, &start.lens, corners, &pass(16.0, 8.0))?;
    let solved = solve(&found.sides, found.meets(), start).ok_or(PlaneError::Degenerate)?;
    // As wide as the edges wander, so that no rim or shadow beside them comes in.
    let wander = (4.0 * solved.rms_px / size + 2.0).min(12.0);
    let last = Pass {
        sigma_px: found.sigmas(),
        ..pass(wander, 6.0)
    };
    let found = trace(look, &solved.lens, solved.corners, &last)?;
    let solved = solve(&found.sides, solved.corners, start).ok_or(PlaneError::Degenerate)?;
    Ok((solved, found))
}

/// Whether most sides lie beside paper that is blown out or black: there the edge is not where the
/// picture's own slope is steepest, and looks sharp all the same.
fn is_clipped(look: &Look<'_>, solved: &Solved) -> bool {
    let clipped = |i: &usize| {
        let ends = (solved.corners[*i], solved.corners[(i + 1) % 4]);
        let inwards_px = 0.02 * ends.0.distance_px(ends.1);
        let levels = inside(look.channels, &solved.lens, ends, inwards_px, look.outline);
        let count = look.channels.iter().count();
        let levels = &levels[..count.min(3)];
        levels.iter().all(|l| *l >= CLIPPED.1) || levels.iter().all(|l| *l <= CLIPPED.0)
    };
    (0..4).filter(clipped).count() >= 3
}

/// Looks for all four sides; one may stay unseen.
fn trace(
    look: &Look<'_>,
    lens: &Lens,
    corners: [PointPx; 4],
    pass: &Pass,
) -> Result<Traced, PlaneError> {
    let mut traced = Traced {
        sides: Vec::new(),
        missing: Vec::new(),
        corners,
    };
    for edge in Edge::ALL {
        let i = edge as usize;
        let ends = (corners[i], corners[(i + 1) % 4]);
        match side(look.channels, lens, edge, ends, (look.outline, pass)) {
            Ok(side) => traced.sides.push(side),
            Err(seen) => traced.missing.push((edge, seen)),
        }
    }
    refuse_two(
        &traced.missing,
        look.channels,
        &corners.map(|c| lens.distort(c)),
    )?;
    Ok(traced)
}

/// One side may be hidden; with two the sheet is not known. Says which, and whether the picture's
/// border is why.
fn refuse_two(
    missing: &[(Edge, f64)],
    channels: &Channels<'_>,
    corners: &[PointPx; 4],
) -> Result<(), PlaneError> {
    let [(edge, seen), _, ..] = missing else {
        return Ok(());
    };
    let cut = missing
        .iter()
        .find(|(edge, _)| cut(*edge, channels, corners));
    Err(match cut {
        Some((edge, _)) => PlaneError::EdgeCut { edge: *edge },
        None => PlaneError::EdgeNotFound {
            edge: *edge,
            percent_seen: 100.0 * seen,
        },
    })
}

/// Whether a side between two corners (px of the photograph) lies along the border or beyond it.
fn cut(edge: Edge, channels: &Channels<'_>, corners: &[PointPx; 4]) -> bool {
    let (w, h) = (channels.width() as f64, channels.height() as f64);
    let margin = CUT * w.max(h);
    let i = edge as usize;
    let (a, b) = (corners[i], corners[(i + 1) % 4]);
    let outside = |p: PointPx| {
        p.x_px < margin || p.y_px < margin || p.x_px > w - margin || p.y_px > h - margin
    };
    let places = (1..8).map(|k| {
        let t = f64::from(k) / 8.0;
        PointPx::new(
            a.x_px + t * (b.x_px - a.x_px),
            a.y_px + t * (b.y_px - a.y_px),
        )
    });
    places.filter(|p| outside(*p)).count() >= 4
}

impl Traced {
    /// The filter that suits each side, px.
    fn sigmas(&self) -> [f64; 4] {
        Edge::ALL.map(|edge| {
            let seen = self.sides.iter().find(|s| s.edge == edge);
            seen.map_or(1.5, |s| s.sigma_px)
        })
    }

    /// Corners where neighbouring sides meet; an unseen side keeps its old ends' line.
    fn meets(&self) -> [PointPx; 4] {
        let line = |i: usize| {
            let i = i % 4;
            let seen = self.sides.iter().find(|s| s.edge as usize == i);
            seen.map(|s| s.line)
                .or_else(|| Line::between(self.corners[i], self.corners[(i + 1) % 4]))
        };
        std::array::from_fn(|i| {
            line(i + 3)
                .zip(line(i))
                .and_then(|(before, after)| before.meet(&after))
                .unwrap_or(self.corners[i])
        })
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
