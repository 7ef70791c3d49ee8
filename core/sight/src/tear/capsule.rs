//! The point's hole: the far end of the capsule the shaft swept through the paper.

use super::cells::CellSet;
use super::slits::Meeting;
use crate::frame::PointMm;
use crate::impact::Relief;

/// Cells this near to a slit's line belong to no shaft, mm. Chosen by hand; `tests/photo-table`
/// measures what passes.
const SLIT_HALF_WIDTH_MM: f64 = 0.8;
/// The hole's radius is this share of the shaft's, give or take: paper gives. Chosen by hand; not
/// tuned.
const RADIUS_SD_SHARE: f64 = 0.12;
/// Weight of that against the area that does not fit, as a share of the body. Chosen by hand; not
/// tuned.
const PRIOR_WEIGHT: f64 = 0.03;
/// Spacing of the first guesses, mm.
const COARSE_MM: f64 = 1.5;
/// Error of the end of a capsule that fits perfectly, mm. Set on the tuning seeds of
/// `tests/photo-table` (tears: .17 mm rms).
const LEAST_SD_MM: f64 = 0.18;
const SIMPLEX_STEPS: usize = 60;

/// The best capsule.
pub(super) struct Capsule {
    pub(super) point: PointMm,
    /// Area in one of body and capsule but not in the other, over the body's area.
    pub(super) xor_share: f64,
    pub(super) sd_mm: f64,
}

/// One cell that must be inside or outside the capsule.
struct Cell {
    at: PointMm,
    torn: bool,
}

/// Fits the capsule from the meeting of the slits to the point's hole.
pub(super) fn fit(body: &CellSet, relief: &Relief, meeting: &Meeting, radius_mm: f64) -> Capsule {
    let cells = cells(body, relief, meeting, 2);
    let torn = cells.iter().filter(|c| c.torn).count().max(1) as f64;
    let misfit = |point: PointMm, radius: f64| {
        let soft_edge = 1.0 / (2.0 * relief.step_mm());
        let wrong: f64 = cells
            .iter()
            .map(|cell| {
                let inside = radius - capsule_distance(cell.at, meeting.at, point);
                let covered = (inside * soft_edge + 0.5).clamp(0.0, 1.0);
                (covered - f64::from(u8::from(cell.torn))).abs()
            })
            .sum();
        wrong / torn
    };
    let cost = |v: [f64; 3]| {
        let off = (v[2] / radius_mm - 1.0) / RADIUS_SD_SHARE;
        misfit(PointMm::new(v[0], v[1]), v[2].max(0.1)) + PRIOR_WEIGHT * off * off
    };
    let start = coarse_start(&cells, |p| misfit(p, radius_mm)).unwrap_or(meeting.at);
    let best = simplex(cost, [start.x_mm, start.y_mm, radius_mm], [1.0, 1.0, 0.2]);
    let point = PointMm::new(best[0], best[1]);
    let xor_share = misfit(point, best[2].max(0.1));
    Capsule {
        point,
        xor_share,
        sd_mm: LEAST_SD_MM * (1.0 + 4.0 * xor_share),
    }
}

/// Every `stride`-th cell in and around the body, without the strips of the slits.
fn cells(body: &CellSet, relief: &Relief, meeting: &Meeting, stride: usize) -> Vec<Cell> {
    let members: Vec<(usize, usize)> = body.members().collect();
    let range = |of: fn(&(usize, usize)) -> usize| {
        let margin = (4.0 / relief.step_mm()) as usize;
        let low = members.iter().map(of).min().unwrap_or(0);
        let high = members.iter().map(of).max().unwrap_or(0);
        low.saturating_sub(margin)..=high + margin
    };
    let columns = range(|m| m.0);
    let mut cells = Vec::new();
    for row in range(|m| m.1).step_by(stride) {
        for column in columns.clone().step_by(stride) {
            let at = relief.place(column as f64, row as f64);
            let on_slit = |s: &super::Slit| s.distance_mm(at) < SLIT_HALF_WIDTH_MM;
            if !meeting.slits.iter().any(on_slit) {
                let torn = body.has(column, row);
                cells.push(Cell { at, torn });
            }
        }
    }
    cells
}

/// The torn cell, out of a coarse grid of them, that makes the best far end.
fn coarse_start(cells: &[Cell], misfit: impl Fn(PointMm) -> f64) -> Option<PointMm> {
    let on_grid = |at: PointMm| {
        let near = |v: f64| (v / COARSE_MM - (v / COARSE_MM).round()).abs() < 0.14;
        near(at.x_mm) && near(at.y_mm)
    };
    cells
        .iter()
        .filter(|c| c.torn && on_grid(c.at))
        .map(|c| (misfit(c.at), c.at))
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|best| best.1)
}

/// Distance of `at` from the segment `a` to `b`, mm.
fn capsule_distance(at: PointMm, a: PointMm, b: PointMm) -> f64 {
    super::Slit { from: a, to: b }.distance_mm(at)
}

/// Downhill simplex of Nelder and Mead (The Computer Journal 7, 1965) in three unknowns.
fn simplex(cost: impl Fn([f64; 3]) -> f64, start: [f64; 3], step: [f64; 3]) -> [f64; 3] {
    let rate = |v: [f64; 3]| (cost(v), v);
    let mut corners = [rate(start); 4];
    for k in 0..3 {
        let mut moved = start;
        moved[k] += step[k];
        corners[k + 1] = rate(moved);
    }
    for _ in 0..SIMPLEX_STEPS {
        corners.sort_by(|a, b| a.0.total_cmp(&b.0));
        let [best, _, second, worst] = corners;
        let middle: [f64; 3] =
            std::array::from_fn(|k| corners[..3].iter().map(|c| c.1[k]).sum::<f64>() / 3.0);
        let along = |t: f64| {
            rate(std::array::from_fn(|k| {
                middle[k] + t * (worst.1[k] - middle[k])
            }))
        };
        let mirrored = along(-1.0);
        corners[3] = if mirrored.0 < best.0 {
            let further = along(-2.0);
            if further.0 < mirrored.0 {
                further
            } else {
                mirrored
            }
        } else if mirrored.0 < second.0 {
            mirrored
        } else {
            let nearer = along(if mirrored.0 < worst.0 { -0.5 } else { 0.5 });
            if nearer.0 < worst.0 {
                nearer
            } else {
                for corner in &mut corners[1..] {
                    *corner = rate(std::array::from_fn(|k| {
                        f64::midpoint(corner.1[k], best.1[k])
                    }));
                }
                continue;
            }
        };
    }
    corners.sort_by(|a, b| a.0.total_cmp(&b.0));
    corners[0].1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_simplex_finds_the_bottom_of_a_bowl() {
        let bowl = |v: [f64; 3]| {
            (v[0] - 1.0).powi(2) + 4.0 * (v[1] + 2.0).powi(2) + 2.0 * (v[2] - 0.5).powi(2)
        };
        let found = simplex(bowl, [0.0, 0.0, 0.0], [1.0, 1.0, 0.2]);
        assert!(bowl(found) < 1e-5, "{found:?}");
    }
}
