//! Pixel planes and the upright view through which every stage reads them.

use std::ops::RangeInclusive;

use crate::frame::PointPx;

/// One 8-bit plane, row after row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Grey {
    /// Pixels per row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// `width * height` values, 0 = black.
    pub data: Vec<u8>,
}

impl Grey {
    /// A plane filled with one value.
    pub fn filled(width: usize, height: usize, value: u8) -> Self {
        Self {
            width,
            height,
            data: vec![value; width * height],
        }
    }

    /// The plane as it lies in memory, already upright.
    pub fn view(&self) -> View<'_> {
        View::new(
            &self.data,
            self.width,
            self.height,
            1,
            0,
            Orientation::Upright,
        )
    }
}

/// Three interleaved 8-bit planes, red first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rgb {
    /// Pixels per row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// `3 * width * height` values.
    pub data: Vec<u8>,
}

impl Rgb {
    /// Whether it can be halved in any order without losing a row or column.
    pub(super) fn has_even_sides(&self) -> bool {
        self.width.is_multiple_of(2) && self.height.is_multiple_of(2)
    }

    /// Half-size picture in stored order, each pixel the rounded mean of 2 x 2.
    pub(super) fn half(&self) -> Self {
        let (width, height, row) = (self.width / 2, self.height / 2, 3 * self.width);
        let mut data = vec![0; 3 * width * height];
        let mut sums = vec![0_u16; row];
        let pairs = self.data.chunks_exact((2 * row).max(1));
        for (line, pair) in data.chunks_exact_mut((3 * width).max(1)).zip(pairs) {
            let (top, bottom) = pair.split_at(row);
            for (sum, (a, b)) in sums.iter_mut().zip(top.iter().zip(bottom)) {
                *sum = u16::from(*a) + u16::from(*b);
            }
            for (out, s) in line.chunks_exact_mut(3).zip(sums.chunks_exact(6)) {
                out.copy_from_slice(&[0, 1, 2].map(|c| mean_of_four(s[c] + s[c + 3])));
            }
        }
        Self {
            width,
            height,
            data,
        }
    }

    /// Of every pixel's channels one, in stored order.
    pub(super) fn picked(&self, pick: impl Fn([u8; 3]) -> u8) -> Grey {
        Grey {
            width: self.width,
            height: self.height,
            data: self
                .data
                .chunks_exact(3)
                .map(|p| pick([p[0], p[1], p[2]]))
                .collect(),
        }
    }

    /// One channel (0 red, 1 green, 2 blue) as it lies in memory, already upright.
    pub fn channel(&self, channel: usize) -> View<'_> {
        View::new(
            &self.data,
            self.width,
            self.height,
            3,
            channel.min(2),
            Orientation::Upright,
        )
    }
}

/// The rounded mean of four values with this sum.
pub(super) fn mean_of_four(sum: u16) -> u8 {
    ((sum + 2) >> 2) as u8
}

/// How the stored pixels must be turned to stand upright: the eight values of the EXIF tag 0x0112.
///
/// Each name says where the stored row 0 and column 0 appear in the upright picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Orientation {
    /// 1: row 0 at the top, column 0 at the left.
    #[default]
    Upright,
    /// 2: top, right.
    TopRight,
    /// 3: bottom, right.
    BottomRight,
    /// 4: bottom, left.
    BottomLeft,
    /// 5: row 0 at the left, column 0 at the top.
    LeftTop,
    /// 6: right, top: a phone held upright.
    RightTop,
    /// 7: right, bottom.
    RightBottom,
    /// 8: left, bottom.
    LeftBottom,
}

impl Orientation {
    /// From the EXIF number; anything outside 1..=8 counts as upright.
    pub fn from_exif(value: u32) -> Self {
        match value {
            2 => Self::TopRight,
            3 => Self::BottomRight,
            4 => Self::BottomLeft,
            5 => Self::LeftTop,
            6 => Self::RightTop,
            7 => Self::RightBottom,
            8 => Self::LeftBottom,
            _ => Self::Upright,
        }
    }

    /// Whether upright width is stored height.
    pub fn swaps_axes(self) -> bool {
        matches!(
            self,
            Self::LeftTop | Self::RightTop | Self::RightBottom | Self::LeftBottom
        )
    }

    /// (start corner right?, start corner bottom?) of upright pixel (0, 0) in the stored plane.
    fn start(self) -> (bool, bool) {
        match self {
            Self::Upright | Self::LeftTop => (false, false),
            Self::TopRight | Self::LeftBottom => (true, false),
            Self::BottomRight | Self::RightBottom => (true, true),
            Self::BottomLeft | Self::RightTop => (false, true),
        }
    }

    /// Upright position of a position given in stored pixels of a plane `width` x `height`.
    pub fn to_upright(self, stored: PointPx, width: usize, height: usize) -> PointPx {
        let (right, bottom) = self.start();
        let u = flip(stored.x_px, width, right);
        let v = flip(stored.y_px, height, bottom);
        if self.swaps_axes() {
            PointPx::new(v, u)
        } else {
            PointPx::new(u, v)
        }
    }
}

fn flip(value: f64, length: usize, yes: bool) -> f64 {
    if yes {
        length as f64 - 1.0 - value
    } else {
        value
    }
}

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

#[cfg(test)]
mod tests {
    use super::*;

    /// Upright picture 3 wide, 2 high: 1 2 3 / 4 5 6, stored in each of the eight ways by the
    /// definitions of the EXIF 2.3 tag 0x0112 (rows and columns written out by hand).
    const STORED: [(u32, usize, usize, [u8; 6]); 8] = [
        (1, 3, 2, [1, 2, 3, 4, 5, 6]),
        (2, 3, 2, [3, 2, 1, 6, 5, 4]),
        (3, 3, 2, [6, 5, 4, 3, 2, 1]),
        (4, 3, 2, [4, 5, 6, 1, 2, 3]),
        (5, 2, 3, [1, 4, 2, 5, 3, 6]),
        (6, 2, 3, [3, 6, 2, 5, 1, 4]),
        (7, 2, 3, [6, 3, 5, 2, 4, 1]),
        (8, 2, 3, [4, 1, 5, 2, 6, 3]),
    ];

    #[test]
    fn all_eight_orientations_read_upright() {
        for (value, width, height, data) in STORED {
            let orientation = Orientation::from_exif(value);
            let view = View::new(&data, width, height, 1, 0, orientation);
            assert_eq!((view.width(), view.height()), (3, 2), "orientation {value}");
            let seen: Vec<u8> = (0..6).map(|i| view.at(i % 3, i / 3)).collect();
            assert_eq!(seen, [1, 2, 3, 4, 5, 6], "orientation {value}");
        }
    }

    #[test]
    fn stored_positions_map_to_where_the_view_shows_them() {
        for (value, width, height, data) in STORED {
            let orientation = Orientation::from_exif(value);
            let view = View::new(&data, width, height, 1, 0, orientation);
            for (i, stored) in data.iter().enumerate() {
                let at = PointPx::new((i % width) as f64, (i / width) as f64);
                let up = orientation.to_upright(at, width, height);
                assert_eq!(view.at(up.x_px as usize, up.y_px as usize), *stored);
            }
        }
    }

    #[test]
    fn samples_between_pixels_and_not_outside() {
        let grey = Grey {
            width: 2,
            height: 2,
            data: vec![0, 100, 50, 150],
        };
        assert_eq!(grey.view().sample(0.5, 0.5), Some(75.0));
        assert_eq!(grey.view().sample(1.0, 1.0), Some(150.0));
        assert_eq!(grey.view().sample(1.01, 0.0), None);
        assert_eq!(grey.view().sample(f64::NAN, 0.0), None);
    }

    #[test]
    fn a_line_is_its_samples_as_far_as_it_stays_inside() {
        let (width, height) = (9, 7);
        let level = |i: usize| ((i * 7919) % 251) as u8;
        let data: Vec<u8> = (0..width * height).map(level).collect();
        for value in 1..=8 {
            let turned = Orientation::from_exif(value);
            let view = View::new(&data, width, height, 1, 0, turned);
            for (x, y, step) in [
                (3.2, 2.1, (0.31, 0.2)),
                (1.0, 1.0, (0.8, -0.6)),
                (-1.0, 2.0, (1.0, 0.0)),
                (4.0, 3.0, (0.0, 1.0)),
            ] {
                let at = |k: isize| (x + k as f64 * step.0, y + k as f64 * step.1);
                let one = |k: isize| view.sample(at(k).0, at(k).1);
                let want: Vec<f64> = (-3..=6).map_while(one).collect();
                assert_eq!(view.line(PointPx::new(x, y), step, -3..=6), want);
            }
        }
    }

    #[test]
    fn a_plane_shorter_than_it_says_is_seen_as_far_as_it_goes() {
        let short = Grey {
            width: 4,
            height: 100,
            data: vec![9; 10],
        };
        assert_eq!(short.view().height(), 2);
        assert_eq!(Grey::filled(0, 0, 0).view().at(3, 3), 0);
    }
}
