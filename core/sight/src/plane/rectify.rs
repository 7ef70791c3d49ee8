//! The straight-on picture of the plane.

use super::Plane;
use crate::frame::{PointMm, PointPx};
use crate::photo::{Grey, View, shrink};

/// A rectangle of the plane and the pixel grid laid over it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Window {
    /// Plane position of the centre of the first (top left) pixel.
    pub top_left: PointMm,
    /// Size of a pixel, mm.
    pub mm_per_px: f64,
    /// Pixels per row.
    pub width: usize,
    /// Rows.
    pub height: usize,
}

impl Window {
    /// A window of `width_mm` x `height_mm` around `centre`, at most 4096 px a side.
    pub fn around(centre: PointMm, width_mm: f64, height_mm: f64, mm_per_px: f64) -> Self {
        let pixels = |mm: f64| ((mm / mm_per_px).round() as usize).clamp(1, 4096);
        let (width, height) = (pixels(width_mm), pixels(height_mm));
        let half = |n: usize| (n as f64 - 1.0) / 2.0 * mm_per_px;
        Self {
            top_left: PointMm::new(centre.x_mm - half(width), centre.y_mm + half(height)),
            mm_per_px,
            width,
            height,
        }
    }

    /// Plane position of a place in the window's picture.
    pub fn to_mm(&self, p: PointPx) -> PointMm {
        PointMm::new(
            self.top_left.x_mm + p.x_px * self.mm_per_px,
            self.top_left.y_mm - p.y_px * self.mm_per_px,
        )
    }

    /// Place in the window's picture of a plane position.
    pub fn to_px(&self, m: PointMm) -> PointPx {
        PointPx::new(
            (m.x_mm - self.top_left.x_mm) / self.mm_per_px,
            (self.top_left.y_mm - m.y_mm) / self.mm_per_px,
        )
    }
}

/// Pixels to read from: the photograph itself or one of its halvings.
#[derive(Debug, Clone, Copy)]
pub struct Source<'a> {
    view: View<'a>,
    halvings: u32,
}

impl<'a> Source<'a> {
    /// The full-size photograph.
    pub fn full(view: View<'a>) -> Self {
        Self { view, halvings: 0 }
    }

    /// The photograph halved `halvings` times (see [`crate::photo::shrink`]).
    pub fn halved(view: View<'a>, halvings: u32) -> Self {
        Self { view, halvings }
    }

    /// The half picture where it still holds at least one source pixel per window pixel, the full
    /// one otherwise: reading the smaller picture is faster and does not alias.
    pub fn best(full: View<'a>, half: View<'a>, plane: &Plane, window: &Window) -> Self {
        let middle = window.to_mm(PointPx::new(
            window.width as f64 / 2.0,
            window.height as f64 / 2.0,
        ));
        if plane.px_per_mm(middle) * window.mm_per_px >= HALF_FROM {
            Self::halved(half, 1)
        } else {
            Self::full(full)
        }
    }

    /// Where a place of the full-size photograph lies in these pixels.
    fn place(&self, p: PointPx) -> PointPx {
        let scale = f64::from(1u32 << self.halvings.min(16));
        let shift = (scale - 1.0) / 2.0;
        PointPx::new((p.x_px - shift) / scale, (p.y_px - shift) / scale)
    }
}

/// The mapping is computed exactly every `CELL` px and interpolated between: at 8 px the error
/// stays below 0.02 px at 60 degrees of tilt.
const CELL: usize = 8;
/// Source px to a px of the window from which the half picture is read: two would lose nothing, and a little
/// less is not seen. Chosen by hand; not tuned.
const HALF_FROM: f64 = 1.8;
/// Fraction bits of a source coordinate: 65,535 px fit a positive `i32`.
const BITS: u32 = 14;
const ONE: i32 = 1 << BITS;

/// The plane as seen straight on. Places outside the photograph repeat its nearest pixel, places
/// beyond the horizon are black.
pub fn rectify(source: &Source<'_>, plane: &Plane, window: &Window) -> Grey {
    let mut out = Grey::filled(window.width, window.height, 0);
    let across = window.width.div_ceil(CELL) + 1;
    let node_row = |y: usize| -> Vec<Option<(i32, i32)>> {
        (0..across)
            .map(|i| node(source, plane, window, i * CELL, y))
            .collect()
    };
    let mut above = node_row(0);
    for (band, rows) in out.data.chunks_mut(window.width * CELL).enumerate() {
        let below = node_row((band + 1) * CELL);
        for (i, (top, bottom)) in above.windows(2).zip(below.windows(2)).enumerate() {
            if let ([Some(a), Some(b)], [Some(c), Some(d)]) = (top, bottom) {
                let cell = Cell::new(&source.view, [*a, *b, *c, *d]);
                cell.fill(rows, window.width, i * CELL);
            }
        }
        above = below;
    }
    out
}

/// The plane as seen straight on, read from the photograph halved as often as it takes to leave
/// about two of its pixels per window pixel: nothing aliases, and little is read.
pub fn rectify_averaged(full: &View<'_>, plane: &Plane, window: &Window) -> Grey {
    let middle = PointPx::new(window.width as f64 / 2.0, window.height as f64 / 2.0);
    let density = plane.px_per_mm(window.to_mm(middle)) * window.mm_per_px;
    match ((density / 1.8).log2().floor().clamp(-1.0, 5.0) + 1.0) as u32 {
        0 => rectify(&Source::full(*full), plane, window),
        halvings => {
            let small = shrink(full, halvings);
            rectify(&Source::halved(small.view(), halvings), plane, window)
        }
    }
}

/// Fixed-point source position of a window pixel; `None` far outside or beyond the horizon.
fn node(s: &Source<'_>, plane: &Plane, window: &Window, x: usize, y: usize) -> Option<(i32, i32)> {
    let m = window.to_mm(PointPx::new(x as f64, y as f64));
    let p = s.place(plane.to_px(m));
    // Within this, differences of two positions fit an i32 as well.
    let limit = f64::from(u16::MAX);
    let fixed = |v: f64| (v.abs() < limit).then(|| (v * f64::from(ONE)).round() as i32);
    Some((fixed(p.x_px)?, fixed(p.y_px)?))
}

/// One cell of the grid with the source positions of its corners (a b / c d).
struct Cell<'a> {
    view: &'a View<'a>,
    corners: [(i32, i32); 4],
    inside: bool,
}

impl<'a> Cell<'a> {
    fn new(view: &'a View<'a>, corners: [(i32, i32); 4]) -> Self {
        let (w, h) = (view.width() as i32 - 2, view.height() as i32 - 2);
        let inside = corners
            .iter()
            .all(|(x, y)| *x >= 0 && *y >= 0 && *x >> BITS < w && *y >> BITS < h);
        Self {
            view,
            corners,
            inside,
        }
    }

    fn fill(&self, rows: &mut [u8], width: usize, left: usize) {
        let [a, b, c, d] = self.corners;
        let cells = CELL as i32;
        for (j, row) in rows.chunks_mut(width).enumerate() {
            let j = j as i32;
            let at =
                |p: i32, q: i32| p + (i64::from(q - p) * i64::from(j) / i64::from(cells)) as i32;
            let start = (at(a.0, c.0), at(a.1, c.1));
            let end = (at(b.0, d.0), at(b.1, d.1));
            let step = ((end.0 - start.0) / cells, (end.1 - start.1) / cells);
            let right = (left + CELL).min(width);
            let Some(out) = row.get_mut(left..right) else {
                continue;
            };
            if self.inside {
                self.fast_row(out, start, step);
            } else {
                self.careful_row(out, start, step);
            }
        }
    }

    fn fast_row(&self, out: &mut [u8], start: (i32, i32), step: (i32, i32)) {
        let (data, base, step_x, step_y) = self.view.layout();
        let (mut x, mut y) = start;
        for o in out {
            let index = base + (x >> BITS) as isize * step_x + (y >> BITS) as isize * step_y;
            let at = |offset: isize| {
                i32::from(data.get((index + offset) as usize).copied().unwrap_or(0))
            };
            let four = [at(0), at(step_x), at(step_y), at(step_x + step_y)];
            *o = blend(four, x, y);
            x += step.0;
            y += step.1;
        }
    }

    fn careful_row(&self, out: &mut [u8], start: (i32, i32), step: (i32, i32)) {
        let (w, h) = (self.view.width() as i32 - 1, self.view.height() as i32 - 1);
        let (mut x, mut y) = start;
        for o in out {
            let at = |dx: i32, dy: i32| {
                let u = ((x >> BITS) + dx).clamp(0, w.max(0)) as usize;
                let v = ((y >> BITS) + dy).clamp(0, h.max(0)) as usize;
                i32::from(self.view.at(u, v))
            };
            *o = blend([at(0, 0), at(1, 0), at(0, 1), at(1, 1)], x, y);
            x = x.saturating_add(step.0);
            y = y.saturating_add(step.1);
        }
    }
}

/// Bilinear blend of four neighbours by the fraction bits of a position, rounded.
fn blend([a, b, c, d]: [i32; 4], x: i32, y: i32) -> u8 {
    let (fx, fy) = ((x & (ONE - 1)) >> (BITS - 8), (y & (ONE - 1)) >> (BITS - 8));
    let top = (a << 8) + (b - a) * fx;
    let bottom = (c << 8) + (d - c) * fx;
    (((top << 8) + (bottom - top) * fy + (1 << 15)) >> 16) as u8
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::half;
    use crate::plane::picture::Camera;
    use crate::plane::{PlaneWarning, ReferenceKind, ScaleSd};

    /// Smooth, so that halving and interpolation hardly change it.
    fn waves(m: PointMm) -> f64 {
        128.0 + 60.0 * (m.x_mm / 9.0).sin() + 50.0 * (m.y_mm / 11.0).cos()
    }

    fn plane(camera: &Camera) -> Plane {
        Plane {
            homography: camera.homography(),
            lens: camera.lens(),
            residual_px: 0.0,
            residual_mm: 0.0,
            scale_sd: ScaleSd { x: 0.0, y: 0.0 },
            warnings: vec![PlaneWarning::LensUnknown],
            reference: ReferenceKind::Points { distance_mm: 100.0 },
            rings_mm: Vec::new(),
            up_sd_rad: 0.0,
            k1_sd: None,
            modes: Vec::new(),
        }
    }

    fn worst_error(picture: &Grey, window: &Window) -> f64 {
        let at = |i: usize| PointPx::new((i % window.width) as f64, (i / window.width) as f64);
        let off = picture.data.iter().enumerate();
        off.map(|(i, v)| (f64::from(*v) - waves(window.to_mm(at(i)))).abs())
            .fold(0.0, f64::max)
    }

    #[test]
    fn the_plane_comes_out_straight_from_either_size() {
        let camera = Camera {
            turns: [25.0, -15.0, 4.0],
            k1: 0.02,
            ..Camera::level(400.0)
        };
        let photo = camera.draw(0.0, waves);
        let plane = plane(&camera);
        let window = Window::around(PointMm::new(5.0, -3.0), 203.0, 177.0, 1.0);
        let full = Source::full(photo.view());
        assert!(worst_error(&rectify(&full, &plane, &window), &window) < 3.0);
        let small = half(&photo.view());
        let halved = Source::halved(small.view(), 1);
        assert!(worst_error(&rectify(&halved, &plane, &window), &window) < 5.0);
    }

    #[test]
    fn outside_repeats_the_border_and_beyond_the_horizon_is_black() {
        let camera = Camera {
            turns: [80.0, 0.0, 0.0],
            ..Camera::level(300.0)
        };
        let photo = Grey::filled(camera.width, camera.height, 77);
        let window = Window::around(PointMm::default(), 4000.0, 4000.0, 10.0);
        let out = rectify(&Source::full(photo.view()), &plane(&camera), &window);
        assert!(out.data.contains(&77) && out.data.contains(&0));
        assert!(out.data.iter().all(|v| *v == 77 || *v == 0));
    }

    #[test]
    fn window_and_plane_convert_both_ways() {
        let window = Window::around(PointMm::new(10.0, 20.0), 300.0, 200.0, 0.5);
        assert_eq!((window.width, window.height), (600, 400));
        assert_eq!(
            window.to_mm(PointPx::new(299.5, 199.5)),
            PointMm::new(10.0, 20.0)
        );
        let p = window.to_px(PointMm::new(-3.0, 7.0));
        assert!((window.to_mm(p) - PointMm::new(-3.0, 7.0)).norm_mm() < 1e-12);
    }
}
