//! The patch of one shade under a tap: its middle and spread.

use super::faces::Middle;
use crate::frame::PointPx;
use crate::photo::{Photo, View};

/// Second moments of a filled patch, px of the photograph.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Blob {
    pub(crate) middle: PointPx,
    pub(crate) xx: f64,
    pub(crate) xy: f64,
    pub(crate) yy: f64,
}

/// Side of the picture the patch is looked for in is about this many px.
const WORKING_SIDE: usize = 800;
/// Thin lines and arrow holes up to this many working px wide are bridged.
const BRIDGE: usize = 4;
/// A patch must cover at least this many working px.
const LEAST_AREA: usize = 60;

/// A coarse mask of the pixels that look like the middle of the face.
struct Mask {
    width: usize,
    height: usize,
    step: usize,
    data: Vec<bool>,
}

/// Finds the patch under (or nearest to) `tap`; `None` if there is none of a useful size.
pub(crate) fn under(photo: &Photo, tap: PointPx, middle: Middle) -> Option<Blob> {
    let step = (photo.width().max(photo.height()) / WORKING_SIDE).max(1);
    let mask = Mask::of(photo, tap, middle, step).closed();
    let start = mask.nearest(tap)?;
    let mut patch = mask.component(start);
    fill_holes(&mut patch);
    moments(&patch)
}

impl Mask {
    fn of(photo: &Photo, tap: PointPx, middle: Middle, step: usize) -> Self {
        let channels = [0, 1, 2].map(|c| photo.channel(c));
        let (width, height) = (photo.width() / step, photo.height() / step);
        let at = |x: usize, y: usize| channels.map(|c| mean(&c, x * step, y * step, step));
        let like = match middle {
            Middle::Gold if photo.has_colour() => None,
            _ => Some(typical(&channels, tap, step)),
        };
        let data = (0..width * height)
            .map(|i| {
                let pixel = at(i % width, i / width);
                like.map_or_else(|| is_gold(pixel), |like| is_like(pixel, like))
            })
            .collect();
        Self {
            width,
            height,
            step,
            data,
        }
    }

    fn get(&self, x: usize, y: usize) -> bool {
        let inside = x < self.width && y < self.height;
        inside && self.data.get(y * self.width + x) == Some(&true)
    }

    /// Dilated, then eroded, by a square: bridges lines and small holes.
    fn closed(self) -> Self {
        self.spread(true).spread(false)
    }

    /// Sets every pixel that has one of `value` within [`BRIDGE`], rows then columns.
    fn spread(mut self, value: bool) -> Self {
        let (width, height) = (self.width, self.height);
        for y in 0..height {
            spread_line(&mut self.data, y * width, 1, width, value);
        }
        for x in 0..width {
            spread_line(&mut self.data, x, width, height, value);
        }
        self
    }

    /// The set pixel closest to the tap, within a tenth of the picture.
    fn nearest(&self, tap: PointPx) -> Option<(usize, usize)> {
        let (tx, ty) = (tap.x_px / self.step as f64, tap.y_px / self.step as f64);
        let reach = self.width.max(self.height) as f64 / 10.0;
        let pixels = (0..self.data.len()).map(|i| (i % self.width, i / self.width));
        pixels
            .filter(|(x, y)| self.get(*x, *y))
            .map(|(x, y)| ((x as f64 - tx).hypot(y as f64 - ty), (x, y)))
            .filter(|(d, _)| *d <= reach)
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(_, at)| at)
    }

    /// The connected set pixels around `start` (4-neighbours).
    fn component(&self, start: (usize, usize)) -> Self {
        let mut out = self.empty();
        let mut stack = vec![start];
        while let Some((x, y)) = stack.pop() {
            if !self.get(x, y) || out.get(x, y) {
                continue;
            }
            if let Some(o) = out.data.get_mut(y * self.width + x) {
                *o = true;
            }
            stack.extend([
                (x + 1, y),
                (x.wrapping_sub(1), y),
                (x, y + 1),
                (x, y.wrapping_sub(1)),
            ]);
        }
        out
    }

    fn empty(&self) -> Self {
        Self {
            data: vec![false; self.data.len()],
            ..*self
        }
    }
}

fn spread_line(data: &mut [bool], start: usize, stride: usize, length: usize, value: bool) {
    let old: Vec<bool> = (0..length)
        .map(|i| data.get(start + i * stride).copied().unwrap_or(!value))
        .collect();
    for i in (0..length).filter(|i| old.get(*i) == Some(&value)) {
        for k in i.saturating_sub(BRIDGE)..=(i + BRIDGE).min(length - 1) {
            if let Some(d) = data.get_mut(start + k * stride) {
                *d = value;
            }
        }
    }
}

/// Everything not reachable from the border becomes part of the patch.
fn fill_holes(patch: &mut Mask) {
    let mut outside = patch.empty();
    outside.data = patch.data.iter().map(|v| !v).collect();
    let (w, h) = (patch.width, patch.height);
    let border = (0..w)
        .flat_map(|x| [(x, 0), (x, h - 1)])
        .chain((0..h).flat_map(|y| [(0, y), (w - 1, y)]));
    let mut reached = patch.empty();
    for start in border {
        if outside.get(start.0, start.1) && !reached.get(start.0, start.1) {
            let part = outside.component(start);
            for (r, p) in reached.data.iter_mut().zip(&part.data) {
                *r |= p;
            }
        }
    }
    patch.data = reached.data.iter().map(|v| !v).collect();
}

fn moments(patch: &Mask) -> Option<Blob> {
    let step = patch.step as f64;
    let place = |n: usize| n as f64 * step + (step - 1.0) / 2.0;
    let set = || {
        let on = patch.data.iter().enumerate().filter(|(_, v)| **v);
        on.map(|(i, _)| (place(i % patch.width), place(i / patch.width)))
    };
    let n = set().count();
    if n < LEAST_AREA {
        return None;
    }
    let mean = set().fold((0.0, 0.0), |s, p| (s.0 + p.0, s.1 + p.1));
    let middle = PointPx::new(mean.0 / n as f64, mean.1 / n as f64);
    let mut sums = [0.0; 3];
    for (x, y) in set() {
        let (dx, dy) = (x - middle.x_px, y - middle.y_px);
        for (s, v) in sums.iter_mut().zip([dx * dx, dx * dy, dy * dy]) {
            *s += v / n as f64;
        }
    }
    let [xx, xy, yy] = sums;
    (xx * yy - xy * xy > 1.0).then_some(Blob { middle, xx, xy, yy })
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
        let mut values: Vec<u8> = offsets
            .clone()
            .flat_map(|dy| offsets.clone().map(move |dx| (dx, dy)))
            .map(|(dx, dy)| {
                let x = (tap.x_px + dx as f64).max(0.0) as usize;
                c.at(x, (tap.y_px + dy as f64).max(0.0) as usize)
            })
            .collect();
        let middle = values.len() / 2;
        i32::from(*values.select_nth_unstable(middle).1)
    })
}

fn is_like(pixel: [i32; 3], like: [i32; 3]) -> bool {
    pixel.iter().zip(like).all(|(p, l)| (p - l).abs() < 36)
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
