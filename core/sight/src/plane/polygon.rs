//! Convex outlines and four-sided figures on the screen.

use super::line::Line;
use crate::frame::PointPx;

/// Figures with corners nearer than this are one, px. Chosen by hand; not tuned.
pub(super) const SAME_PX: f64 = 5.0;

/// Corners of the smallest convex outline, clockwise on the screen (Andrew, IPL 9, 1979).
pub(super) fn hull(mut points: Vec<PointPx>) -> Vec<PointPx> {
    points.sort_by(|a, b| a.x_px.total_cmp(&b.x_px).then(a.y_px.total_cmp(&b.y_px)));
    let mut lower = half_hull(points.iter());
    let mut upper = half_hull(points.iter().rev());
    lower.pop();
    upper.pop();
    lower.extend(upper);
    lower
}

fn half_hull<'a>(points: impl Iterator<Item = &'a PointPx>) -> Vec<PointPx> {
    let mut chain: Vec<PointPx> = Vec::new();
    for p in points {
        while let [.., a, b] = chain[..] {
            if turn(a, b, *p) > 0.0 {
                break;
            }
            chain.pop();
        }
        chain.push(*p);
    }
    chain
}

/// Twice the signed area of a triangle: positive where it runs clockwise on the screen, px^2.
pub(super) fn turn(a: PointPx, b: PointPx, c: PointPx) -> f64 {
    (b.x_px - a.x_px) * (c.y_px - b.y_px) - (b.y_px - a.y_px) * (c.x_px - b.x_px)
}

/// Area of a polygon, px^2.
pub(super) fn area(corners: &[PointPx]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    let twice: f64 = corners
        .iter()
        .zip(next)
        .map(|(a, b)| a.x_px * b.y_px - b.x_px * a.y_px)
        .sum();
    twice.abs() / 2.0
}

/// The four hull corners that enclose most, improved to where the long sides between them meet.
pub(super) fn widest_quadrilateral(hull: &[PointPx]) -> Option<[PointPx; 4]> {
    let farthest = |score: &dyn Fn(&PointPx) -> f64| {
        hull.iter()
            .copied()
            .max_by(|a, b| score(a).total_cmp(&score(b)))
    };
    let first = hull.first()?;
    let a = farthest(&|p| p.distance_px(*first))?;
    let c = farthest(&|p| p.distance_px(a))?;
    let diagonal = Line::between(a, c)?;
    let b = farthest(&|p| diagonal.distance(*p))?;
    let d = farthest(&|p| -diagonal.distance(*p))?;
    let corners = [a, b, c, d];
    (area(&corners) > 0.0).then_some(corners)
}

/// Clockwise on the screen, from the corner nearest to the top left of the outline.
pub(super) fn ordered(mut corners: [PointPx; 4]) -> [PointPx; 4] {
    if turn(corners[0], corners[1], corners[2]) < 0.0 {
        corners.reverse();
    }
    let first = (0..4)
        .min_by(|i, j| {
            let sum = |k: &usize| corners[*k].x_px + corners[*k].y_px;
            sum(i).total_cmp(&sum(j))
        })
        .unwrap_or(0);
    corners.rotate_left(first);
    corners
}

/// The place `by` px beyond the second of two.
pub(super) fn lengthened(from: PointPx, to: PointPx, by: f64) -> PointPx {
    let t = 1.0 + by / from.distance_px(to).max(1e-9);
    PointPx::new(
        from.x_px + t * (to.x_px - from.x_px),
        from.y_px + t * (to.y_px - from.y_px),
    )
}

/// Whether a place lies in the picture.
pub(super) fn is_within(p: PointPx, w: f64, h: f64) -> bool {
    (0.0..w).contains(&p.x_px) && (0.0..h).contains(&p.y_px)
}

/// Whether four corners in their order make a convex figure.
pub(super) fn is_convex(c: &[PointPx; 4]) -> bool {
    let turns = [0, 1, 2, 3].map(|i| turn(c[i], c[(i + 1) % 4], c[(i + 2) % 4]));
    turns.iter().all(|t| *t > 0.0) || turns.iter().all(|t| *t < 0.0)
}

/// Whether one figure lies within another, sides in common allowed.
pub(super) fn encloses(outer: &[PointPx; 4], inner: &[PointPx; 4]) -> bool {
    if area(outer) <= area(inner) * 1.001 {
        return false;
    }
    let sign = turn(outer[0], outer[1], outer[2]).signum();
    inner.iter().all(|p| {
        (0..4).all(|i| {
            let (a, b) = (outer[i], outer[(i + 1) % 4]);
            sign * turn(a, b, *p) > -SAME_PX * a.distance_px(b)
        })
    })
}
