//! Yes-or-no pictures and the connected parts in them.

use crate::frame::PointPx;

/// Thin lines and arrow holes up to this many working px wide are bridged. Chosen by hand; not tuned.
const BRIDGE: usize = 4;

/// A coarse yes-or-no picture; one of its pixels stands for `step` x `step` of the photograph.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Mask {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) step: usize,
    pub(crate) data: Vec<bool>,
}

impl Mask {
    /// Place in the photograph of the middle of a mask pixel.
    pub(crate) fn place(&self, i: usize) -> PointPx {
        let step = self.step as f64;
        let at = |n: usize| n as f64 * step + (step - 1.0) / 2.0;
        PointPx::new(at(i % self.width.max(1)), at(i / self.width.max(1)))
    }

    /// The first and the last place of every row that has one: no other can be a corner of its hull.
    pub(crate) fn row_ends(&self) -> impl Iterator<Item = PointPx> {
        let rows = self.data.chunks(self.width.max(1)).enumerate();
        rows.flat_map(move |(y, row)| {
            let ends = [row.iter().position(|v| *v), row.iter().rposition(|v| *v)];
            let place = move |x| self.place(y * self.width + x);
            ends.into_iter().flatten().map(place)
        })
    }

    pub(crate) fn get(&self, x: usize, y: usize) -> bool {
        let inside = x < self.width && y < self.height;
        inside && self.data.get(y * self.width + x) == Some(&true)
    }

    /// Dilated, then eroded, by a square: bridges lines and small holes.
    pub(crate) fn closed(self) -> Self {
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
    pub(crate) fn nearest(&self, tap: PointPx) -> Option<(usize, usize)> {
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

    /// The connected pixels around `start` (4-neighbours).
    pub(crate) fn component(&self, start: (usize, usize)) -> Self {
        let mut out = self.empty();
        self.flood(start, &mut out);
        out
    }

    /// Adds the connected pixels around `start` to `reached`; returns how many were new.
    pub(crate) fn flood(&self, start: (usize, usize), reached: &mut Self) -> usize {
        let mut stack = vec![start];
        let mut count = 0;
        while let Some((x, y)) = stack.pop() {
            if !self.get(x, y) || reached.get(x, y) {
                continue;
            }
            if let Some(r) = reached.data.get_mut(y * self.width + x) {
                *r = true;
                count += 1;
            }
            stack.extend([
                (x + 1, y),
                (x.wrapping_sub(1), y),
                (x, y + 1),
                (x, y.wrapping_sub(1)),
            ]);
        }
        count
    }

    pub(crate) fn empty(&self) -> Self {
        Self {
            data: vec![false; self.data.len()],
            ..*self
        }
    }

    /// Everything not reachable from the border becomes part of the mask.
    pub(crate) fn filled(&self) -> Self {
        let Some(around) = self.box_around() else {
            return self.clone();
        };
        // Beyond its own box all is outside.
        let outside = self.cut(&around, |set| !set);
        let mut reached = outside.empty();
        let (w, h) = (outside.width, outside.height);
        let border = (0..w)
            .flat_map(|x| [(x, 0), (x, h - 1)])
            .chain((0..h).flat_map(|y| [(0, y), (w - 1, y)]));
        for start in border {
            outside.flood(start, &mut reached);
        }
        let mut filled = self.empty();
        for (y, row) in reached.data.chunks_exact(w).enumerate() {
            let start = (around.top + y) * self.width + around.left;
            for (to, reached) in filled.data.iter_mut().skip(start).zip(row) {
                *to = !reached;
            }
        }
        filled
    }

    /// The smallest box that holds all that is set.
    fn box_around(&self) -> Option<Around> {
        let rows = self.data.chunks_exact(self.width.max(1)).enumerate();
        let mut around: Option<Around> = None;
        for (y, row) in rows {
            let (Some(left), Some(right)) =
                (row.iter().position(|v| *v), row.iter().rposition(|v| *v))
            else {
                continue;
            };
            let so_far = around.get_or_insert(Around {
                left,
                right,
                top: y,
                bottom: y,
            });
            so_far.left = so_far.left.min(left);
            so_far.right = so_far.right.max(right);
            so_far.bottom = y;
        }
        around
    }

    /// What a box holds, each pixel turned by `turn`.
    fn cut(&self, around: &Around, turn: impl Fn(bool) -> bool) -> Self {
        let (width, height) = (
            around.right - around.left + 1,
            around.bottom - around.top + 1,
        );
        let rows = self
            .data
            .chunks_exact(self.width)
            .skip(around.top)
            .take(height);
        let cells = rows.flat_map(|row| row.iter().skip(around.left).take(width));
        Self {
            width,
            height,
            step: self.step,
            data: cells.map(|v| turn(*v)).collect(),
        }
    }
}

/// A box of whole pixels, its borders within it.
struct Around {
    left: usize,
    right: usize,
    top: usize,
    bottom: usize,
}

/// Sets whatever has one of `value` within [`BRIDGE`] along a line.
fn spread_line(data: &mut [bool], start: usize, stride: usize, length: usize, value: bool) {
    let old: Vec<bool> = data
        .iter()
        .skip(start)
        .step_by(stride)
        .take(length)
        .copied()
        .collect();
    let mut done = 0;
    for (i, _) in old.iter().enumerate().filter(|(_, v)| **v == value) {
        // What the one before reached is done.
        let from = i.saturating_sub(BRIDGE).max(done);
        let to = (i + BRIDGE).min(length - 1);
        for k in from..=to {
            data[start + k * stride] = value;
        }
        done = to;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ring_with_a_thin_cut_becomes_a_disc() {
        let (width, height) = (60, 50);
        let inside = |i: usize| {
            let (x, y) = ((i % width) as f64 - 30.0, (i / width) as f64 - 25.0);
            (8.0..16.0).contains(&x.hypot(y)) && (x.abs() > 1.5 || y > 0.0)
        };
        let data = (0..width * height).map(inside).collect();
        let ring = Mask {
            width,
            height,
            step: 1,
            data,
        };
        let disc = ring.closed().component((30 + 12, 25)).filled();
        assert!(disc.get(30, 25) && !disc.get(2, 2));
        let area = disc.data.iter().filter(|v| **v).count() as f64;
        assert!(
            (area / (std::f64::consts::PI * 256.0) - 1.0).abs() < 0.06,
            "{area}"
        );
        let start = disc.nearest(PointPx::new(49.0, 25.0)).unwrap();
        assert!(start.0.abs_diff(46) <= 1, "{start:?}");
        assert!(disc.empty().nearest(PointPx::new(1.0, 1.0)).is_none());
    }
}
