//! The patch of one shade under a tap: its middle and spread.

use super::faces::Middle;
use super::mask::Mask;
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
/// A patch must cover at least this many working px.
const LEAST_AREA: usize = 60;

/// Finds the patch under (or nearest to) `tap`; `None` if there is none of a useful size.
pub(crate) fn under(photo: &Photo, tap: PointPx, middle: Middle) -> Option<Blob> {
    let step = (photo.width().max(photo.height()) / WORKING_SIDE).max(1);
    let mask = looks_like(photo, tap, middle, step).closed();
    let start = mask.nearest(tap)?;
    moments(&mask.component(start).filled())
}

/// The pixels that look like the middle of the face.
fn looks_like(photo: &Photo, tap: PointPx, middle: Middle, step: usize) -> Mask {
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
    Mask {
        width,
        height,
        step,
        data,
    }
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
