//! Four-sided figures closed by straight edges, and which of them may be the sheet.

use crate::frame::PointPx;
use crate::plane::edges::along::Along;
use crate::plane::edges::segments::Gradient;
use crate::plane::line::Line;
use crate::plane::polygon::{SAME_PX, area, encloses, is_convex, ordered};
use crate::plane::sheets::gates::ShapeTest;
use crate::plane::{Lens, Sheet};

/// Opposite sides differ in direction by less than this (cosine). Chosen by hand, looking at the
/// photographs of `tests/real-table`.
const OPPOSITE: f64 = 0.76;
/// Neighbouring sides differ in direction by more than this (cosine). Chosen by hand, looking at the
/// photographs of `tests/real-table`.
const NEIGHBOUR: f64 = 0.90;
/// Opposite sides lie at least this share of the picture's shorter side apart. Chosen by hand; not
/// tuned.
const APART: f64 = 0.08;
/// A corner may lie this share of the picture outside of it: sheets that fill the frame. Chosen by
/// hand, looking at the photographs of `tests/real-table`.
const OUTSIDE: f64 = 0.03;
/// The figure covers this share of the picture. Chosen by hand; not tuned.
const AREA: std::ops::Range<f64> = 0.02..1.0;
/// An edge runs along at least this share of every side. Chosen by hand, looking at the photographs of
/// `tests/real-table`.
const LEAST_SIDE: f64 = 0.40;
/// ... and along at least this share of all sides on average. Chosen by hand, looking at the
/// photographs of `tests/real-table`.
const LEAST_MEAN: f64 = 0.68;
/// Proportions farther off than this many standard deviations are another thing's. Chosen by hand,
/// looking at the photographs of `tests/real-table`.
const WORST_MISFIT: f64 = 4.5;
/// This share of a side at either end is not looked at. Chosen by hand; not tuned.
const CORNER: f64 = 0.07;

/// A figure and how clear it is, 0..1: along how much of its sides an edge runs, how strong that is,
/// less what its proportions are off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Quad {
    pub(crate) corners: [PointPx; 4],
    pub(crate) clear: f64,
}

/// A figure along all of whose sides an edge runs, whatever its proportions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Seen {
    /// In order.
    pub(crate) corners: [PointPx; 4],
    /// Along what share of its sides an edge runs.
    mean: f64,
    /// How strong that is, 0..1.
    strength: f64,
}

impl Seen {
    /// By the gradient along the sides; corners in order.
    pub(crate) fn of(gradient: &Gradient, corners: [PointPx; 4]) -> Option<Self> {
        let side = |i: usize| {
            let (a, b) = without_corners(corners[i], corners[(i + 1) % 4]);
            gradient.support(a, b)
        };
        is_large(gradient, &corners).then(|| Self::by(corners, side))?
    }

    /// By what is seen of each side and how clearly, if that is enough.
    fn by(corners: [PointPx; 4], side: impl Fn(usize) -> (f64, f64)) -> Option<Self> {
        let (mut mean, mut strength) = (0.0, 0.0);
        for i in 0..4 {
            let (seen, clear) = side(i);
            if seen < LEAST_SIDE {
                return None;
            }
            mean += seen / 4.0;
            strength += clear / 4.0;
        }
        (mean >= LEAST_MEAN).then_some(Self {
            corners,
            mean,
            strength,
        })
    }
}

/// All figures of two pairs of opposite lines along which edges run.
pub(crate) fn closed(gradient: &Gradient) -> Vec<Seen> {
    let lines = gradient.lines();
    let along: Vec<Along> = lines.iter().map(|line| Along::of(gradient, line)).collect();
    let (w, h) = (gradient.width as f64, gradient.height as f64);
    let middle = PointPx::new(w / 2.0, h / 2.0);
    let mut pairs = Vec::new();
    for i in 0..lines.len() {
        for k in i + 1..lines.len() {
            let (a, b) = (&lines[i], &lines[k]);
            let apart = gap(a, b, middle);
            if direction(a, b) > OPPOSITE && apart > APART * w.min(h) {
                pairs.push((i, k));
            }
        }
    }
    let mut found = Vec::new();
    for (i, (a, c)) in pairs.iter().enumerate() {
        for (b, d) in pairs.iter().skip(i + 1) {
            let sides = [*a, *b, *c, *d];
            found.extend(crossing(&lines, sides).and_then(|corners| {
                let whole = corners.iter().all(|c| within(*c, w, h));
                let side = |i: usize| {
                    let (from, to) = without_corners(corners[(i + 3) % 4], corners[i]);
                    along[sides[i]].support(from, to)
                };
                let large = whole && is_large(gradient, &corners);
                let seen = large.then(|| Seen::by(corners, side))??;
                Some(Seen {
                    corners: ordered(corners),
                    ..seen
                })
            }));
        }
    }
    found
}

/// Where each of four lines meets the next, the last the first.
fn crossing(lines: &[Line], sides: [usize; 4]) -> Option<[PointPx; 4]> {
    let line = |i: usize| &lines[sides[i % 4]];
    if (0..4).any(|i| direction(line(i), line(i + 1)) > NEIGHBOUR) {
        return None;
    }
    let meet = |i: usize| line(i).meet(line(i + 1));
    Some([meet(0)?, meet(1)?, meet(2)?, meet(3)?])
}

fn direction(a: &Line, b: &Line) -> f64 {
    (a.across.0 * b.across.0 + a.across.1 * b.across.1).abs()
}

/// How far apart two lines are near the middle of the picture.
fn gap(a: &Line, b: &Line, middle: PointPx) -> f64 {
    let same = a.across.0 * b.across.0 + a.across.1 * b.across.1;
    (a.distance(middle) - same.signum() * b.distance(middle)).abs()
}

fn within(p: PointPx, w: f64, h: f64) -> bool {
    let margin = OUTSIDE * w.max(h);
    (-margin..w + margin).contains(&p.x_px) && (-margin..h + margin).contains(&p.y_px)
}

/// Whether a figure is convex and covers enough of the picture.
fn is_large(gradient: &Gradient, corners: &[PointPx; 4]) -> bool {
    let picture = (gradient.width * gradient.height) as f64;
    AREA.contains(&(area(corners) / picture)) && is_convex(corners)
}

/// The figure if it has the sheet's proportions.
pub(crate) fn judge(
    sheet: &Sheet,
    (shape, lens): (&ShapeTest, &Lens),
    seen: &Seen,
) -> Option<Quad> {
    let homography = sheet.homography(&seen.corners).ok()?;
    let misfit = shape.misfit(&homography, lens);
    (misfit <= WORST_MISFIT).then_some(Quad {
        corners: seen.corners,
        clear: f64::midpoint(seen.mean, seen.strength) - 0.01 * misfit,
    })
}

/// A side without its corners, which may be round or folded.
fn without_corners(a: PointPx, b: PointPx) -> (PointPx, PointPx) {
    let at = |t: f64| {
        PointPx::new(
            a.x_px + t * (b.x_px - a.x_px),
            a.y_px + t * (b.y_px - a.y_px),
        )
    };
    (at(CORNER), at(1.0 - CORNER))
}

/// The clearest first, none twice, and none within one that is as clear: print and frames lie inside
/// a sheet.
pub(crate) fn distinct(mut quads: Vec<Quad>) -> Vec<Quad> {
    quads.sort_by(|a, b| b.clear.total_cmp(&a.clear));
    let mut kept: Vec<Quad> = Vec::new();
    for quad in quads {
        let near = |k: &Quad| {
            let gaps = k.corners.iter().zip(&quad.corners);
            gaps.map(|(p, q)| p.distance_px(*q)).fold(0.0, f64::max) < SAME_PX
        };
        if !kept.iter().any(near) {
            kept.push(quad);
        }
    }
    let outer = |inner: &Quad| {
        let covers = |k: &&Quad| k.clear >= inner.clear && encloses(&k.corners, &inner.corners);
        kept.iter().any(|k| covers(&k))
    };
    kept.iter().filter(|quad| !outer(quad)).copied().collect()
}
