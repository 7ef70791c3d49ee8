//! A pixel plane as every stage reads it: upright, whatever way it lies in memory.

use std::ops::RangeInclusive;

use super::Orientation;
use crate::frame::PointPx;

/// A plane seen upright: orientation and channel are strides, so no pixel is ever moved for them.
#[derive(Debug, Clone, Copy)]
pub struct View<'a> {
    data: &'a [u8],
    width: usize,
    height: usize,
    base: isize,
    step_x: isize,
    step_y: isize,
}

impl<'a> View<'a> {
    /// A view of `data` (`width` x `height` stored pixels of `channels` bytes each).
    ///
    /// A plane shorter than its dimensions say is seen only as far as its complete rows go.
    pub fn new(
        data: &'a [u8],
        width: usize,
        height: usize,
        channels: usize,
        channel: usize,
        orientation: Orientation,
    ) -> Self {
        let row = width * channels;
        let height = height.min(data.len().checked_div(row).unwrap_or(0));
        let (pixel, row) = (channels as isize, row as isize);
        let (right, bottom) = orientation.start();
        let (mut step_u, mut step_v, mut base) = (pixel, row, channel as isize);
        if right {
            base += pixel * (width as isize - 1);
            step_u = -step_u;
        }
        if bottom {
            base += row * (height as isize - 1);
            step_v = -step_v;
        }
        let (width, height, step_x, step_y) = if orientation.swaps_axes() {
            (height, width, step_v, step_u)
        } else {
            (width, height, step_u, step_v)
        };
        Self {
            data,
            width,
            height,
            base,
            step_x,
            step_y,
        }
    }

    /// Upright width, px.
    pub fn width(&self) -> usize {
        self.width
    }

    /// Upright height, px.
    pub fn height(&self) -> usize {
        self.height
    }

    /// The value at an upright pixel; positions outside repeat the nearest edge pixel, an empty
    /// view is black.
    pub fn at(&self, x: usize, y: usize) -> u8 {
        let x = x.min(self.width.saturating_sub(1)) as isize;
        let y = y.min(self.height.saturating_sub(1)) as isize;
        let index = self.base + x * self.step_x + y * self.step_y;
        self.data.get(index as usize).copied().unwrap_or(0)
    }

    /// Bilinear value at an upright position, `None` where a neighbour would lie outside.
    pub fn sample(&self, x: f64, y: f64) -> Option<f64> {
        let inside =
            x >= 0.0 && y >= 0.0 && x <= self.width as f64 - 1.0 && y <= self.height as f64 - 1.0;
        let on_border = |at: f64, length: usize| at as usize + 1 >= length;
        let step_x = if on_border(x, self.width) {
            0
        } else {
            self.step_x
        };
        let step_y = if on_border(y, self.height) {
            0
        } else {
            self.step_y
        };
        inside.then(|| self.bilinear(x, y, (step_x, step_y)))
    }

    /// [`Self::sample`] at `from + k * step` for each k in order, up to the first that would be none.
    pub(crate) fn line(
        &self,
        from: PointPx,
        step: (f64, f64),
        along: RangeInclusive<isize>,
    ) -> Vec<f64> {
        let at = |k: isize| (from.x_px + k as f64 * step.0, from.y_px + k as f64 * step.1);
        let within = |(x, y): (f64, f64)| {
            let (last_x, last_y) = (self.width as f64 - 1.0, self.height as f64 - 1.0);
            x >= 0.0 && y >= 0.0 && x < last_x && y < last_y
        };
        let mut samples = Vec::with_capacity(along.size_hint().0);
        // What lies between two places within lies within, so that only these two are asked.
        if within(at(*along.start())) && within(at(*along.end())) {
            let steps = (self.step_x, self.step_y);
            samples.extend(along.map(|k| {
                let (x, y) = at(k);
                self.bilinear(x, y, steps)
            }));
        } else {
            samples.extend(along.map_while(|k| {
                let (x, y) = at(k);
                self.sample(x, y)
            }));
        }
        samples
    }

    /// The value between four neighbours, these steps in memory apart; the place is inside.
    #[inline]
    fn bilinear(&self, x: f64, y: f64, (right, below): (isize, isize)) -> f64 {
        // No side is longer than 65,535 px, and this width converts fastest.
        let (x0, y0) = (x as i32, y as i32);
        let (fx, fy) = (x - f64::from(x0), y - f64::from(y0));
        let index = self.base + x0 as isize * self.step_x + y0 as isize * self.step_y;
        let at = |by: isize| f64::from(self.data.get((index + by) as usize).copied().unwrap_or(0));
        let (a, b, c, d) = (at(0), at(right), at(below), at(right + below));
        (a + (b - a) * fx) * (1.0 - fy) + (c + (d - c) * fx) * fy
    }

    /// First index and the two strides: for loops that walk rows without going through `at`.
    pub(crate) fn layout(&self) -> (&'a [u8], isize, isize, isize) {
        (self.data, self.base, self.step_x, self.step_y)
    }
}
