//! The fit of a sheet or card to a photograph.

use crate::plane::channels::Channels;
use crate::plane::edges::candidates::near_taps;
use crate::plane::edges::outline::Outline;
use crate::plane::edges::proportions::Proportions;
use crate::plane::edges::refine::{Look, Traced, is_clipped, refine, refuse_two};
use crate::plane::edges::solve::{Solved, Start};
use crate::plane::edges::stretch;
use crate::plane::fitted::Mode;
use crate::plane::lens::UNKNOWN_K1_SD;
use crate::plane::{
    Edge, Homography, Lens, Plane, PlaneError, PlaneWarning, ReferenceKind, ScaleSd, Sheet,
    SheetFit,
};

use super::beyond::side_within;
use super::choose::Choice;
use super::framed::is_framed;
use super::gates::{ShapeTest, check_shape, check_tilt, edge_warnings, lens_warning, rim_sd_mm};
use super::rim;
use crate::frame::{PointMm, PointPx};
use crate::photo::Photo;

/// Where a card's rim shows, its edge is looked for within this share of it. Chosen by hand; not tuned.
const BESIDE_RIM: f64 = 0.4;
/// Loose paper is seen to wave by about this, mm.
const WAVES_MM: f64 = 1.2;

/// A missed side is looked for so often from where the others put it, of a card and of paper: each look at what
/// cannot bend starts nearer.
const MOST_LOOKS: (usize, usize) = (3, 1);

/// A fit, looked for once.
#[derive(Clone)]
struct Fitted {
    plane: Plane,
    /// How clear the edges are.
    clear: f64,
    /// The side that was left out, and the share of its probes that agreed on a line.
    missing: Option<(Edge, f64)>,
}

impl Sheet {
    /// Fits the sheet to four corner taps (top left, top right, bottom right, bottom left as seen
    /// upright), refined by its edges.
    ///
    /// # Errors
    /// [`PlaneError`] for corners out of order or degenerate, a sheet of another shape or turned,
    /// and edges that cannot be seen (unless [`SheetFit::accept_raw`]): two of paper, one of a card, whose
    /// fourth side the other three place to no better than a millimetre; a card of which only print was found.
    pub fn fit(
        &self,
        photo: &Photo,
        taps: &[PointPx; 4],
        with: &SheetFit,
    ) -> Result<Plane, PlaneError> {
        let (plane, _) = self.fit_judged(photo, taps, with)?;
        self.told_by_corners(photo, taps, with, plane)
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
        let first = self.fit_lines(photo, taps, with, &outline)?;
        // The other sides tell where a missed one is: it is looked for there once more, and nearer yet.
        let mut nearer = first.clone();
        let (of_card, of_paper) = MOST_LOOKS;
        for _ in 0..if self.is_card() { of_card } else { of_paper } {
            if !self.is_missed(&nearer.plane) {
                return Ok((nearer.plane, nearer.clear));
            }
            let corners = self.corners_mm().map(|corner| nearer.plane.to_px(corner));
            match self.fit_lines(photo, &corners, with, &outline) {
                Ok(fitted) => nearer = fitted,
                Err(_) => break,
            }
        }
        if !self.is_missed(&nearer.plane) {
            return Ok((nearer.plane, nearer.clear));
        }
        let gained = first.missing.is_some() && nearer.missing.is_none();
        let best = if gained { nearer } else { first };
        if let Some((edge, seen)) = best.missing.filter(|_| self.is_card() && !with.accept_raw) {
            let percent_seen = 100.0 * seen;
            return Err(PlaneError::EdgeNotFound { edge, percent_seen });
        }
        self.check_left_out(&best.plane, taps, with.focal_px)?;
        Ok((best.plane, best.clear))
    }

    /// Whether a side was not found where it was looked for, or, of a card, which cannot bend, seems to
    /// be another line.
    pub(crate) fn is_missed(&self, plane: &Plane) -> bool {
        let missed = |w: &PlaneWarning| match w {
            PlaneWarning::EdgeLeftOut { .. } => true,
            PlaneWarning::NotFlat { .. } | PlaneWarning::Rough { .. } => self.is_card(),
            _ => false,
        };
        plane.warnings.iter().any(missed)
    }

    /// The same for any outline whose corners span the sheet, looked for once.
    pub(crate) fn fit_outline(
        &self,
        photo: &Photo,
        taps: &[PointPx; 4],
        with: &SheetFit,
        outline: &Outline<'_>,
    ) -> Result<(Plane, f64), PlaneError> {
        let fitted = self.fit_lines(photo, taps, with, outline)?;
        Ok((fitted.plane, fitted.clear))
    }

    fn fit_lines(
        &self,
        photo: &Photo,
        taps: &[PointPx; 4],
        with: &SheetFit,
        outline: &Outline<'_>,
    ) -> Result<Fitted, PlaneError> {
        check_order(taps)?;
        let start = self.start(photo, taps, with);
        let shape = ShapeTest::new(&start.lens, with.focal_px);
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
                // A side that is seen no more was no rim's.
                let on_face =
                    on_face.filter(|(_, other)| other.missing.len() <= traced.missing.len());
                let (solved, traced) = on_face.unwrap_or((solved, traced));
                Ok((solved, traced, clear))
            });
        let whole = outline.parts.len() == 1;
        match found {
            Ok((solved, traced, clear)) => {
                let uncurled = self.uncurled(&look, &start, &solved, &traced);
                let solved = uncurled.as_ref().map_or(&solved, |u| &u.solved);
                let followed = uncurled.as_ref().and_then(|u| u.traced.as_ref());
                let traced = followed.unwrap_or(&traced);
                let mut plane = self.by_edges(solved, traced, with, (&shape, whole))?;
                let px_per_mm = plane.px_per_mm(PointMm::default());
                if let Some(uncurled) = &uncurled {
                    uncurled.tell(&mut plane.warnings, px_per_mm);
                }
                let by = (&solved.lens, &solved.corners, px_per_mm);
                let seen = traced.sides.iter().map(|side| side.edge);
                let within = side_within(look.channels, seen, by);
                let framed = || is_framed(look.channels, self, &plane).then_some(Edge::Top);
                if let Some(edge) = within.or_else(framed).filter(|_| whole) {
                    let percent_seen = 0.0;
                    return Err(PlaneError::EdgeNotFound { edge, percent_seen });
                }
                if is_clipped(&look, solved) && plane.warnings.is_empty() {
                    let rms_px = solved.rms_px;
                    plane.warnings.push(PlaneWarning::Rough { rms_px });
                }
                Ok(Fitted {
                    plane,
                    clear,
                    missing: traced.missing.first().copied(),
                })
            }
            Err(_) if with.accept_raw => Ok(Fitted {
                plane: self.by_corners(&start, with, &shape)?,
                clear: 0.0,
                missing: None,
            }),
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
        let h = self.homography(&solved.corners).ok()?;
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

    /// What is known before its edges are looked for.
    pub(crate) fn start(&self, photo: &Photo, taps: &[PointPx; 4], with: &SheetFit) -> Start {
        let k1 = with.remembered_k1.unwrap_or(0.0);
        let lens = Lens::new(k1, photo.width(), photo.height());
        Start {
            taps: *taps,
            tap_sd_px: with.tap_sd_px(&lens),
            lens,
            // A flat sheet tells the lens anew: what is remembered is only where to start.
            k1_sd: UNKNOWN_K1_SD,
            proportions: with.focal_px.map(|focal_px| Proportions {
                sheet: *self,
                focal_px,
            }),
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
        let (sides, missing) = near_taps(
            look.channels,
            look.outline,
            &start.lens,
            (&taps, start.tap_sd_px),
        );
        refuse_two(&missing, look.channels, &start.taps)?;
        let choice = Choice {
            sheet: self,
            sides: &sides,
            taps: &taps,
            tap_sd_px: start.tap_sd_px,
            shape,
            lens: &start.lens,
        };
        choice.clearest().ok_or(PlaneError::Degenerate)
    }

    fn by_edges(
        &self,
        solved: &Solved,
        traced: &Traced,
        with: &SheetFit,
        (shape, whole): (&ShapeTest, bool),
    ) -> Result<Plane, PlaneError> {
        let homography = self.homography(&solved.corners)?;
        let doubtful = check_shape(self, &homography, &solved.lens, shape)?;
        let oblique = check_tilt(self, &homography, &solved.lens, shape)?;
        let modes = solved.modes().into_iter().filter_map(|(corners, lens)| {
            let homography = self.homography(&corners).ok()?;
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
    pub(crate) fn by_corners(
        &self,
        start: &Start,
        with: &SheetFit,
        shape: &ShapeTest,
    ) -> Result<Plane, PlaneError> {
        let lens = start.lens;
        let flat = start.taps.map(|t| lens.undistort(t));
        let homography = self.homography(&flat)?;
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
            let homography = self.homography(&corners).ok()?;
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
#[path = "fit_tests.rs"]
mod tests;
#[cfg(test)]
#[path = "fit_scenes.rs"]
mod scenes;
