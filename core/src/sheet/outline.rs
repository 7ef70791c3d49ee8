//! The outlines of shapes, for pens that know lines and cubic curves only.

use crate::scene::{ScenePoint, Shape};

/// How far the handles of a quarter circle reach, in radii: the usual approximation, off by less
/// than 0.03 % of the radius.
const QUARTER: f64 = 0.552_284_749_8;

/// One stroke of an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Stroked {
    Move(f64, f64),
    Line(f64, f64),
    Cubic((f64, f64), (f64, f64), (f64, f64)),
    Close,
}

/// A path.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Outline {
    pub(super) strokes: Vec<Stroked>,
    at: (f64, f64),
}

impl Outline {
    /// The outline of a plain shape; empty for a label and a photograph.
    pub(super) fn of(shape: &Shape) -> Self {
        let mut path = Self::default();
        match shape {
            Shape::Circle { centre, radius } => path.oval(*centre, (*radius, *radius), 0.0),
            Shape::Ellipse {
                centre,
                radius_x,
                radius_y,
                turn_rad,
            } => path.oval(*centre, (*radius_x, *radius_y), *turn_rad),
            Shape::Line { from, to } => path.chain(&[*from, *to]),
            Shape::Polyline { points } => path.chain(points),
            Shape::Polygon { points } => {
                path.chain(points);
                path.close();
            }
            Shape::Rect {
                corner,
                width,
                height,
                round,
            } => path.rect(*corner, (*width, *height), *round),
            Shape::Label { .. } | Shape::Photograph { .. } => {}
        }
        path
    }

    pub(super) fn move_to(&mut self, x: f64, y: f64) {
        self.at = (x, y);
        self.strokes.push(Stroked::Move(x, y));
    }

    pub(super) fn line_to(&mut self, x: f64, y: f64) {
        self.at = (x, y);
        self.strokes.push(Stroked::Line(x, y));
    }

    pub(super) fn cubic_to(&mut self, a: (f64, f64), b: (f64, f64), to: (f64, f64)) {
        self.at = to;
        self.strokes.push(Stroked::Cubic(a, b, to));
    }

    /// A quadratic curve as the cubic that is the same.
    pub(super) fn quad_to(&mut self, by: (f64, f64), to: (f64, f64)) {
        let near = |end: (f64, f64)| {
            let two_thirds = 2.0 / 3.0;
            (
                end.0 + (by.0 - end.0) * two_thirds,
                end.1 + (by.1 - end.1) * two_thirds,
            )
        };
        self.cubic_to(near(self.at), near(to), to);
    }

    pub(super) fn close(&mut self) {
        self.strokes.push(Stroked::Close);
    }

    fn chain(&mut self, points: &[ScenePoint]) {
        for (index, point) in points.iter().enumerate() {
            if index == 0 {
                self.move_to(point.x, point.y);
            } else {
                self.line_to(point.x, point.y);
            }
        }
    }

    fn oval(&mut self, centre: ScenePoint, (rx, ry): (f64, f64), turn_rad: f64) {
        let (sin, cos) = turn_rad.sin_cos();
        let at = |u: f64, v: f64| {
            let (u, v) = (u * rx, v * ry);
            (centre.x + u * cos - v * sin, centre.y + u * sin + v * cos)
        };
        let start = at(1.0, 0.0);
        self.move_to(start.0, start.1);
        for (u, v) in [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)] {
            let (next_u, next_v) = (-v, u);
            self.cubic_to(
                at(u + QUARTER * next_u, v + QUARTER * next_v),
                at(next_u + QUARTER * u, next_v + QUARTER * v),
                at(next_u, next_v),
            );
        }
        self.close();
    }

    fn rect(&mut self, corner: ScenePoint, (width, height): (f64, f64), round: f64) {
        let r = round.min(width / 2.0).min(height / 2.0).max(0.0);
        let (left, top) = (corner.x, corner.y);
        let (right, bottom) = (left + width, top + height);
        if r <= 0.0 {
            let corners = [(left, top), (right, top), (right, bottom), (left, bottom)];
            self.chain(&corners.map(|(x, y)| ScenePoint::new(x, y)));
            self.close();
            return;
        }
        let k = r * (1.0 - QUARTER);
        self.move_to(left + r, top);
        self.line_to(right - r, top);
        self.cubic_to((right - k, top), (right, top + k), (right, top + r));
        self.line_to(right, bottom - r);
        self.cubic_to(
            (right, bottom - k),
            (right - k, bottom),
            (right - r, bottom),
        );
        self.line_to(left + r, bottom);
        self.cubic_to((left + k, bottom), (left, bottom - k), (left, bottom - r));
        self.line_to(left, top + r);
        self.cubic_to((left, top + k), (left + k, top), (left + r, top));
        self.close();
    }
}
