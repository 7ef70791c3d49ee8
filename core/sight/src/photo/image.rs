//! Pixel planes as they lie in memory.

use super::{Orientation, View};

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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::PointPx;

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
