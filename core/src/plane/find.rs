//! A sheet that stands out from its surroundings, found without taps.
//!
//! Two views of a small picture propose outlines: patches of one shade, and long straight edges that
//! close a four-sided figure. What lies on straight edges all round and has the sheet's proportions is
//! fitted like a tapped one.

use super::curled::is_at_end;
use super::drawn::drawn_sides;
use super::figures::Figures;
use super::gates::ShapeTest;
use super::line::Line;
use super::patches::WORKING_SIDE;
use super::quads::encloses;
use super::{Plane, PlaneError, PlaneWarning, Sheet, SheetFit};
use crate::frame::{PointMm, PointPx};
use crate::photo::Photo;

/// How far a found corner may be off, working px. Chosen by hand; not tuned.
const CORNER_SD: f64 = 1.5;
/// So many of the best outlines are fitted. Chosen by hand; not tuned.
const MOST_FITTED: usize = 4;
/// In a smaller picture of a card half a pixel is more than a card's edges may bow. Half a pixel (the
/// least bow that is seen) is then .15 mm.
const CARD_PX_PER_MM: f64 = 3.3;
/// Edge points of a card scatter by less than this, mm: grain and dust beside it make them rough, but a card that is
/// off by .15 mm would seem to bow.
const MOST_ROUGH_MM: f64 = 0.08;
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
/// What lies on a thing has each of its sides this far within it, working px: print shares sides with its card, give or
/// take a pixel. Chosen by hand; not tuned.
const WITHIN_PX: f64 = 1.5;
/// So many of the best figures within are fitted. Chosen by hand; not tuned.
const MOST_INNER: usize = 2;
/// A figure within that is so near to the sheet's shape may be it, standard deviations, as may one that is nearer
/// than the one around. The field within a border of 3 mm on a card is 3 off.
const INNER_MISFIT: f64 = 1.5;
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
        if upright.alone && !self.holds_its_like(photo, &with, &figures, &upright) {
            Ok(upright.plane)
        } else {
            Err(PlaneError::NotFound)
        }
    }

    /// The clearest fit.
    fn clearest(&self, photo: &Photo, with: &SheetFit, figures: &Figures) -> Option<Clearest> {
        let outlines = figures.like(self);
        let clearest = outlines.first().map_or(0.0, |quad| quad.clear);
        let worth = outlines.iter().take(MOST_FITTED);
        let mut fits: Vec<(Plane, f64)> = worth
            .filter(|quad| quad.clear > clearest - CLEARLY_BETTER)
            .filter_map(|quad| self.fit_judged(photo, &quad.corners, with).ok())
            .filter(|(plane, _)| self.is_sure(plane) && figures.bear(self, plane))
            .collect();
        fits.sort_by(|a, b| b.1.total_cmp(&a.1));
        let mut fits = fits.into_iter();
        let (plane, clear) = fits.next()?;
        let rival = |(rival, other): (Plane, f64)| {
            other > NO_RIVAL * clear && !self.is_same(&plane, &rival)
        };
        let alone = !fits.any(rival);
        let corners = self.corners_mm().map(|corner| plane.to_px(corner));
        let drawn = drawn_sides(&figures.planes, &figures.corners_of(self, &plane));
        Some(Clearest {
            plane,
            corners,
            clear,
            glance: clearest,
            alone,
            drawn,
        })
    }

    /// Whether another thing of the sheet's shape lies within what was found: a card on a slip of paper.
    fn holds_its_like(
        &self,
        photo: &Photo,
        with: &SheetFit,
        figures: &Figures,
        found: &Clearest,
    ) -> bool {
        let around = figures.in_small(&found.corners);
        let within = |corners: &[PointPx; 4]| lies_within(corners, &around);
        let inner = figures.seen.iter().filter(|seen| within(&seen.corners));
        let quads = figures.judged(self, inner).into_iter();
        let off = |plane: &Plane| {
            ShapeTest::new(&plane.lens, with.focal_px).misfit(&plane.homography, &plane.lens)
        };
        let worth = quads.filter(|quad| quad.clear > found.glance - CLEARLY_BETTER);
        worth.take(MOST_INNER).any(|quad| {
            let fitted = self.fit_judged(photo, &quad.corners, with).ok();
            fitted.is_some_and(|(plane, _)| {
                within(&figures.corners_of(self, &plane))
                    && self.is_sure(&plane)
                    && figures.bear(self, &plane)
                    && off(&plane) < off(&found.plane).max(INNER_MISFIT)
            })
        })
    }

    /// Whether a fit that nobody pointed at may be taken: all edges seen, and of a card, which cannot
    /// bend, so large and straight that this is known.
    fn is_sure(&self, plane: &Plane) -> bool {
        let px_per_mm = plane.px_per_mm(PointMm::default());
        let unsure = |w: &PlaneWarning| match w {
            PlaneWarning::Oblique { .. } | PlaneWarning::EdgeLeftOut { .. } => true,
            PlaneWarning::NotFlat { .. } => self.is_card(),
            // A corner that lies where no edge was seen to lead.
            PlaneWarning::StretchLeftOut { from, to, .. } => {
                !self.is_card() && is_at_end((*from, *to))
            }
            PlaneWarning::Rough { rms_px } => self.is_card() && *rms_px > MOST_ROUGH_MM * px_per_mm,
            _ => false,
        };
        let small = self.is_card() && px_per_mm < CARD_PX_PER_MM;
        !small && !plane.warnings.iter().any(unsure)
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
    /// How clear the clearest outline was at a glance.
    glance: f64,
    /// Whether no other place is as clear.
    alone: bool,
    /// So many sides look like lines drawn on something.
    drawn: usize,
}

impl Clearest {
    /// Whether both lie on the same lines: then only the shape asked for differs, and the lines do not say which.
    fn is_at(&self, other: &Self) -> bool {
        let across_px = other.corners[0].distance_px(other.corners[2]);
        let mut corners = self.corners.iter().zip(&other.corners);
        corners.all(|(a, b)| a.distance_px(*b) < (SAME_LINES * across_px).max(SAME_PX))
    }

    /// Whether this rather than the other is the sheet. Part of a sheet that lies the other way may have
    /// the shape that was asked for: of two of which one holds the other, that one if nearly as clear, or if
    /// the other's sides are drawn on it.
    fn outdoes(&self, other: &Self) -> bool {
        let own = if encloses(&self.corners, &other.corners) {
            if self.drawn < other.drawn {
                return true;
            }
            self.weight() / NO_RIVAL
        } else if encloses(&other.corners, &self.corners) {
            self.weight() * NO_RIVAL
        } else {
            self.weight()
        };
        own > other.weight()
    }

    /// How clear it is; of two that are nearly alike that one counts of which fewer sides are drawn.
    fn weight(&self) -> f64 {
        self.clear * NO_RIVAL.powi(self.drawn as i32)
    }
}

/// Whether all sides of one figure lie well within another; both run clockwise.
fn lies_within(inner: &[PointPx; 4], outer: &[PointPx; 4]) -> bool {
    (0..4).all(|i| {
        // What lies to the right of every side is within.
        let side = Line::between(outer[i], outer[(i + 1) % 4]);
        side.is_some_and(|side| inner.iter().all(|p| side.distance(*p) > WITHIN_PX))
    })
}

#[cfg(test)]
#[path = "find_tests.rs"]
mod tests;
