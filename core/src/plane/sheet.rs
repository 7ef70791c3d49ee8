//! A flat sheet or card of known size.

use super::fitted::{Mode, checked_length};
use super::gates::{check_shape, edge_warnings};
use super::line::Line;
use super::solve::{Solved, Start, solve};
use super::trace::{Outline, Pass, Side, side};
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
    /// Standard deviation of a corner tap, px; 12 px in a 12 MP picture if not given.
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
        let usual = 12.0 / 2500.0 * lens.half_diagonal_px();
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
    lens: Lens,
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
        view: &View<'_>,
        taps: &[PointPx; 4],
        with: &SheetFit,
    ) -> Result<Plane, PlaneError> {
        self.fit_outline(view, taps, with, &Outline::SHEET)
    }

    /// The same for any outline whose corners span the sheet.
    pub(crate) fn fit_outline(
        &self,
        view: &View<'_>,
        taps: &[PointPx; 4],
        with: &SheetFit,
        outline: &Outline<'_>,
    ) -> Result<Plane, PlaneError> {
        check_order(taps)?;
        let lens = Lens::new(
            with.remembered_k1.unwrap_or(0.0),
            view.width(),
            view.height(),
        );
        let start = Start {
            taps: *taps,
            tap_sd_px: with.tap_sd_px(&lens),
            lens,
        };
        match refine(view, &start, outline) {
            Ok((solved, traced)) => self.by_edges(&solved, &traced, with),
            Err(_) if with.accept_raw => self.by_corners(&start, with),
            Err(unseen) => Err(unseen),
        }
    }

    fn by_edges(
        &self,
        solved: &Solved,
        traced: &Traced,
        with: &SheetFit,
    ) -> Result<Plane, PlaneError> {
        let homography = Homography::fit(&self.pairs(&solved.corners))?;
        let shape = check_shape(self, &homography, &solved.lens, with.focal_px)?;
        let mut warnings = edge_warnings(solved, &traced.sides, with);
        warnings.extend(shape);
        let hidden = traced.missing.iter().map(|(edge, _)| *edge);
        warnings.extend(hidden.map(|edge| PlaneWarning::EdgeLeftOut { edge }));
        let modes = solved.modes().into_iter().filter_map(|(corners, lens)| {
            let homography = Homography::fit(&self.pairs(&corners)).ok()?;
            Some(Mode { homography, lens })
        });
        let plane = self.plane(homography, solved.lens, modes.collect(), warnings);
        let px_per_mm = plane.px_per_mm(PointMm::default());
        Ok(Plane {
            residual_px: solved.rms_px,
            residual_mm: solved.rms_px / px_per_mm,
            ..plane
        })
    }

    /// The fallback: corner taps as they are.
    fn by_corners(&self, start: &Start, with: &SheetFit) -> Result<Plane, PlaneError> {
        let lens = start.lens;
        let flat = start.taps.map(|t| lens.undistort(t));
        let homography = Homography::fit(&self.pairs(&flat))?;
        let mut warnings = vec![PlaneWarning::RawCorners];
        warnings.extend(check_shape(self, &homography, &lens, with.focal_px)?);
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
            modes,
        }
    }

    fn pairs(&self, undistorted: &[PointPx; 4]) -> [Pair; 4] {
        let mm = self.corners_mm();
        std::array::from_fn(|i| (mm[i], undistorted[i]))
    }
}

/// Three passes over the sides, each in a narrower window around a better guess; the lens joins
/// in after the second.
pub(crate) fn refine(
    view: &View<'_>,
    start: &Start,
    outline: &Outline<'_>,
) -> Result<(Solved, Traced), PlaneError> {
    let tap = start.tap_sd_px;
    let pass = |half: f64, sigma: f64, tolerance: f64| Pass {
        half,
        sigma,
        tolerance,
    };
    let corners = start.taps.map(|t| start.lens.undistort(t));
    let wide = pass((3.2 * tap + 6.0).max(10.0), 2.0, 9.0);
    let found = trace(view, &start.lens, corners, (outline, &wide))?;
    let found = trace(
        view,
        &found.lens,
        found.meets(),
        (outline, &pass((1.2 * tap).max(12.0), 1.5, 6.0)),
    )?;
    let solved = solve(&found.sides, found.meets(), start).ok_or(PlaneError::Degenerate)?;
    let found = trace(
        view,
        &solved.lens,
        solved.corners,
        (outline, &pass(10.0, 1.5, 5.0)),
    )?;
    let solved = solve(&found.sides, solved.corners, start).ok_or(PlaneError::Degenerate)?;
    Ok((solved, found))
}

/// Looks for all four sides; one may stay unseen.
fn trace(
    view: &View<'_>,
    lens: &Lens,
    corners: [PointPx; 4],
    look: (&Outline<'_>, &Pass),
) -> Result<Traced, PlaneError> {
    let mut traced = Traced {
        sides: Vec::new(),
        missing: Vec::new(),
        corners,
        lens: *lens,
    };
    for edge in Edge::ALL {
        let i = edge as usize;
        match side(view, lens, edge, (corners[i], corners[(i + 1) % 4]), look) {
            Ok(side) => traced.sides.push(side),
            Err(seen) => traced.missing.push((edge, seen)),
        }
    }
    match traced.missing[..] {
        [] | [_] => Ok(traced),
        [(edge, seen), ..] => Err(PlaneError::EdgeNotFound {
            edge,
            percent_seen: 100.0 * seen,
        }),
    }
}

impl Traced {
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
