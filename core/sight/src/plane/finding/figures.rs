//! Four-sided figures of a picture, and which of them may be a sheet.

use crate::plane::edges::segments::Gradient;
use crate::plane::line::Line;
use crate::plane::polygon::ordered;
use crate::plane::sheets::gates::ShapeTest;
use crate::plane::{Lens, Plane, Sheet, SheetFit};

use super::borders::Borders;
use super::drawn::{MOST_DRAWN, drawn_sides, without_frames};
use super::ends::goes_on;
use super::patches::{Small, four_sided_patches, standing_out};
use super::quads::{self, Quad, Seen};
use crate::frame::PointPx;

/// What lies on a thing has each of its sides this far within it, working px: print shares sides with its card, give or
/// take a pixel. Chosen by hand; not tuned.
const WITHIN_PX: f64 = 1.5;

/// Four-sided figures of a picture, whatever their proportions.
pub(crate) struct Figures {
    pub(crate) planes: Vec<Small>,
    borders: Borders,
    gradient: Gradient,
    /// Those along all of whose sides an edge runs, working px.
    seen: Vec<Seen>,
    shape: ShapeTest,
    lens: Lens,
    step: f64,
}

impl Figures {
    /// Of the colour channels in small.
    pub(crate) fn of(planes: Vec<Small>, with: &SheetFit) -> Self {
        let (width, height, step) = planes
            .first()
            .map_or((0, 0, 1), |p| (p.width, p.height, p.step));
        let step = step as f64;
        let mut patches = four_sided_patches(&planes);
        patches.extend(standing_out(&planes));
        let levels: Vec<&[u8]> = planes.iter().map(|p| p.values.as_slice()).collect();
        let gradient = Gradient::of(&levels, width, height);
        let lens = Lens::new(0.0, width, height);
        let patches = patches.into_iter();
        let patches = patches.map(|c| ordered(c.map(|p| to_small(p, step))));
        let borders = Borders::of(&planes);
        let patches = patches.filter_map(|c| Seen::of(&gradient, c));
        let closed = quads::closed(&gradient).into_iter();
        let all = closed.chain(patches);
        let seen = all.filter(|s| !borders.hold_side(&s.corners)).collect();
        Self {
            seen,
            planes,
            borders,
            shape: ShapeTest::new(&lens, with.focal_px.map(|f| f / step)),
            gradient,
            lens,
            step,
        }
    }

    /// A fitted sheet's corners, working px.
    pub(crate) fn corners_of(&self, sheet: &Sheet, plane: &Plane) -> [PointPx; 4] {
        self.in_small(&sheet.corners_mm().map(|corner| plane.to_px(corner)))
    }

    /// Working px.
    pub(crate) fn in_small(&self, corners: &[PointPx; 4]) -> [PointPx; 4] {
        corners.map(|p| to_small(p, self.step))
    }

    /// How many of the sides that were fitted look like lines drawn on something.
    pub(crate) fn drawn(&self, sheet: &Sheet, plane: &Plane) -> usize {
        drawn_sides(&self.planes, &self.corners_of(sheet, plane))
    }

    /// Whether the sides that were fitted are those of a thing: no border of a picture, no drawn lines.
    pub(crate) fn bear(&self, sheet: &Sheet, plane: &Plane) -> bool {
        let corners = self.corners_of(sheet, plane);
        !self.borders.hold_side(&corners)
            && drawn_sides(&self.planes, &corners) <= MOST_DRAWN
            && !goes_on(&self.planes, &self.gradient, &corners)
    }

    /// Outlines with the sheet's proportions, the clearest first.
    pub(crate) fn like(&self, sheet: &Sheet) -> Vec<Quad> {
        self.judged(sheet, self.seen.iter())
    }

    /// The same of those that lie within another figure, working px.
    pub(crate) fn within(&self, sheet: &Sheet, around: &[PointPx; 4]) -> Vec<Quad> {
        let inner = |seen: &&Seen| lies_within(&seen.corners, around);
        self.judged(sheet, self.seen.iter().filter(inner))
    }

    /// The same of some of the figures.
    fn judged<'a>(&self, sheet: &Sheet, seen: impl Iterator<Item = &'a Seen>) -> Vec<Quad> {
        let judge = |seen: &Seen| quads::judge(sheet, (&self.shape, &self.lens), seen);
        let to_full = |p: PointPx| {
            let at = |v: f64| v * self.step + (self.step - 1.0) / 2.0;
            PointPx::new(at(p.x_px), at(p.y_px))
        };
        let in_full = |quad: Quad| Quad {
            corners: quad.corners.map(to_full),
            ..quad
        };
        let sheets = without_frames(seen.filter_map(judge).collect(), &self.planes);
        quads::distinct(sheets).into_iter().map(in_full).collect()
    }
}

/// Whether all sides of one figure lie well within another; both run clockwise.
pub(crate) fn lies_within(inner: &[PointPx; 4], outer: &[PointPx; 4]) -> bool {
    (0..4).all(|i| {
        // What lies to the right of every side is within.
        let side = Line::between(outer[i], outer[(i + 1) % 4]);
        side.is_some_and(|side| inner.iter().all(|p| side.distance(*p) > WITHIN_PX))
    })
}

/// In working px, `step` times as large.
fn to_small(p: PointPx, step: f64) -> PointPx {
    let at = |v: f64| (v - (step - 1.0) / 2.0) / step;
    PointPx::new(at(p.x_px), at(p.y_px))
}
