//! What is seen along a whole line, so that any stretch of it is told at once: thousands of figures share a few
//! dozen lines.

use crate::plane::line::Line;

use super::segments::Gradient;
use crate::frame::PointPx;

/// Edges along a line, summed from its start pixel by pixel.
pub(crate) struct Along {
    through: PointPx,
    /// Along the line, of length 1.
    along: (f64, f64),
    /// How far before `through` it starts, px.
    before: f64,
    /// Up to each pixel: so many along which an edge runs, and how clear it is, 0..1 each.
    sums: Vec<(f64, f64)>,
}

impl Along {
    /// As far to both sides as the picture reaches.
    pub(crate) fn of(gradient: &Gradient, line: &Line) -> Self {
        let along = (-line.across.1, line.across.0);
        let before = (gradient.width as f64).hypot(gradient.height as f64).ceil();
        let mut sum = (0.0, 0.0);
        let to_here = |i: usize| {
            let s = i as f64 - before;
            let (x, y) = (
                line.through.x_px + s * along.0,
                line.through.y_px + s * along.1,
            );
            if let Some(clear) = gradient.clear(x, y, line.across) {
                sum = (sum.0 + 1.0, sum.1 + clear);
            }
            sum
        };
        Self {
            through: line.through,
            along,
            before,
            sums: (0..=2 * before as usize).map(to_here).collect(),
        }
    }

    /// As [`Gradient::support`], of a stretch that lies on the line.
    pub(crate) fn support(&self, from: PointPx, to: PointPx) -> (f64, f64) {
        let at = |p: PointPx| {
            let (dx, dy) = (p.x_px - self.through.x_px, p.y_px - self.through.y_px);
            let s = dx * self.along.0 + dy * self.along.1 + self.before;
            (s.round().max(0.0) as usize).min(self.sums.len() - 1)
        };
        let (a, b) = (at(from), at(to));
        let (a, b) = (a.min(b), a.max(b));
        let (first, last) = (self.sums[a], self.sums[b]);
        let count = from.distance_px(to).max((b - a) as f64).max(1.0);
        ((last.0 - first.0) / count, (last.1 - first.1) / count)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A stretch of a line is seen as if it alone had been looked at.
    #[test]
    fn a_stretch_is_seen_as_by_itself() {
        let (width, height) = (200, 160);
        let level = |i: usize| {
            let (x, y) = (i % width, i / width);
            // An edge that ends at x = 120, on some grain.
            let edge = if y > 60 + x / 10 && x < 120 { 90 } else { 0 };
            100 + edge as u8 + ((x * 7 + y * 13) % 5) as u8
        };
        let plane: Vec<u8> = (0..width * height).map(level).collect();
        let gradient = Gradient::of(&[&plane], width, height);
        let at = |x: f64| PointPx::new(x, 60.5 + x / 10.0);
        let line = Line::between(at(20.0), at(180.0)).unwrap();
        let along = Along::of(&gradient, &line);
        for (from, to) in [(20.0, 100.0), (60.0, 180.0), (130.0, 190.0), (100.0, 30.0)] {
            let (seen, clear) = along.support(at(from), at(to));
            let (own, own_clear) = gradient.support(at(from), at(to));
            assert!(
                (seen - own).abs() < 0.04 && (clear - own_clear).abs() < 0.04,
                "{from} {seen} {own}"
            );
        }
        assert!(along.support(at(20.0), at(100.0)).0 > 0.95);
    }
}
