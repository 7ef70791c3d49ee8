//! Filling outlines on a picture: four rows of samples a pixel, along a row to the part of a pixel.

use tiny_skia_path::{Path, PathSegment, Point};

use super::ink::Ink;

const BYTES: usize = 4;
/// Rows of samples a pixel; along a row the share is exact, so only nearly level edges show four steps.
const ROWS: usize = 4;
/// A curve is drawn as lines about so long, px: of a letter's curves they stray less than a sample.
const PX_PER_LINE: f32 = 2.0;
/// At most so many: a circle as wide as the widest picture still strays less than a pixel's tenth.
const MOST_LINES: f32 = 64.0;

/// Left, top, right and bottom of what may be drawn on, px.
pub(super) type Frame = [f32; 4];

/// Red, green, blue and opacity of each pixel, row by row.
pub(super) struct Pixels {
    pub(super) width: u32,
    pub(super) height: u32,
    pub(super) data: Vec<u8>,
}

/// A straight piece of an outline, from its upper end.
struct Edge {
    top: Point,
    bottom: Point,
    /// Which way round it goes.
    turn: i32,
}

impl Pixels {
    /// White paper.
    pub(super) fn white(width: u32, height: u32) -> Self {
        let data = vec![u8::MAX; width as usize * height as usize * BYTES];
        Self {
            width,
            height,
            data,
        }
    }

    pub(super) fn whole(&self) -> Frame {
        [0.0, 0.0, self.width as f32, self.height as f32]
    }

    /// Fills what an outline goes around at least once, inside of a frame.
    pub(super) fn fill(&mut self, path: &Path, (ink, opacity): (Ink, f64), frame: Frame) {
        let [left, top, right, bottom] = within(frame, self.whole());
        let bounds = path.bounds();
        let rows = bounds.top().max(top).floor()..bounds.bottom().min(bottom).ceil();
        let mut edges = edges(path);
        edges.sort_by(|a, b| a.top.y.total_cmp(&b.top.y));
        let mut covered = vec![0.0; self.width as usize + 1];
        let mut crossings = Vec::new();
        for row in rows.start as usize..rows.end.max(0.0) as usize {
            let mut any = false;
            for sample in 0..ROWS {
                let y = row as f32 + (sample as f32 + 0.5) / ROWS as f32;
                if y < top || y >= bottom {
                    continue;
                }
                cross(&edges, y, &mut crossings);
                for (from, to) in spans(&crossings) {
                    any |= cover(&mut covered, from.max(left), to.min(right));
                }
            }
            if any {
                self.blend(row, &mut covered, ink, opacity);
            }
        }
    }

    /// Lays an ink over a row, as far as each pixel is covered, and clears what covered it.
    fn blend(&mut self, row: usize, covered: &mut [f32], ink: Ink, opacity: f64) {
        let bytes = self.width as usize * BYTES;
        let pixels = self.data[row * bytes..][..bytes].chunks_exact_mut(BYTES);
        for (pixel, covered) in pixels.zip(covered) {
            let share = std::mem::take(covered).min(1.0) * opacity as f32;
            if share <= 0.0 {
                continue;
            }
            for (under, over) in pixel.iter_mut().zip([ink.red, ink.green, ink.blue]) {
                let (from, to) = (f32::from(*under), f32::from(over));
                *under = (from + (to - from) * share).round() as u8;
            }
        }
    }
}

pub(super) fn within(one: Frame, other: Frame) -> Frame {
    let [left, top, right, bottom] = one;
    [
        left.max(other[0]),
        top.max(other[1]),
        right.min(other[2]),
        bottom.min(other[3]),
    ]
}

/// An outline as straight pieces, each of its parts closed.
fn edges(path: &Path) -> Vec<Edge> {
    let mut edges = Vec::new();
    let (mut first, mut at) = (Point::zero(), Point::zero());
    for segment in path.segments() {
        match segment {
            PathSegment::MoveTo(to) => {
                line(&mut edges, at, first);
                (first, at) = (to, to);
            }
            PathSegment::LineTo(to) => {
                line(&mut edges, at, to);
                at = to;
            }
            PathSegment::QuadTo(by, to) => {
                let third = |end: Point| mixed(end, by, 2.0 / 3.0);
                curve(&mut edges, [at, third(at), third(to), to]);
                at = to;
            }
            PathSegment::CubicTo(a, b, to) => {
                curve(&mut edges, [at, a, b, to]);
                at = to;
            }
            PathSegment::Close => {
                line(&mut edges, at, first);
                at = first;
            }
        }
    }
    line(&mut edges, at, first);
    edges
}

fn mixed(a: Point, b: Point, share: f32) -> Point {
    Point::from_xy(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share)
}

fn line(edges: &mut Vec<Edge>, from: Point, to: Point) {
    if from.y < to.y {
        edges.push(Edge {
            top: from,
            bottom: to,
            turn: 1,
        });
    } else if from.y > to.y {
        edges.push(Edge {
            top: to,
            bottom: from,
            turn: -1,
        });
    }
}

/// A cubic curve as lines (de Casteljau's).
fn curve(edges: &mut Vec<Edge>, [a, b, c, d]: [Point; 4]) {
    let long = a.distance(b) + b.distance(c) + c.distance(d);
    let lines = (long / PX_PER_LINE).ceil().clamp(1.0, MOST_LINES) as usize;
    let mut at = a;
    for step in 1..=lines {
        let share = step as f32 / lines as f32;
        let [ab, bc, cd] = [(a, b), (b, c), (c, d)].map(|(a, b)| mixed(a, b, share));
        let to = mixed(mixed(ab, bc, share), mixed(bc, cd, share), share);
        line(edges, at, to);
        at = to;
    }
}

/// Where the pieces of an outline cross a row of samples, from left to right.
fn cross(edges: &[Edge], y: f32, crossings: &mut Vec<(f32, i32)>) {
    crossings.clear();
    let above = edges.partition_point(|edge| edge.top.y <= y);
    for edge in edges[..above].iter().filter(|edge| y < edge.bottom.y) {
        let share = (y - edge.top.y) / (edge.bottom.y - edge.top.y);
        crossings.push((mixed(edge.top, edge.bottom, share).x, edge.turn));
    }
    crossings.sort_by(|a, b| a.0.total_cmp(&b.0));
}

/// From where to where along the row the outline goes around at least once.
fn spans(crossings: &[(f32, i32)]) -> impl Iterator<Item = (f32, f32)> {
    let mut turns = 0;
    crossings.windows(2).filter_map(move |pair| {
        turns += pair[0].1;
        (turns != 0).then_some((pair[0].0, pair[1].0))
    })
}

/// Covers a row of samples from one place to another; whether anything lay between them.
fn cover(covered: &mut [f32], from: f32, to: f32) -> bool {
    if from >= to {
        return false;
    }
    let (first, last) = (from as usize, to as usize);
    let mut add = |pixel: usize, share: f32| covered[pixel] += share / ROWS as f32;
    if first == last {
        add(first, to - from);
        return true;
    }
    add(first, (first + 1) as f32 - from);
    (first + 1..last).for_each(|pixel| add(pixel, 1.0));
    add(last, to - last as f32);
    true
}

#[cfg(test)]
// Helpers of tests: a failed unwrap is the failed test.
#[allow(clippy::unwrap_used)]
mod tests {
    use tiny_skia_path::{PathBuilder, Rect};

    use super::*;

    const BLACK: (Ink, f64) = (
        Ink {
            red: 0,
            green: 0,
            blue: 0,
        },
        1.0,
    );

    /// How much of the paper is covered, px.
    fn covered(pixels: &Pixels) -> f64 {
        let dark = pixels.data.chunks(BYTES).map(|p| 255.0 - f64::from(p[0]));
        dark.sum::<f64>() / 255.0
    }

    #[test]
    fn a_rectangle_covers_its_area_and_shares_of_pixels_at_its_edges() {
        let mut pixels = Pixels::white(8, 8);
        let path = PathBuilder::from_rect(Rect::from_ltrb(1.5, 2.25, 4.25, 5.75).unwrap());
        pixels.fill(&path, BLACK, pixels.whole());
        assert!((covered(&pixels) - 2.75 * 3.5).abs() < 0.05);
        assert_eq!(pixels.data[(3 * 8 + 1) * BYTES], 128);
        assert_eq!(pixels.data[(3 * 8 + 4) * BYTES], 191);
    }

    #[test]
    fn a_circle_covers_pi_r_squared_and_only_what_lies_in_its_frame() {
        let circle = PathBuilder::from_circle(20.0, 20.0, 15.0).unwrap();
        let area = std::f64::consts::PI * 225.0;
        for (frame, share) in [
            ([0.0, 0.0, 40.0, 40.0], 1.0),
            ([20.0, 0.0, 40.0, 20.0], 0.25),
        ] {
            let mut pixels = Pixels::white(40, 40);
            pixels.fill(&circle, BLACK, frame);
            let found = covered(&pixels);
            assert!((found / (share * area) - 1.0).abs() < 0.005, "{found}");
        }
    }

    #[test]
    fn what_is_gone_around_twice_is_filled_once_and_outside_of_the_picture_nothing() {
        let mut path = PathBuilder::new();
        for edge in [10.0, 6.0] {
            path.push_rect(Rect::from_ltrb(-20.0, 2.0, edge, 6.0).unwrap());
        }
        let mut pixels = Pixels::white(8, 8);
        pixels.fill(&path.finish().unwrap(), (BLACK.0, 0.5), pixels.whole());
        assert!((covered(&pixels) - 16.0).abs() < 0.1);
    }
}
