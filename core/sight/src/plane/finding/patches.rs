//! Patches of one shade with four sides: where a sheet may lie.

use crate::plane::mask::Mask;
use crate::plane::polygon::{area, hull, ordered, widest_quadrilateral};

use super::regions::stable;
use crate::frame::PointPx;
use crate::photo::{Photo, View};

/// The picture is looked at in about this many px a side.
pub(crate) const WORKING_SIDE: usize = 400;
/// A candidate covers this share of the picture. Chosen by hand; not tuned.
const AREA: std::ops::Range<f64> = 0.02..0.97;
/// A patch covers at least this share of the smallest quadrilateral around it. Chosen by hand;
/// `tests/photo-table` measures what passes.
const LEAST_FULL: f64 = 0.90;
/// Patches with corners nearer than this are one, working px. Chosen by hand; not tuned.
const SAME_PX: f64 = 6.0;

/// Corners of sheet-like outlines (top left, top right, bottom right, bottom left) in the colour channels in small, px
/// of the photograph, the largest first.
pub(crate) fn four_sided_patches(channels: &[Small]) -> Vec<[PointPx; 4]> {
    let mut found: Vec<(f64, [PointPx; 4])> = Vec::new();
    for small in channels {
        for level in levels(&small.values) {
            for light in [true, false] {
                for (area, corners) in candidates(&small.mask(level, light)) {
                    let near = SAME_PX * small.step as f64;
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

/// Four-sided patches that stand out from what is around them, px of the photograph.
pub(crate) fn standing_out(channels: &[Small]) -> Vec<[PointPx; 4]> {
    let mut found: Vec<[PointPx; 4]> = Vec::new();
    for small in channels {
        let smooth = small.smoothed();
        for light in [true, false] {
            for region in stable(&smooth.values, smooth.width, light) {
                let mask = smooth.mask(region.level, light);
                let at = (region.seed % small.width, region.seed / small.width);
                let figure = four_sided(&mask.component(at).filled());
                let near = SAME_PX * small.step as f64;
                let new = figure.filter(|(_, c)| !found.iter().any(|f| same(f, c, near)));
                found.extend(new.map(|(_, corners)| corners));
            }
        }
    }
    found
}

/// The colour channels in small.
pub(crate) fn planes(photo: &Photo) -> Vec<Small> {
    let step = (photo.width().max(photo.height()) / WORKING_SIDE).max(1);
    let count = if photo.has_colour() { 3 } else { 1 };
    (0..count)
        .map(|c| shrink(&photo.channel(c), step))
        .collect()
}

/// A colour channel of a picture with one pixel for every square of `step` by `step`.
pub(crate) struct Small {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) step: usize,
    pub(crate) values: Vec<u8>,
}

impl Small {
    /// The level of the pixel nearest to a place.
    pub(crate) fn at(&self, x: f64, y: f64) -> Option<f64> {
        let (x, y) = (x + 0.5, y + 0.5);
        let inside = x >= 0.0 && y >= 0.0 && x < self.width as f64 && y < self.height as f64;
        let index = y as usize * self.width + x as usize;
        let level = self.values.get(index).filter(|_| inside)?;
        Some(f64::from(*level))
    }

    /// Each pixel the mean of the nine around it: grain would join what a faint edge parts.
    pub(crate) fn smoothed(&self) -> Self {
        let rows = |x: usize, y: usize| {
            let near = |n: usize, count: usize| n.saturating_sub(1)..=(n + 1).min(count - 1);
            let row = |y: usize| near(x, self.width).map(move |x| (x, y));
            let all = near(y, self.height).flat_map(row);
            let (sum, count) = all.fold((0u32, 0u32), |(sum, n), (x, y)| {
                (sum + u32::from(self.values[y * self.width + x]), n + 1)
            });
            (sum / count) as u8
        };
        let values = (0..self.values.len()).map(|i| rows(i % self.width, i / self.width));
        Self {
            values: values.collect(),
            ..*self
        }
    }

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
    let hull = hull(patch.row_ends().collect());
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
