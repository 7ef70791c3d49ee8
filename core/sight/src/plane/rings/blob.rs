//! The patch of one shade under a tap: its middle and spread.

use crate::plane::mask::Mask;
use crate::plane::polygon::hull;

use crate::frame::PointPx;
use crate::photo::{Photo, View};
use crate::stats::median;

/// Second moments of a filled patch, px of the photograph.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Blob {
    pub(crate) middle: PointPx,
    pub(crate) xx: f64,
    pub(crate) xy: f64,
    pub(crate) yy: f64,
}

impl Blob {
    /// A patch about `middle`; `None` where it is a line or a point.
    fn new(middle: PointPx, [xx, xy, yy]: [f64; 3]) -> Option<Self> {
        (xx * yy - xy * xy > 1.0).then_some(Self { middle, xx, xy, yy })
    }

    /// How far a point lies from the middle, in half-widths of an evenly filled ellipse.
    fn distance(&self, point: PointPx) -> f64 {
        let (dx, dy) = (point.x_px - self.middle.x_px, point.y_px - self.middle.y_px);
        let determinant = self.xx * self.yy - self.xy * self.xy;
        let squared =
            (self.yy * dx * dx - 2.0 * self.xy * dx * dy + self.xx * dy * dy) / determinant;
        squared.sqrt() / 2.0
    }
}

/// Parts of one patch lie within so many half-widths of the one under the tap: a disc of which an arrow
/// leaves half needs 2.1, and the gold of a neighbouring face is twice as far.
const REACH: f64 = 2.5;
/// Side of the picture the patch is looked for in is about this many px.
const WORKING_SIDE: usize = 800;
/// Levels within which a pixel is of the tapped colour. Chosen by hand; not tuned.
const LIKE: i32 = 36;
/// A patch must cover at least this many working px. Chosen by hand; not tuned.
const LEAST_AREA: usize = 60;

/// Finds the patch under (or nearest to) `tap`; `None` if there is none of a useful size.
pub(crate) fn under(mask: &Mask, tap: PointPx) -> Option<Blob> {
    moments(&mask.component(mask.nearest(tap)?).filled())
}

/// The same where something stands across the patch and parts it: the hull of every part that lies about
/// where the first one does.
pub(crate) fn across(mask: &Mask, tap: PointPx) -> Option<Blob> {
    let first = under(mask, tap)?;
    let near = |i: &usize| mask.data[*i] && first.distance(mask.place(*i)) <= REACH;
    let (mut reached, mut parts) = (mask.empty(), mask.empty());
    for i in (0..mask.data.len()).filter(near) {
        let start = (i % mask.width, i / mask.width);
        if mask.flood(start, &mut reached) >= LEAST_AREA {
            mask.flood(start, &mut parts);
        }
    }
    let inside = (0..mask.data.len()).filter(|i| near(i) && parts.data[*i]);
    let corners: Vec<PointPx> = inside.map(|i| mask.place(i)).collect();
    of_polygon(&hull(corners))
}

/// The gold of a photograph in colour.
pub(crate) fn gold(photo: &Photo) -> Mask {
    mask(photo, is_gold)
}

/// What looks like the place that was tapped.
pub(crate) fn like(photo: &Photo, tap: PointPx) -> Mask {
    let channels = [0, 1, 2].map(|c| photo.channel(c));
    let tapped = typical(&channels, tap, step(photo));
    mask(photo, |pixel| is_like(pixel, tapped))
}

/// Every so many px of a photograph are looked at.
fn step(photo: &Photo) -> usize {
    (photo.width().max(photo.height()) / WORKING_SIDE).max(1)
}

/// The pixels of a kind, thin lines and holes in them bridged.
fn mask(photo: &Photo, is: impl Fn([i32; 3]) -> bool) -> Mask {
    let step = step(photo);
    let channels = [0, 1, 2].map(|c| photo.channel(c));
    let (width, height) = (photo.width() / step, photo.height() / step);
    let at = |x: usize, y: usize| channels.map(|c| mean(&c, x * step, y * step, step));
    let data = (0..width * height).map(|i| is(at(i % width, i / width)));
    let mask = Mask {
        width,
        height,
        step,
        data: data.collect(),
    };
    mask.closed()
}

fn moments(patch: &Mask) -> Option<Blob> {
    let set = || {
        let on = patch.data.iter().enumerate().filter(|(_, v)| **v);
        on.map(|(i, _)| patch.place(i))
    };
    let n = set().count();
    if n < LEAST_AREA {
        return None;
    }
    let mean = set().fold((0.0, 0.0), |s, p| (s.0 + p.x_px, s.1 + p.y_px));
    let middle = PointPx::new(mean.0 / n as f64, mean.1 / n as f64);
    let mut sums = [0.0; 3];
    for p in set() {
        let (dx, dy) = (p.x_px - middle.x_px, p.y_px - middle.y_px);
        for (s, v) in sums.iter_mut().zip([dx * dx, dx * dy, dy * dy]) {
            *s += v / n as f64;
        }
    }
    Blob::new(middle, sums)
}

/// Moments of the area inside a polygon (Green's theorem).
fn of_polygon(corners: &[PointPx]) -> Option<Blob> {
    let from = *corners.first()?;
    let mut sums = [0.0; 6];
    for (a, b) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        let (ax, ay) = (a.x_px - from.x_px, a.y_px - from.y_px);
        let (bx, by) = (b.x_px - from.x_px, b.y_px - from.y_px);
        let cross = ax * by - bx * ay;
        let parts = [
            1.0 / 2.0,
            (ax + bx) / 6.0,
            (ay + by) / 6.0,
            (ax * ax + ax * bx + bx * bx) / 12.0,
            (2.0 * ax * ay + ax * by + bx * ay + 2.0 * bx * by) / 24.0,
            (ay * ay + ay * by + by * by) / 12.0,
        ];
        for (sum, part) in sums.iter_mut().zip(parts) {
            *sum += cross * part;
        }
    }
    let [area, x, y, xx, xy, yy] = sums;
    if area.abs() < 1.0 {
        return None;
    }
    let (x, y) = (x / area, y / area);
    let spread = [xx / area - x * x, xy / area - x * y, yy / area - y * y];
    Blob::new(PointPx::new(from.x_px + x, from.y_px + y), spread)
}

fn mean(view: &View<'_>, x: usize, y: usize, step: usize) -> i32 {
    // Four of the step's pixels are enough against noise.
    let far = step.saturating_sub(1);
    let four = [(0, 0), (far, 0), (0, far), (far, far)];
    four.iter()
        .map(|(dx, dy)| i32::from(view.at(x + dx, y + dy)))
        .sum::<i32>()
        / 4
}

/// Median colour around the tap: a hole or a line under the finger does not matter.
fn typical(channels: &[View<'_>; 3], tap: PointPx, step: usize) -> [i32; 3] {
    let reach = 8 * step as isize;
    let offsets = (-reach..=reach).step_by(step.max(1));
    channels.map(|c| {
        let values = offsets
            .clone()
            .flat_map(|dy| offsets.clone().map(move |dx| (dx, dy)))
            .map(|(dx, dy)| {
                let x = (tap.x_px + dx as f64).max(0.0) as usize;
                f64::from(c.at(x, (tap.y_px + dy as f64).max(0.0) as usize))
            })
            .collect();
        median(values).map_or(0, |middle| middle as i32)
    })
}

fn is_like(pixel: [i32; 3], like: [i32; 3]) -> bool {
    pixel.iter().zip(like).all(|(p, l)| (p - l).abs() < LIKE)
}

/// Hue 36 to 72 degrees, saturation above 0.43, value above 50 of 255.
fn is_gold([r, g, b]: [i32; 3]) -> bool {
    let (high, low) = (r.max(g).max(b), r.min(g).min(b));
    let range = high - low;
    if high <= 50 || 255 * range <= 110 * high || low != b {
        return false;
    }
    // With blue lowest, hue is 60 (g - low) / range below 60 degrees and 120 - 60 (r - low) / range above.
    if r >= g {
        10 * (g - low) > 6 * range
    } else {
        10 * (r - low) > 8 * range
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::{ExifFacts, Rgb};

    #[test]
    fn a_polygon_of_many_corners_has_the_moments_of_its_ellipse() {
        let corner = |k: i32| {
            let angle = f64::from(k) * std::f64::consts::TAU / 720.0;
            let (u, v) = (60.0 * angle.cos(), 30.0 * angle.sin());
            PointPx::new(200.0 + 0.8 * u - 0.6 * v, 150.0 + 0.6 * u + 0.8 * v)
        };
        let blob = of_polygon(&(0..720).map(corner).collect::<Vec<_>>()).unwrap();
        assert!(blob.middle.distance_px(PointPx::new(200.0, 150.0)) < 1e-6);
        // A filled ellipse's variance along a half-axis a is a^2 / 4.
        let (long, short) = (900.0, 225.0);
        assert!(
            (blob.xx - (0.64 * long + 0.36 * short)).abs() < 0.1,
            "{blob:?}"
        );
        assert!((blob.xy - 0.48 * (long - short)).abs() < 0.1, "{blob:?}");
        assert!((blob.distance(corner(0)) - 1.0).abs() < 1e-3);
    }

    /// A gold disc of 80 px about (150, 150) on red, a dark bar 30 px wide across it, right of its middle.
    fn parted() -> Photo {
        let (width, height) = (300, 300);
        let pixel = |i: usize| {
            let (x, y) = ((i % width) as f64, (i / width) as f64);
            if (165.0..195.0).contains(&x) {
                [30, 28, 25]
            } else if (x - 150.0).hypot(y - 150.0) <= 80.0 {
                [250, 220, 40]
            } else {
                [220, 60, 50]
            }
        };
        let data = (0..width * height).flat_map(pixel).collect();
        let rgb = Rgb {
            width,
            height,
            data,
        };
        Photo::from_rgb(rgb, ExifFacts::default())
    }

    #[test]
    fn a_gold_that_an_arrow_parts_is_one_disc() {
        let (photo, tap) = (parted(), PointPx::new(140.0, 150.0));
        let middle = PointPx::new(150.0, 150.0);
        let mask = gold(&photo);
        let first = under(&mask, tap).unwrap();
        assert!(first.middle.distance_px(middle) > 20.0, "{first:?}");
        let whole = across(&mask, tap).unwrap();
        assert!(whole.middle.distance_px(middle) < 2.0, "{whole:?}");
        for variance in [whole.xx, whole.yy] {
            assert!((2.0 * variance.sqrt() - 80.0).abs() < 3.0, "{whole:?}");
        }
    }

    #[test]
    fn gold_is_told_from_red_blue_white_and_black() {
        assert!(is_gold([250, 220, 40]) && is_gold([130, 110, 20]) && is_gold([200, 210, 30]));
        for other in [
            [220, 60, 50],
            [60, 140, 220],
            [230, 230, 230],
            [30, 28, 25],
            [60, 200, 60],
        ] {
            assert!(!is_gold(other), "{other:?}");
        }
    }
}
