//! A sheet that stands out from its surroundings, found without taps.
//!
//! Two views of a small picture propose outlines: patches of one shade, and long straight edges that
//! close a four-sided figure. What lies on straight edges all round and has the sheet's proportions is
//! fitted like a tapped one.

use super::gates::ShapeTest;
use super::mask::Mask;
use super::polygon::{area, hull, ordered, widest_quadrilateral};
use super::quads::{self, Quad};
use super::segments::Gradient;
use super::{Lens, Plane, PlaneError, PlaneWarning, Sheet, SheetFit};
use crate::frame::{PointMm, PointPx};
use crate::photo::{Photo, View};

/// The picture is looked at in about this many px a side.
const WORKING_SIDE: usize = 400;
/// A candidate covers this share of the picture.
const AREA: std::ops::Range<f64> = 0.02..0.97;
/// A patch covers at least this share of the smallest quadrilateral around it.
const LEAST_FULL: f64 = 0.90;
/// How far a found corner may be off, working px.
const CORNER_SD: f64 = 1.5;
/// So many of the best outlines are fitted.
const MOST_FITTED: usize = 4;
/// In a smaller picture of a card half a pixel is more than a card's edges may bow.
const CARD_PX_PER_MM: f64 = 3.3;
/// An outline this much less clear than the best is not looked at.
const CLEARLY_BETTER: f64 = 0.15;
/// A fit less clear than this share of the best is no rival.
const NO_RIVAL: f64 = 0.95;
/// Fits whose corners differ by less than this share of the sheet's size are one.
const SAME: f64 = 0.02;

/// Corners of sheet-like outlines (top left, top right, bottom right, bottom left), the largest
/// first. More than one means: ask the person.
pub fn propose_sheets(photo: &Photo) -> Vec<[PointPx; 4]> {
    let mut found: Vec<(f64, [PointPx; 4])> = Vec::new();
    for small in planes(photo) {
        for level in levels(&small.values) {
            for light in [true, false] {
                for (area, corners) in candidates(&small.mask(level, light)) {
                    let near = 6.0 * small.step as f64;
                    if !found.iter().any(|(_, c)| same(c, &corners, near)) {
                        found.push((area, corners));
                    }
                }
            }
        }
    }
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    found.into_iter().map(|(_, corners)| corners).collect()
}

/// The colour channels in small.
fn planes(photo: &Photo) -> Vec<Small> {
    let step = (photo.width().max(photo.height()) / WORKING_SIDE).max(1);
    let count = if photo.has_colour() { 3 } else { 1 };
    (0..count)
        .map(|c| shrink(&photo.channel(c), step))
        .collect()
}

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
        let outlines = self.outlines(photo, &with);
        let clearest = outlines.first().map_or(0.0, |quad| quad.clear);
        let worth = outlines.iter().take(MOST_FITTED);
        let mut fits: Vec<(Plane, f64)> = worth
            .filter(|quad| quad.clear > clearest - CLEARLY_BETTER)
            .filter_map(|quad| self.fit_judged(photo, &quad.corners, &with).ok())
            .filter(|(plane, _)| self.is_sure(plane))
            .collect();
        fits.sort_by(|a, b| b.1.total_cmp(&a.1));
        let mut fits = fits.into_iter();
        let (best, clear) = fits.next().ok_or(PlaneError::NotFound)?;
        let rival =
            |(plane, other): (Plane, f64)| other > NO_RIVAL * clear && !self.is_same(&best, &plane);
        if fits.any(rival) {
            return Err(PlaneError::NotFound);
        }
        Ok(best)
    }

    /// Whether a fit that nobody pointed at may be taken: all edges seen, and of a card, which cannot
    /// bend, so large and straight that this is known.
    fn is_sure(&self, plane: &Plane) -> bool {
        let doubtful = |w: &PlaneWarning| match w {
            PlaneWarning::EdgeLeftOut { .. } | PlaneWarning::Oblique { .. } => true,
            PlaneWarning::NotFlat { .. } | PlaneWarning::Rough { .. } => self.is_card(),
            _ => false,
        };
        let small = self.is_card() && plane.px_per_mm(PointMm::default()) < CARD_PX_PER_MM;
        !small && !plane.warnings.iter().any(doubtful)
    }

    /// Whether two fits put the sheet at the same place, nearly.
    fn is_same(&self, a: &Plane, b: &Plane) -> bool {
        let near = SAME * self.width_mm.max(self.height_mm) * a.px_per_mm(self.corners_mm()[0]);
        let corners = self.corners_mm();
        let mut places = corners.iter().map(|c| (a.to_px(*c), b.to_px(*c)));
        places.all(|(p, q)| p.distance_px(q) < near.max(4.0))
    }

    /// Outlines with the sheet's proportions, the clearest first.
    fn outlines(&self, photo: &Photo, with: &SheetFit) -> Vec<Quad> {
        let planes = planes(photo);
        let Some(step) = planes.first().map(|p| p.step as f64) else {
            return Vec::new();
        };
        let (width, height) = (planes[0].width, planes[0].height);
        let levels: Vec<Vec<u8>> = planes.into_iter().map(|p| p.values).collect();
        let gradient = Gradient::of(&levels, width, height);
        let lens = Lens::new(0.0, width, height);
        let shape = ShapeTest::new(&lens, with.focal_px.map(|f| f / step));
        let to_small = |p: PointPx| {
            let at = |v: f64| (v - (step - 1.0) / 2.0) / step;
            PointPx::new(at(p.x_px), at(p.y_px))
        };
        let patches = propose_sheets(photo).into_iter().map(|c| c.map(to_small));
        let quads = quads::closed(&gradient).into_iter().chain(patches);
        let judged =
            quads.filter_map(|c| quads::judge(self, &gradient, (&shape, &lens), ordered(c)));
        let to_full = |p: PointPx| {
            let at = |v: f64| v * step + (step - 1.0) / 2.0;
            PointPx::new(at(p.x_px), at(p.y_px))
        };
        let in_full = |quad: Quad| Quad {
            corners: quad.corners.map(to_full),
            ..quad
        };
        quads::distinct(judged.collect())
            .into_iter()
            .map(in_full)
            .collect()
    }
}

struct Small {
    width: usize,
    height: usize,
    step: usize,
    values: Vec<u8>,
}

impl Small {
    fn mask(&self, level: u8, light: bool) -> Mask {
        Mask {
            width: self.width,
            height: self.height,
            step: self.step,
            data: self.values.iter().map(|v| (*v > level) == light).collect(),
        }
    }
}

/// Mean of a few pixels per working pixel.
fn shrink(view: &View<'_>, step: usize) -> Small {
    let (width, height) = (view.width() / step, view.height() / step);
    let offsets = [step / 6, step / 2, step - 1 - step / 6];
    let mean = |x: usize, y: usize| {
        let sum: u32 = offsets
            .iter()
            .flat_map(|dy| offsets.iter().map(move |dx| (dx, dy)))
            .map(|(dx, dy)| u32::from(view.at(x * step + dx, y * step + dy)))
            .sum();
        (sum / 9) as u8
    };
    let values = (0..width * height)
        .map(|i| mean(i % width, i / width))
        .collect();
    Small {
        width,
        height,
        step,
        values,
    }
}

/// The best single threshold (Otsu, IEEE SMC 9, 1979) and those of the two halves it makes.
fn levels(values: &[u8]) -> Vec<u8> {
    let mut histogram = [0u32; 256];
    for v in values {
        histogram[usize::from(*v)] += 1;
    }
    let whole = otsu(&histogram, 0, 255);
    let mut levels = vec![
        whole,
        otsu(&histogram, 0, whole),
        otsu(&histogram, whole, 255),
    ];
    levels.dedup();
    levels
}

fn otsu(histogram: &[u32; 256], from: u8, to: u8) -> u8 {
    let range = usize::from(from)..=usize::from(to);
    let moments = |r: std::ops::RangeInclusive<usize>| {
        r.fold((0.0, 0.0), |(n, s), v| {
            let count = f64::from(histogram[v]);
            (n + count, s + count * v as f64)
        })
    };
    let (total, sum) = moments(range.clone());
    let (mut below, mut below_sum) = (0.0, 0.0);
    let mut best = (0.0, from);
    for v in range {
        below += f64::from(histogram[v]);
        below_sum += f64::from(histogram[v]) * v as f64;
        let above = total - below;
        if below > 0.0 && above > 0.0 {
            let gap = below_sum / below - (sum - below_sum) / above;
            let between = below * above * gap * gap;
            if between > best.0 {
                best = (between, v as u8);
            }
        }
    }
    best.1
}

/// Large four-sided patches of a mask with their share of the picture.
fn candidates(mask: &Mask) -> Vec<(f64, [PointPx; 4])> {
    let mut seen = mask.empty();
    let pixels = mask.data.len() as f64;
    let mut found = Vec::new();
    for start in (0..mask.data.len()).map(|i| (i % mask.width, i / mask.width)) {
        if !mask.get(start.0, start.1) || seen.get(start.0, start.1) {
            continue;
        }
        let area = mask.flood(start, &mut seen) as f64 / pixels;
        if AREA.contains(&area) {
            let patch = mask.component(start).filled();
            found.extend(four_sided(&patch));
        }
    }
    found
}

fn four_sided(patch: &Mask) -> Option<(f64, [PointPx; 4])> {
    let on = patch.data.iter().enumerate().filter(|(_, v)| **v);
    let hull = hull(on.map(|(i, _)| patch.place(i)).collect());
    let corners = widest_quadrilateral(&hull)?;
    let quad = area(&corners);
    let on = patch.data.iter().filter(|v| **v).count() as f64;
    let patch_area = on * (patch.step * patch.step) as f64;
    let full = patch_area / quad;
    let share = on / patch.data.len() as f64;
    let fits = full > LEAST_FULL && full < 1.0 / LEAST_FULL && area(&hull) < quad / LEAST_FULL;
    fits.then(|| (share, ordered(corners)))
}

fn same(a: &[PointPx; 4], b: &[PointPx; 4], within_px: f64) -> bool {
    a.iter().zip(b).all(|(p, q)| p.distance_px(*q) < within_px)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::ExifFacts;
    use crate::plane::picture::Camera;

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
