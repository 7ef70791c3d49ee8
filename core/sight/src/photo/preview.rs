//! Smaller pictures by area averaging: exact 2 x 2 and 4 x 4 means, no aliasing to measure by.

use super::image::mean_of_four;
use super::{Grey, View};

/// Half-size upright picture: each pixel the rounded mean of 2 x 2.
///
/// Pixel (x, y) of the half picture is centred at (2x + 0.5, 2y + 0.5) of the full one. An odd
/// last row or column is dropped.
pub fn half(view: &View<'_>) -> Grey {
    let (width, height) = (view.width() / 2, view.height() / 2);
    let mut out = Grey::filled(width, height, 0);
    let (_, _, step_x, step_y) = view.layout();
    match (step_x, step_y.unsigned_abs() >= view.width()) {
        (1, true) => half_rows(view, &mut out),
        (3, true) if step_y > 0 => half_channel(view, &mut out),
        _ => half_tiles(view, &mut out),
    }
    out
}

/// Halves `times` times.
pub fn shrink(view: &View<'_>, times: u32) -> Grey {
    let mut out = half(view);
    for _ in 1..times {
        out = half(&out.view());
    }
    out
}

/// Rows contiguous in memory: whole rows at a time, which the compiler turns into SIMD.
fn half_rows(view: &View<'_>, out: &mut Grey) {
    let (data, base, _, step_y) = view.layout();
    let width = view.width();
    for (y, line) in out.data.chunks_exact_mut(out.width.max(1)).enumerate() {
        let row = |k: usize| {
            let start = (base + (2 * y + k) as isize * step_y) as usize;
            data.get(start..start + width).unwrap_or_default()
        };
        mean_rows(row(0), row(1), line);
    }
}

/// One channel of upright RGB: row by row, as it lies in memory.
fn half_channel(view: &View<'_>, out: &mut Grey) {
    const APART: usize = 3;
    let (data, base, _, step_y) = view.layout();
    let reach = APART * view.width() - (APART - 1);
    for (y, line) in out.data.chunks_exact_mut(out.width.max(1)).enumerate() {
        let row = |k: usize| {
            let start = (base + (2 * y + k) as isize * step_y) as usize;
            data.get(start..start + reach).unwrap_or_default()
        };
        let pairs = row(0).chunks(2 * APART).zip(row(1).chunks(2 * APART));
        for (o, (a, b)) in line.iter_mut().zip(pairs) {
            let at = |row: &[u8], k: usize| u16::from(row.get(k).copied().unwrap_or(0));
            let sum = at(a, 0) + at(a, APART) + at(b, 0) + at(b, APART);
            *o = mean_of_four(sum);
        }
    }
}

fn mean_rows(a: &[u8], b: &[u8], out: &mut [u8]) {
    let pairs = a.chunks_exact(2).zip(b.chunks_exact(2));
    for (o, (p, q)) in out.iter_mut().zip(pairs) {
        let sum = u16::from(p[0]) + u16::from(p[1]) + u16::from(q[0]) + u16::from(q[1]);
        *o = mean_of_four(sum);
    }
}

/// Any other layout (turned by EXIF, or one channel of RGB): tile by tile, so that both the
/// stored and the upright order stay within the cache.
fn half_tiles(view: &View<'_>, out: &mut Grey) {
    const TILE: usize = 32;
    let (width, height) = (out.width, out.height);
    for ty in (0..height).step_by(TILE) {
        for tx in (0..width).step_by(TILE) {
            for y in ty..(ty + TILE).min(height) {
                for x in tx..(tx + TILE).min(width) {
                    if let Some(o) = out.data.get_mut(y * width + x) {
                        *o = mean_at(view, x, y);
                    }
                }
            }
        }
    }
}

fn mean_at(view: &View<'_>, x: usize, y: usize) -> u8 {
    let (data, base, step_x, step_y) = view.layout();
    let start = base + 2 * (x as isize * step_x + y as isize * step_y);
    let at = |offset: isize| u16::from(data.get((start + offset) as usize).copied().unwrap_or(0));
    mean_of_four(at(0) + at(step_x) + at(step_y) + at(step_x + step_y))
}

/// The orientation never matters to the result: proved against all eight in the tests.
#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::Orientation;

    fn turned(orientation: Orientation, upright: &Grey) -> Grey {
        let swap = orientation.swaps_axes();
        let (w, h) = if swap {
            (upright.height, upright.width)
        } else {
            (upright.width, upright.height)
        };
        let mut stored = Grey::filled(w, h, 0);
        for v in 0..h {
            for u in 0..w {
                let p = crate::frame::PointPx::new(u as f64, v as f64);
                let up = orientation.to_upright(p, w, h);
                stored.data[v * w + u] = upright.view().at(up.x_px as usize, up.y_px as usize);
            }
        }
        stored
    }

    #[test]
    fn a_channel_of_colour_is_halved_like_a_picture_of_its_own() {
        for (width, height) in [(75, 70), (64, 33), (2, 2)] {
            let level = |i: usize| ((i * 7919) % 251) as u8;
            let rgb = crate::photo::Rgb {
                width,
                height,
                data: (0..3 * width * height).map(level).collect(),
            };
            for channel in 0..3 {
                let alone = Grey {
                    width,
                    height,
                    data: (0..width * height)
                        .map(|i| level(3 * i + channel))
                        .collect(),
                };
                assert_eq!(half(&rgb.channel(channel)), half(&alone.view()));
            }
        }
    }

    #[test]
    fn half_is_the_rounded_mean_in_every_orientation() {
        let (w, h) = (75, 70);
        let data = (0..w * h).map(|i| ((i * 7919) % 251) as u8).collect();
        let upright = Grey {
            width: w,
            height: h,
            data,
        };
        let want = half(&upright.view());
        assert_eq!((want.width, want.height), (37, 35));
        let four = [(0, 0), (1, 0), (0, 1), (1, 1)].map(|(x, y)| upright.view().at(6 + x, 8 + y));
        let mean = (four.iter().map(|v| u32::from(*v)).sum::<u32>() + 2) / 4;
        assert_eq!(u32::from(want.view().at(3, 4)), mean);
        for value in 1..=8 {
            let up = Orientation::from_exif(value);
            let stored = turned(up, &upright);
            let view = View::new(&stored.data, stored.width, stored.height, 1, 0, up);
            assert_eq!(half(&view), want, "orientation {value}");
        }
    }

    #[test]
    fn the_brightest_of_a_half_is_the_largest_channel_in_every_orientation() {
        use crate::photo::{ExifFacts, Photo, Rgb};
        for (width, height) in [(38, 26), (37, 25)] {
            let data = (0..3 * width * height)
                .map(|i| ((i * 7919) % 251) as u8)
                .collect();
            let rgb = Rgb {
                width,
                height,
                data,
            };
            for value in 1..=8 {
                let facts = ExifFacts {
                    orientation: Orientation::from_exif(value),
                    ..ExifFacts::default()
                };
                let photo = Photo::from_rgb(rgb.clone(), facts);
                let halves = [0, 1, 2].map(|c| half(&photo.channel(c)));
                let brightest = photo.halved().brightest();
                for (x, y) in [(0, 0), (5, 7), (11, 3)] {
                    let want = halves.iter().map(|h| h.view().at(x, y)).max();
                    let seen = brightest.grey().at(x, y);
                    assert_eq!(Some(seen), want, "orientation {value}");
                }
            }
        }
    }

    #[test]
    fn tiny_pictures_shrink_to_nothing_without_a_crash() {
        let one = Grey::filled(1, 1, 5);
        assert_eq!(half(&one.view()).data.len(), 0);
        assert_eq!(shrink(&one.view(), 3).data.len(), 0);
        assert_eq!(shrink(&Grey::filled(8, 8, 9).view(), 3).data, [9]);
    }
}
