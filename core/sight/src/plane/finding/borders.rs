//! Straight lines of the picture itself: its own border, and that of a picture within it (a screenshot, a
//! frame that a program put round). They are as straight and clear as a sheet's sides, and are none.

use super::patches::Small;
use crate::frame::PointPx;

/// Levels by which a border of one colour may differ within itself: what compression leaves. A real ground is
/// never lit so evenly from side to side.
const ONE_COLOUR: u8 = 4;
/// So much of a row is of the border's colour: letters and signs may stand in it. Chosen by hand; not tuned.
const LEAST_SHARE: f64 = 0.97;
/// A side lies on a line of the picture if both of its corners are nearer than this share of the longer side:
/// half a degree, which nobody holds a phone to. Chosen by hand; not tuned.
const BESIDE: f64 = 0.005;
/// A picture within the picture begins in some block of compressed pixels, of this size: before it, the border is
/// not of one colour.
const BLOCK_PX: f64 = 8.0;

/// Rows and columns, working px.
pub(crate) struct Borders {
    rows: Vec<f64>,
    columns: Vec<f64>,
    size: (f64, f64),
    /// From the picture's border, and from that of a picture within it.
    near: (f64, f64),
}

impl Borders {
    pub(crate) fn of(planes: &[Small]) -> Self {
        let (width, height, step) = planes
            .first()
            .map_or((0, 0, 1), |p| (p.width, p.height, p.step));
        let row = |y: usize| colour(planes, &(0..width).map(move |x| y * width + x));
        let column = |x: usize| colour(planes, &(0..height).map(move |y| y * width + x));
        let near = BESIDE * width.max(height) as f64;
        Self {
            rows: ends(&(0..height).map(row).collect::<Vec<_>>()),
            columns: ends(&(0..width).map(column).collect::<Vec<_>>()),
            size: (width as f64 - 1.0, height as f64 - 1.0),
            near: (near, near + BLOCK_PX / step as f64),
        }
    }

    /// Whether a side of the figure is the border of a picture.
    pub(crate) fn hold_side(&self, corners: &[PointPx; 4]) -> bool {
        (0..4).any(|i| {
            let (a, b) = (corners[i], corners[(i + 1) % 4]);
            self.lie((a.x_px, b.x_px), &self.columns, self.size.0)
                || self.lie((a.y_px, b.y_px), &self.rows, self.size.1)
        })
    }

    fn lie(&self, (a, b): (f64, f64), lines: &[f64], last: f64) -> bool {
        let beside = |at: f64, near: f64| (a - at).abs() < near && (b - at).abs() < near;
        // A corner may lie outside of the picture.
        let beyond = a.max(b) < self.near.0 || a.min(b) > last - self.near.0;
        beyond || lines.iter().any(|at| beside(*at, self.near.1))
    }
}

/// The one colour of nearly all of these pixels, by channel.
fn colour(planes: &[Small], pixels: &(impl Iterator<Item = usize> + Clone)) -> Option<Vec<u8>> {
    let one = |plane: &Small| {
        let mut levels: Vec<u8> = pixels.clone().map(|i| plane.values[i]).collect();
        levels.sort_unstable();
        let middle = *levels.get(levels.len() / 2)?;
        let alike = levels.iter().filter(|v| v.abs_diff(middle) <= ONE_COLOUR);
        (alike.count() as f64 >= LEAST_SHARE * levels.len() as f64).then_some(middle)
    };
    planes.iter().map(one).collect()
}

/// Where runs of one colour end.
fn ends(colours: &[Option<Vec<u8>>]) -> Vec<f64> {
    let pairs = colours.windows(2).enumerate();
    let end = |pair: &(usize, &[Option<Vec<u8>>])| pair.1[0].is_some() != pair.1[1].is_some();
    pairs.filter(end).map(|(i, _)| i as f64 + 0.5).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const WIDTH: usize = 300;
    const HEIGHT: usize = 400;

    fn picture(level: impl Fn(usize, usize) -> u8) -> Borders {
        let at = |i: usize| level(i % WIDTH, i / WIDTH);
        Borders::of(&[Small {
            width: WIDTH,
            height: HEIGHT,
            step: 4,
            values: (0..WIDTH * HEIGHT).map(at).collect(),
        }])
    }

    fn grain(x: usize, y: usize) -> u8 {
        100 + ((x * 7 + y * 13) % 23) as u8
    }

    fn figure(left: f64, top: f64, right: f64, bottom: f64) -> [PointPx; 4] {
        [(left, top), (right, top), (right, bottom), (left, bottom)]
            .map(|(x, y)| PointPx::new(x, y))
    }

    #[test]
    fn the_border_of_a_picture_within_the_picture_is_no_side() {
        let within = |x: usize, y: usize| (20..280).contains(&x) && (50..350).contains(&y);
        let shown = picture(|x, y| if within(x, y) { grain(x, y) } else { 18 });
        assert!(shown.hold_side(&figure(19.6, 49.6, 279.5, 349.5)));
        assert!(shown.hold_side(&figure(80.0, 120.0, 200.0, 349.5)));
        assert!(!shown.hold_side(&figure(80.0, 120.0, 200.0, 290.0)));
    }

    #[test]
    fn the_picture_s_own_border_is_no_side() {
        let taken = picture(grain);
        assert!(taken.hold_side(&figure(0.8, 20.0, 250.0, 380.0)));
        assert!(!taken.hold_side(&figure(6.0, 20.0, 250.0, 380.0)));
    }

    /// A sheet on black that lies a little turned reaches the rows of one colour with a corner only.
    #[test]
    fn a_sheet_on_an_even_ground_keeps_its_sides() {
        let corners = [(50.0, 60.0), (240.0, 66.0), (234.0, 330.0), (44.0, 324.0)];
        let corners = corners.map(|(x, y)| PointPx::new(x, y));
        let inside = |x: usize, y: usize| {
            let p = PointPx::new(x as f64, y as f64);
            (0..4).all(|i| crate::plane::polygon::turn(corners[i], corners[(i + 1) % 4], p) > 0.0)
        };
        let taken = picture(|x, y| if inside(x, y) { 220 } else { 30 });
        assert!(!taken.hold_side(&corners));
    }
}
