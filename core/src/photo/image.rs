//! Pixel planes and the upright view through which every stage reads them.

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
    /// One channel picked of every mean of 2 x 2, in stored order. An odd last row or column is
    /// dropped.
    pub(super) fn half_of(&self, pick: impl Fn(u16, u16) -> u16) -> Grey {
        let row = 3 * self.width;
        let (width, height) = (self.width / 2, self.height / 2);
        let mut data = Vec::with_capacity(width * height);
        for pair in self.data.chunks_exact((2 * row).max(1)).take(height) {
            let (top, bottom) = pair.split_at(row);
            let quads = top.chunks_exact(6).zip(bottom.chunks_exact(6));
            data.extend(quads.map(|(a, b)| {
                let sum = |c: usize| {
                    u16::from(a[c]) + u16::from(a[c + 3]) + u16::from(b[c]) + u16::from(b[c + 3])
                };
                ((pick(pick(sum(0), sum(1)), sum(2)) + 2) >> 2) as u8
            }));
        }
        Grey {
            width,
            height,
            data,
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
        if !inside {
            return None;
        }
        let (x0, y0) = (x as usize, y as usize);
        let (fx, fy) = (x - x0 as f64, y - y0 as f64);
        let index = self.base + x0 as isize * self.step_x + y0 as isize * self.step_y;
        let right = if x0 + 1 < self.width { self.step_x } else { 0 };
        let below = if y0 + 1 < self.height { self.step_y } else { 0 };
        let at = |by: isize| f64::from(self.data.get((index + by) as usize).copied().unwrap_or(0));
        let (a, b, c, d) = (at(0), at(right), at(below), at(right + below));
        Some((a + (b - a) * fx) * (1.0 - fy) + (c + (d - c) * fx) * fy)
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
