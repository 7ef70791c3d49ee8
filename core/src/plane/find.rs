//! A sheet that stands out from its surroundings, found without taps.
//!
//! Two views of a small picture propose outlines: patches of one shade, and long straight edges that
//! close a four-sided figure. What lies on straight edges all round and has the sheet's proportions is
//! fitted like a tapped one.

use super::gates::ShapeTest;
use super::patches::{WORKING_SIDE, four_sided_patches, planes};
use super::polygon::ordered;
use super::quads::{self, Quad, encloses};
use super::segments::Gradient;
use super::{Lens, Plane, PlaneError, PlaneWarning, Sheet, SheetFit};
use crate::frame::{PointMm, PointPx};
use crate::photo::Photo;

/// How far a found corner may be off, working px. Chosen by hand; not tuned.
const CORNER_SD: f64 = 1.5;
/// So many of the best outlines are fitted. Chosen by hand; not tuned.
const MOST_FITTED: usize = 4;
/// In a smaller picture of a card half a pixel is more than a card's edges may bow. Half a pixel (the
/// least bow that is seen) is then .15 mm.
const CARD_PX_PER_MM: f64 = 3.3;
/// An outline this much less clear than the best is not looked at. Chosen by hand, looking at the
/// photographs of `tests/real-table`.
const CLEARLY_BETTER: f64 = 0.15;
/// A fit less clear than this share of the best is no rival. Chosen by hand, looking at the photographs
/// of `tests/real-table`.
const NO_RIVAL: f64 = 0.95;
/// Fits whose corners differ by less than this share of the sheet's size are one. Chosen by hand; not
/// tuned.
const SAME: f64 = 0.02;
/// ... or by less than this, px. Chosen by hand; not tuned.
const SAME_PX: f64 = 4.0;
/// Width over height of A4 and Letter differ by 9 %; sheets nearer to each other than half of that are one
/// shape (logarithm).
const OTHER_SHAPE: f64 = 0.045;
/// Two fits lie on the same lines if their corners differ by less than this share of the diagonal. A4 and Letter
/// of one width differ by 7 %.
const SAME_LINES: f64 = 0.01;

impl Sheet {
    /// Finds and fits the sheet without taps, if exactly one outline in the picture has its shape
    /// and four clear edges.
    ///
    /// # Errors
    /// [`PlaneError::NotFound`] where none or several would do: propose corners instead.
    pub fn find(&self, photo: &Photo, with: &SheetFit) -> Result<Plane, PlaneError> {
        let step = photo.width().max(photo.height()) as f64 / WORKING_SIDE as f64;
        let with = SheetFit {
            tap_sd_px: Some(CORNER_SD * step.max(1.0)),
            focal_px: with.focal_px.or(photo.focal_px()),
            accept_raw: false,
            ..*with
        };
        let figures = Figures::of(photo, &with);
        let turned = self.turned().clearest(photo, &with, &figures);
        let Some(upright) = self.clearest(photo, &with, &figures) else {
            let found = turned.is_some_and(|found| found.alone);
            return Err(if found {
                PlaneError::Turned
            } else {
                PlaneError::NotFound
            });
        };
        if turned.is_some_and(|turned| turned.outdoes(&upright)) {
            return Err(PlaneError::Turned);
        }
        for rival in self.rivals() {
            let found = rival.clearest(photo, &with, &figures);
            if found.is_some_and(|found| found.outdoes(&upright) && !found.is_at(&upright)) {
                return Err(PlaneError::NotFound);
            }
        }
        if upright.alone {
            Ok(upright.plane)
        } else {
            Err(PlaneError::NotFound)
        }
    }

    /// Sheets of another shape that often lie in photographs: part of one of them may have the shape that
    /// was asked for.
    fn rivals(&self) -> impl Iterator<Item = Self> + use<> {
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

    /// The clearest fit.
    fn clearest(&self, photo: &Photo, with: &SheetFit, figures: &Figures) -> Option<Clearest> {
        let outlines = figures.like(self);
        let clearest = outlines.first().map_or(0.0, |quad| quad.clear);
        let worth = outlines.iter().take(MOST_FITTED);
        let mut fits: Vec<(Plane, f64)> = worth
            .filter(|quad| quad.clear > clearest - CLEARLY_BETTER)
            .filter_map(|quad| self.fit_judged(photo, &quad.corners, with).ok())
            .filter(|(plane, _)| self.is_sure(plane))
            .collect();
        fits.sort_by(|a, b| b.1.total_cmp(&a.1));
        let mut fits = fits.into_iter();
        let (plane, clear) = fits.next()?;
        let rival = |(rival, other): (Plane, f64)| {
            other > NO_RIVAL * clear && !self.is_same(&plane, &rival)
        };
        let alone = !fits.any(rival);
        let corners = self.corners_mm().map(|corner| plane.to_px(corner));
        Some(Clearest {
            plane,
            corners,
            clear,
            alone,
        })
    }

    /// Whether a fit that nobody pointed at may be taken: all edges seen, and of a card, which cannot
    /// bend, so large and straight that this is known.
    fn is_sure(&self, plane: &Plane) -> bool {
        let oblique = |w: &PlaneWarning| matches!(w, PlaneWarning::Oblique { .. });
        let small = self.is_card() && plane.px_per_mm(PointMm::default()) < CARD_PX_PER_MM;
        !small && !self.is_missed(plane) && !plane.warnings.iter().any(oblique)
    }

    /// Whether two fits put the sheet at the same place, nearly.
    fn is_same(&self, a: &Plane, b: &Plane) -> bool {
        let near = SAME * self.width_mm.max(self.height_mm) * a.px_per_mm(self.corners_mm()[0]);
        let corners = self.corners_mm();
        let mut places = corners.iter().map(|c| (a.to_px(*c), b.to_px(*c)));
        places.all(|(p, q)| p.distance_px(q) < near.max(SAME_PX))
    }
}

/// The clearest fit of a sheet.
struct Clearest {
    plane: Plane,
    /// Its corners in the picture.
    corners: [PointPx; 4],
    /// How clear its edges are in all.
    clear: f64,
    /// Whether no other place is as clear.
    alone: bool,
}

impl Clearest {
    /// Whether both lie on the same lines: then only the shape asked for differs, and the lines do not say which.
    fn is_at(&self, other: &Self) -> bool {
        let across_px = other.corners[0].distance_px(other.corners[2]);
        let mut corners = self.corners.iter().zip(&other.corners);
        corners.all(|(a, b)| a.distance_px(*b) < (SAME_LINES * across_px).max(SAME_PX))
    }

    /// Whether this rather than the other is the sheet. Part of a sheet that lies the other way may have
    /// the shape that was asked for: of two of which one holds the other, that one if nearly as clear.
    fn outdoes(&self, other: &Self) -> bool {
        let own = if encloses(&self.corners, &other.corners) {
            self.clear / NO_RIVAL
        } else if encloses(&other.corners, &self.corners) {
            self.clear * NO_RIVAL
        } else {
            self.clear
        };
        own > other.clear
    }
}

/// Four-sided figures of a picture, whatever their proportions.
struct Figures {
    gradient: Gradient,
    corners: Vec<[PointPx; 4]>,
    shape: ShapeTest,
    lens: Lens,
    step: f64,
}

impl Figures {
    fn of(photo: &Photo, with: &SheetFit) -> Self {
        let planes = planes(photo);
        let (width, height, step) = planes
            .first()
            .map_or((0, 0, 1), |p| (p.width, p.height, p.step));
        let step = step as f64;
        let patches = four_sided_patches(&planes);
        let levels: Vec<Vec<u8>> = planes.into_iter().map(|p| p.values).collect();
        let gradient = Gradient::of(&levels, width, height);
        let lens = Lens::new(0.0, width, height);
        let to_small = |p: PointPx| {
            let at = |v: f64| (v - (step - 1.0) / 2.0) / step;
            PointPx::new(at(p.x_px), at(p.y_px))
        };
        let patches = patches.into_iter().map(|c| c.map(to_small));
        let closed = quads::closed(&gradient).into_iter();
        Self {
            corners: closed.chain(patches).map(ordered).collect(),
            shape: ShapeTest::new(&lens, with.focal_px.map(|f| f / step)),
            gradient,
            lens,
            step,
        }
    }

    /// Outlines with the sheet's proportions, the clearest first.
    fn like(&self, sheet: &Sheet) -> Vec<Quad> {
        let judge =
            |c: &[PointPx; 4]| quads::judge(sheet, &self.gradient, (&self.shape, &self.lens), *c);
        let to_full = |p: PointPx| {
            let at = |v: f64| v * self.step + (self.step - 1.0) / 2.0;
            PointPx::new(at(p.x_px), at(p.y_px))
        };
        let in_full = |quad: Quad| Quad {
            corners: quad.corners.map(to_full),
            ..quad
        };
        let judged = self.corners.iter().filter_map(judge).collect();
        quads::distinct(judged).into_iter().map(in_full).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::ExifFacts;
    use crate::plane::picture::Camera;
    use crate::plane::propose_sheets;

    fn camera() -> Camera {
        Camera {
            turns: [10.0, 12.0, -6.0],
            k1: 0.01,
            ..Camera::level(420.0)
        }
    }

    fn seen(paint: impl Fn(PointMm) -> f64) -> Photo {
        Photo::from_grey(camera().draw(3.0, paint), ExifFacts::default())
    }

    fn on(m: PointMm, x: f64, y: f64, w: f64, h: f64) -> bool {
        (m.x_mm - x).abs() < w / 2.0 && (m.y_mm - y).abs() < h / 2.0
    }

    #[test]
    fn a_lone_sheet_with_holes_is_found_without_taps() {
        let hole = |m: PointMm| (m - PointMm::new(20.0, 30.0)).norm_mm() < 8.0;
        let photo = seen(|m| {
            if on(m, 0.0, 0.0, 210.0, 297.0) && !hole(m) {
                210.0
            } else {
                95.0
            }
        });
        let with = SheetFit {
            focal_px: Some(camera().focal_px),
            ..SheetFit::default()
        };
        let plane = Sheet::A4.find(&photo, &with).unwrap();
        let corner = plane
            .to_mm(camera().see(PointMm::new(105.0, 148.5)))
            .unwrap();
        assert!(
            (corner - PointMm::new(105.0, 148.5)).norm_mm() < 0.1,
            "{corner:?}"
        );
    }

    /// Print beside an edge leads the glance astray; the other edges and the proportions lead it back.
    #[test]
    fn an_edge_missed_from_a_crooked_proposal_is_found_from_the_fit() {
        let photo = seen(|m| {
            if on(m, 0.0, 0.0, 210.0, 297.0) {
                210.0
            } else {
                95.0
            }
        });
        let with = SheetFit {
            focal_px: Some(camera().focal_px),
            tap_sd_px: Some(6.0),
            ..SheetFit::default()
        };
        let mut corners = Sheet::A4.corners_mm().map(|c| camera().see(c));
        corners[0].x_px -= 40.0;
        corners[3].x_px -= 40.0;
        let (plane, _) = Sheet::A4.fit_judged(&photo, &corners, &with).unwrap();
        assert!(Sheet::A4.is_sure(&plane), "{:?}", plane.warnings);
    }

    /// The upper half of an A4 sheet has the shape of one that lies across.
    #[test]
    fn part_of_a_sheet_is_not_taken_for_one_that_lies_the_other_way() {
        let photo = seen(|m| match (on(m, 0.0, 0.0, 210.0, 297.0), m.y_mm > 0.0) {
            (true, true) => 160.0,
            (true, false) => 225.0,
            _ => 60.0,
        });
        let with = SheetFit {
            focal_px: Some(camera().focal_px),
            ..SheetFit::default()
        };
        let across = Sheet::A4.turned();
        assert_eq!(across.find(&photo, &with), Err(PlaneError::Turned));
        assert!(Sheet::A4.find(&photo, &with).is_ok());
    }

    /// A fold across an A4 sheet leaves the shape of a Letter sheet below it.
    #[test]
    fn part_of_another_sheet_is_not_taken_for_the_one_asked_for() {
        let folded = 297.0 / 2.0 - (297.0 - 210.0 * 279.4 / 215.9);
        let photo = seen(|m| match (on(m, 0.0, 0.0, 210.0, 297.0), m.y_mm > folded) {
            (true, true) => 170.0,
            (true, false) => 225.0,
            _ => 60.0,
        });
        let with = SheetFit {
            focal_px: Some(camera().focal_px),
            ..SheetFit::default()
        };
        assert_eq!(Sheet::LETTER.find(&photo, &with), Err(PlaneError::NotFound));
        assert!(Sheet::A4.find(&photo, &with).is_ok());
    }

    #[test]
    fn two_sheets_or_none_are_not_guessed_at() {
        let two = seen(|m| {
            let first = on(m, -75.0, 0.0, 105.0, 148.5);
            if first || on(m, 75.0, 0.0, 105.0, 148.5) {
                210.0
            } else {
                95.0
            }
        });
        let small = Sheet::new(105.0, 148.5, 0.5).unwrap();
        let with = SheetFit {
            focal_px: Some(camera().focal_px),
            ..SheetFit::default()
        };
        assert_eq!(small.find(&two, &with), Err(PlaneError::NotFound));
        assert!(propose_sheets(&two).len() >= 2);
        let none = seen(|m| 120.0 + 0.2 * m.x_mm);
        assert_eq!(Sheet::A4.find(&none, &with), Err(PlaneError::NotFound));
    }
}
