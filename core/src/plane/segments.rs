//! Long straight edges of a small picture: what the sides of a sheet look like at a glance.

use super::line::Line;
use crate::frame::PointPx;
use crate::stats::median_by;

/// Directions told apart in the vote.
const ANGLES: usize = 180;
/// A pixel votes for lines this many directions beside its own gradient.
const SPREAD: usize = 3;
/// Lines kept.
const MOST: usize = 36;
/// An edge this many times as strong as the least is half clear. Chosen by hand; not tuned.
const HALF_CLEAR: f64 = 2.0;
/// An edge pixel runs along a line where at least this share of its gradient points across it, and, where it
/// refines the line, the second: within 26 and 18 degrees. Chosen by hand; not tuned.
const ACROSS: (f64, f64) = (0.9, 0.95);
/// Edge pixels this near to a voted line refine it, px.
const REFINE_PX: isize = 3;
/// Lines nearer than this are one, directions and px. Chosen by hand; not tuned.
const APART: (usize, usize) = (3, 4);

/// The gradient of a picture: the strongest channel's, per pixel.
pub(crate) struct Gradient {
    pub(crate) width: usize,
    pub(crate) height: usize,
    /// Along x and y, levels per px.
    pub(crate) of: Vec<(f32, f32)>,
    /// What an edge must exceed: a multiple of the median gradient.
    pub(crate) least: f32,
}

impl Gradient {
    /// Of planes of equal size (Sobel's 3 x 3 weights).
    pub(crate) fn of(planes: &[&[u8]], width: usize, height: usize) -> Self {
        let mut of = vec![(0.0, 0.0); width * height];
        for plane in planes {
            for y in 1..height.saturating_sub(1) {
                for x in 1..width.saturating_sub(1) {
                    let here = sobel(plane, width, x, y);
                    let best: &mut (f32, f32) = &mut of[y * width + x];
                    if here.0.hypot(here.1) > best.0.hypot(best.1) {
                        *best = here;
                    }
                }
            }
        }
        let sizes = of.iter().map(|g| g.0.hypot(g.1)).collect();
        let median = median_by(sizes, f32::total_cmp).unwrap_or(0.0);
        Self {
            width,
            height,
            of,
            least: (2.5 * median).max(2.0),
        }
    }

    /// The gradient at the pixel nearest to a place.
    pub(crate) fn at(&self, x: f64, y: f64) -> Option<(f32, f32)> {
        let (x, y) = (x + 0.5, y + 0.5);
        let inside = x >= 0.0 && y >= 0.0 && x < self.width as f64 && y < self.height as f64;
        let index = y as usize * self.width + x as usize;
        self.of.get(index).copied().filter(|_| inside)
    }

    /// Share of a stretch along which an edge runs, within two px of it, and how clear it is there
    /// on average, 0..1: the outline of a sheet is stronger than the grain beside it.
    pub(crate) fn support(&self, from: PointPx, to: PointPx) -> (f64, f64) {
        let Some(line) = Line::between(from, to) else {
            return (0.0, 0.0);
        };
        let count = (from.distance_px(to) / 2.0).clamp(8.0, 200.0) as usize;
        let strengths = (0..count).filter_map(|i| {
            let t = (i as f64 + 0.5) / count as f64;
            let (x, y) = (
                from.x_px + t * (to.x_px - from.x_px),
                from.y_px + t * (to.y_px - from.y_px),
            );
            self.across(x, y, line.across)
        });
        let (seen, clear) = strengths.fold((0.0, 0.0), |(seen, clear), strength| {
            (seen + 1.0, clear + strength / (strength + HALF_CLEAR))
        });
        (seen / count as f64, clear / count as f64)
    }

    /// The strongest edge across a direction near a place, in units of the least.
    fn across(&self, x: f64, y: f64, (nx, ny): (f64, f64)) -> Option<f64> {
        let strengths = [-2.0, -1.0, 0.0, 1.0, 2.0].iter().filter_map(|k| {
            let (gx, gy) = self.at(x + k * nx, y + k * ny)?;
            let size = (gx * gx + gy * gy).sqrt();
            let across = (f64::from(gx) * nx + f64::from(gy) * ny).abs();
            let runs = size > self.least && across > ACROSS.0 * f64::from(size);
            runs.then_some(f64::from(size / self.least))
        });
        strengths.reduce(f64::max)
    }

    /// The straight lines along which most edge pixels lie (Duda and Hart, CACM 15, 1972), each
    /// pixel voting near its own direction only.
    pub(crate) fn lines(&self) -> Vec<Line> {
        let reach = (self.width as f64).hypot(self.height as f64) as usize + 2;
        let mut votes = vec![0.0_f32; ANGLES * 2 * reach];
        let turns: Vec<(f64, f64)> = (0..ANGLES)
            .map(|a| (std::f64::consts::PI * a as f64 / ANGLES as f64).sin_cos())
            .collect();
        for (i, (gx, gy)) in self.of.iter().enumerate() {
            let size = gx.hypot(*gy);
            if size <= self.least {
                continue;
            }
            let (x, y) = ((i % self.width) as f64, (i / self.width) as f64);
            let angle = f64::from(*gy)
                .atan2(f64::from(*gx))
                .rem_euclid(std::f64::consts::PI);
            let own = (angle / std::f64::consts::PI * ANGLES as f64).round() as usize;
            for a in (own + ANGLES - SPREAD)..=(own + ANGLES + SPREAD) {
                let a = a % ANGLES;
                let (sin, cos) = turns[a];
                let rho = x * cos + y * sin + reach as f64;
                if let Some(v) = votes.get_mut(a * 2 * reach + rho.round() as usize) {
                    // A strong edge counts more than a weak one, but not without limit.
                    *v += (size / self.least).min(4.0);
                }
            }
        }
        let lines = strongest(&votes, reach, &turns).into_iter();
        lines
            .map(|line| self.refined(&line).unwrap_or(line))
            .collect()
    }

    /// The line through the edge pixels near a voted one that run along it.
    fn refined(&self, voted: &Line) -> Option<Line> {
        let (nx, ny) = voted.across;
        let along = (-ny, nx);
        let reach = (self.width.max(self.height)) as isize;
        let mut points = Vec::new();
        for k in -reach..=reach {
            let (x, y) = (
                voted.through.x_px + k as f64 * along.0,
                voted.through.y_px + k as f64 * along.1,
            );
            let strongest = (-REFINE_PX..=REFINE_PX)
                .map(|d| ((x + d as f64 * nx).round(), (y + d as f64 * ny).round()))
                .filter_map(|(x, y)| {
                    let (gx, gy) = self.at(x, y)?;
                    let across = (f64::from(gx) * nx + f64::from(gy) * ny).abs();
                    let runs = across > ACROSS.1 * f64::from(gx.hypot(gy));
                    (runs && gx.hypot(gy) > self.least).then_some((across, PointPx::new(x, y)))
                });
            points.extend(strongest.max_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, p)| p));
        }
        Line::robust(&points, 1.5).map(|(line, _)| line)
    }
}

fn strongest(votes: &[f32], reach: usize, turns: &[(f64, f64)]) -> Vec<Line> {
    let mut order: Vec<usize> = (0..votes.len()).filter(|i| votes[*i] > 0.0).collect();
    order.sort_by(|a, b| votes[*b].total_cmp(&votes[*a]));
    let mut kept: Vec<(usize, usize)> = Vec::new();
    for i in order {
        let (a, rho) = (i / (2 * reach), i % (2 * reach));
        let beside = |k: &(usize, usize)| {
            let direct = k.0.abs_diff(a) <= APART.0 && k.1.abs_diff(rho) <= APART.1;
            let around =
                ANGLES - k.0.abs_diff(a) <= APART.0 && (2 * reach - k.1).abs_diff(rho) <= APART.1;
            direct || around
        };
        if !kept.iter().any(beside) {
            kept.push((a, rho));
        }
        if kept.len() == MOST {
            break;
        }
    }
    let line = |(a, rho): (usize, usize)| {
        let (sin, cos) = turns[a];
        let rho = rho as f64 - reach as f64;
        Line {
            through: PointPx::new(rho * cos, rho * sin),
            across: (cos, sin),
        }
    };
    kept.into_iter().map(line).collect()
}

fn sobel(plane: &[u8], width: usize, x: usize, y: usize) -> (f32, f32) {
    let at = |dx: usize, dy: usize| f32::from(plane[(y + dy - 1) * width + x + dx - 1]);
    let gx = at(2, 0) + 2.0 * at(2, 1) + at(2, 2) - at(0, 0) - 2.0 * at(0, 1) - at(0, 2);
    let gy = at(0, 2) + 2.0 * at(1, 2) + at(2, 2) - at(0, 0) - 2.0 * at(1, 0) - at(2, 0);
    (gx / 8.0, gy / 8.0)
}
