//! A sheet that stands out from its surroundings, found without taps.
//!
//! Two views of a small picture propose outlines: patches of one shade, and long straight edges that
//! close a four-sided figure. What lies on straight edges all round and has the sheet's proportions is
//! fitted like a tapped one.

use std::cell::RefCell;

use crate::plane::edges::curled::is_at_end;
use crate::plane::sheets::gates::ShapeTest;
use crate::plane::sheets::round::Corners;
use crate::plane::{Plane, PlaneError, PlaneWarning, Sheet, SheetFit};

use super::clearest::{Clearest, Fit, NO_RIVAL, SAME_PX};
use super::figures::{Figures, lies_within};
use super::patches::{Small, WORKING_SIDE, planes};
use super::quads::Quad;
use crate::frame::PointMm;
use crate::photo::Photo;

/// How far a found corner may be off, working px. Chosen by hand; not tuned.
const CORNER_SD: f64 = 1.5;
/// So many of the best outlines are fitted; and of a card, where some have sharp corners and none round ones. Chosen by hand; not tuned.
const MOST_FITTED: (usize, usize) = (4, 10);
/// Edges of an outline whose clearest lines are print are looked for within this share of the usual. Print lies 2 mm or
/// more from the edge, where a card's outline is half a millimetre off in the small picture.
const NARROW: f64 = 0.3;
/// In a smaller picture of a card half a pixel is more than a card's edges may bow. Half a pixel (the
/// least bow that is seen) is then .15 mm.
const CARD_PX_PER_MM: f64 = 3.3;
/// Edge points of a card scatter by less than this, mm: grain and dust beside it make them rough, but a card that is
/// off by .15 mm would seem to bow.
const MOST_ROUGH_MM: f64 = 0.08;
/// ... and by less than this where round corners tell the card and each edge was followed from end to end: no other line
/// is near. Chosen by hand, so that a bow of .15 mm is still seen.
const ROUGH_TOLD_MM: f64 = 0.12;
/// An outline this much less clear than the best is not looked at. Chosen by hand, looking at the
/// photographs of `tests/real-table`.
const CLEARLY_BETTER: f64 = 0.15;
/// A fit less clear than this share of the best is no rival of a card whose corners do not tell it: a frame printed on it may be clearer by a fourth. Chosen by hand; not tuned.
const NO_RIVAL_UNTOLD: f64 = 0.75;
/// Fits whose corners differ by less than this share of the sheet's size are one. Chosen by hand; not
/// tuned.
const SAME: f64 = 0.02;
/// So many of the best figures within are fitted. Chosen by hand; not tuned.
const MOST_INNER: usize = 2;
/// A figure within that is so near to the sheet's shape may be it, standard deviations, as may one that is nearer
/// than the one around. The field within a border of 3 mm on a card is 3 off.
const INNER_MISFIT: f64 = 1.5;

/// Where sheets are looked for, and the clearest fit of each that was, once found.
pub(crate) struct Sought<'a> {
    pub(crate) photo: &'a Photo,
    with: SheetFit,
    figures: Figures,
    seen: RefCell<Vec<(Sheet, Option<Clearest>)>>,
}

impl<'a> Sought<'a> {
    pub(crate) fn in_photo(photo: &'a Photo, with: &SheetFit) -> Self {
        Self::among(photo, with, planes(photo))
    }

    /// The same in a smoothed picture. Grain hides a faint edge, and joins a card with its ground. What a smoothed
    /// picture shows may be anything, so only a card is looked for there, whose corners must tell it.
    pub(crate) fn in_smoothed(photo: &'a Photo, with: &SheetFit) -> Self {
        Self::among(photo, with, smoothed(&planes(photo)))
    }

    /// The same picture, smoothed.
    fn smoothed(&self) -> Self {
        Self::among(self.photo, &self.with, smoothed(&self.figures.planes))
    }

    fn among(photo: &'a Photo, with: &SheetFit, small: Vec<Small>) -> Self {
        let step = photo.width().max(photo.height()) as f64 / WORKING_SIDE as f64;
        let with = SheetFit {
            tap_sd_px: Some(CORNER_SD * step.max(1.0)),
            focal_px: with.focal_px.or(photo.focal_px()),
            accept_raw: false,
            ..*with
        };
        Self {
            photo,
            with,
            figures: Figures::of(small, &with),
            seen: RefCell::default(),
        }
    }

    /// The clearest fit of a sheet.
    fn clearest(&self, sheet: &Sheet) -> Option<Clearest> {
        let known = self
            .seen
            .borrow()
            .iter()
            .find(|(of, _)| of == sheet)
            .map(|(_, fit)| fit.clone());
        known.unwrap_or_else(|| {
            let fit = sheet.clearest(self.photo, &self.with, &self.figures);
            self.seen.borrow_mut().push((*sheet, fit.clone()));
            fit
        })
    }
}

fn smoothed(planes: &[Small]) -> Vec<Small> {
    let smooth = planes.iter().map(|plane| plane.smoothed().smoothed());
    smooth.collect()
}

impl Sheet {
    /// Finds and fits the sheet without taps, if exactly one outline in the picture has its shape
    /// and four clear edges.
    ///
    /// # Errors
    /// [`PlaneError::NotFound`] where none or several would do: propose corners instead.
    pub fn find(&self, photo: &Photo, with: &SheetFit) -> Result<Plane, PlaneError> {
        let sought = Sought::in_photo(photo, with);
        let found = self.found(&sought)?;
        if found.is_some() || !self.has_round_corners() {
            return found.map(|f| f.plane).ok_or(PlaneError::NotFound);
        }
        let found = self.found(&sought.smoothed())?;
        let found = found.filter(|f| f.round == Corners::Round);
        found.map(|f| f.plane).ok_or(PlaneError::NotFound)
    }

    /// The sheet among the figures of a picture, if any may be it.
    pub(crate) fn found(&self, sought: &Sought<'_>) -> Result<Option<Clearest>, PlaneError> {
        let turned = sought.clearest(&self.turned());
        let Some(upright) = sought.clearest(self) else {
            // Part of a sheet that lies as asked may have the shape of one that lies the other way.
            let glance = sought
                .figures
                .like(self)
                .first()
                .map_or(0.0, |quad| quad.clear);
            let found = turned.is_some_and(|found| found.alone && found.glance > glance);
            return if found {
                Err(PlaneError::Turned)
            } else {
                Ok(None)
            };
        };
        if turned.is_some_and(|turned| turned.outdoes(&upright)) {
            return Err(PlaneError::Turned);
        }
        for rival in self.rivals() {
            let found = sought.clearest(&rival);
            if found.is_some_and(|found| found.speaks_against(&upright)) {
                return Err(PlaneError::NotFound);
            }
        }
        if upright.alone
            && !self.holds_its_like(sought.photo, &sought.with, &sought.figures, &upright)
        {
            Ok(Some(upright))
        } else {
            Err(PlaneError::NotFound)
        }
    }

    /// The clearest fit.
    fn clearest(&self, photo: &Photo, with: &SheetFit, figures: &Figures) -> Option<Clearest> {
        let outlines = figures.like(self);
        let glance = outlines.first().map_or(0.0, |quad| quad.clear);
        let sound = self.sound(photo, with, figures, &outlines);
        let (slips, fits): (Vec<Fit>, Vec<Fit>) = sound
            .into_iter()
            .partition(|fit| fit.round == Corners::Sharp);
        let whole = self.picked(fits, glance);
        // What lies on a slip of its own shape was not looked at beside it.
        whole.or_else(|| {
            let on_slip = |slip: Fit| self.clearest_within(photo, with, figures, &slip.plane);
            slips.into_iter().take(MOST_INNER).find_map(on_slip)
        })
    }

    /// The clearest fit within another thing.
    fn clearest_within(
        &self,
        photo: &Photo,
        with: &SheetFit,
        figures: &Figures,
        around: &Plane,
    ) -> Option<Clearest> {
        let around = figures.corners_of(self, around);
        let outlines = figures.within(self, &around);
        let glance = outlines.first().map_or(0.0, |quad| quad.clear);
        let mut fits = self.sound(photo, with, figures, &outlines);
        fits.retain(|fit| fit.round == Corners::Round);
        self.picked(fits, glance)
    }

    /// The fits of the clearest outlines that may be taken: of a card more, until one has round corners.
    fn sound(
        &self,
        photo: &Photo,
        with: &SheetFit,
        figures: &Figures,
        outlines: &[Quad],
    ) -> Vec<Fit> {
        let clearest = outlines.first().map_or(0.0, |quad| quad.clear);
        let worth = outlines.iter().take(if self.has_round_corners() {
            MOST_FITTED.1
        } else {
            MOST_FITTED.0
        });
        let worth = worth.take_while(|quad| quad.clear > clearest - CLEARLY_BETTER);
        let mut fits: Vec<Fit> = Vec::new();
        for (i, quad) in worth.enumerate() {
            let is = |round: Corners| fits.iter().any(|fit| fit.round == round);
            if i >= MOST_FITTED.0 && (is(Corners::Round) || !is(Corners::Sharp)) {
                break;
            }
            fits.extend(self.sound_fit(photo, with, figures, quad));
        }
        fits
    }

    /// The fit of an outline, if it may be taken. A card's edge has print beside it that is clearer: where that was
    /// fitted, the edge is looked for where the outline has it, and no farther.
    fn sound_fit(
        &self,
        photo: &Photo,
        with: &SheetFit,
        figures: &Figures,
        quad: &Quad,
    ) -> Option<Fit> {
        let fit = |with: &SheetFit| {
            let (plane, clear) = self.fit_judged(photo, &quad.corners, with).ok()?;
            let round = Corners::of(photo, self, &plane);
            let drawn = figures.drawn(self, &plane);
            (self.is_sure(&plane, round, drawn) && figures.bear(self, &plane)).then_some(Fit {
                plane,
                clear,
                round,
                drawn,
            })
        };
        let wide = fit(with)?;
        if wide.round != Corners::Sharp {
            return Some(wide);
        }
        let narrow = SheetFit {
            tap_sd_px: with.tap_sd_px.map(|sd| NARROW * sd),
            ..*with
        };
        let nearer = fit(&narrow).filter(|nearer| nearer.round == Corners::Round);
        Some(nearer.unwrap_or(wide))
    }

    /// The clearest of some fits; of a card only those with round corners, where there are any.
    fn picked(&self, mut fits: Vec<Fit>, glance: f64) -> Option<Clearest> {
        if fits.iter().any(|fit| fit.round == Corners::Round) {
            fits.retain(|fit| fit.round == Corners::Round);
        }
        fits.sort_by(|a, b| b.clear.total_cmp(&a.clear));
        let mut fits = fits.into_iter();
        let Fit {
            plane,
            clear,
            round,
            drawn,
        } = fits.next()?;
        let told = !self.has_round_corners() || round == Corners::Round;
        let near = if told { NO_RIVAL } else { NO_RIVAL_UNTOLD };
        let rival = |fit: Fit| fit.clear > near * clear && !self.is_same(&plane, &fit.plane);
        let alone = !fits.any(rival);
        let corners = self.corners_mm().map(|corner| plane.to_px(corner));
        Some(Clearest {
            plane,
            corners,
            clear,
            glance,
            alone,
            drawn,
            round,
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
        let off = |plane: &Plane| {
            ShapeTest::new(&plane.lens, with.focal_px).misfit(&plane.homography, &plane.lens)
        };
        // Print with other corners than the card's own is none.
        let alike = |round: Corners| match found.round {
            Corners::Round => round == Corners::Round,
            _ => round != Corners::Sharp,
        };
        let outlines = figures.within(self, &around).into_iter();
        let worth: Vec<Quad> = outlines
            .filter(|quad| quad.clear > found.glance - CLEARLY_BETTER)
            .take(MOST_INNER)
            .collect();
        self.sound(photo, with, figures, &worth).iter().any(|fit| {
            lies_within(&figures.corners_of(self, &fit.plane), &around)
                && alike(fit.round)
                && off(&fit.plane) < off(&found.plane).max(INNER_MISFIT)
        })
    }

    /// Whether a fit that nobody pointed at may be taken: all edges seen, and of a card, which cannot
    /// bend, so large and straight that this is known.
    fn is_sure(&self, plane: &Plane, round: Corners, drawn: usize) -> bool {
        let px_per_mm = plane.px_per_mm(PointMm::default());
        let whole = |w: &PlaneWarning| !matches!(w, PlaneWarning::StretchLeftOut { .. });
        let told = round == Corners::Round && plane.warnings.iter().all(whole);
        let most_rough_mm = if told { ROUGH_TOLD_MM } else { MOST_ROUGH_MM };
        let unsure = |w: &PlaneWarning| match w {
            PlaneWarning::Oblique { .. } | PlaneWarning::EdgeLeftOut { .. } => true,
            PlaneWarning::NotFlat { .. } => self.is_card(),
            // A corner that lies where no edge was seen to lead.
            PlaneWarning::StretchLeftOut { from, to, .. } => {
                !self.is_card() && is_at_end((*from, *to))
            }
            PlaneWarning::Rough { rms_px } => self.is_card() && *rms_px > most_rough_mm * px_per_mm,
            // Beyond a side the paper goes on, and its proportions do not speak for it.
            PlaneWarning::ShapeUnchecked => drawn > 0,
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

#[cfg(test)]
#[path = "find_tests.rs"]
mod tests;
