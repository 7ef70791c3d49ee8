//! Long straight edges of a small picture: what the sides of a sheet look like at a glance.

use crate::frame::PointPx;
use crate::plane::line::Line;
use crate::stats::median;

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
/// Edge pixels this near to a line lie on it, px. Chosen by hand; not tuned.
const BESIDE_PX: f64 = 2.0;
/// A line of fewer votes is no side: so many weak edge pixels, or a quarter of strong ones. Chosen by hand; not tuned.
const LEAST_VOTES: f32 = 24.0;

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
        let sizes = of.iter().map(|g| f64::from(g.0.hypot(g.1)));
        let median = median(sizes.collect()).map_or(0.0, |middle| middle as f32);
        Self {
            width,
            height,
            of,
            least: (2.5 * median).max(2.0),
        }
    }

    /// Pixels on an edge.
    fn voters(&self) -> Vec<Voter> {
        let voter = |(i, (gx, gy)): (usize, &(f32, f32))| {
            let size = gx.hypot(*gy);
            (size > self.least).then(|| Voter {
                at: PointPx::new((i % self.width) as f64, (i / self.width) as f64),
                direction: direction_of(f64::from(*gy).atan2(f64::from(*gx))),
                // A strong edge counts more than a weak one, but not without limit.
                weight: f64::from((size / self.least).min(4.0)),
                spent: false,
            })
        };
        self.of.iter().enumerate().filter_map(voter).collect()
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
            self.clear(x, y, line.across)
        });
        let (seen, clear) =
            strengths.fold((0.0, 0.0), |(seen, clear), here| (seen + 1.0, clear + here));
        (seen / count as f64, clear / count as f64)
    }

    /// How clear an edge across a direction is near a place, 0..1, where there is one.
    pub(crate) fn clear(&self, x: f64, y: f64, across: (f64, f64)) -> Option<f64> {
        let strength = self.across(x, y, across)?;
        Some(strength / (strength + HALF_CLEAR))
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
    /// pixel voting near its own direction only, and for one line in the end: long clear edges would else be
    /// found many times over, and hide a short one.
    pub(crate) fn lines(&self) -> Vec<Line> {
        let mut votes = Votes::of(self);
        let mut lines = Vec::new();
        for _ in 0..MOST {
            let Some(line) = votes.strongest() else {
                break;
            };
            votes.take(&line);
            lines.push(self.refined(&line).unwrap_or(line));
        }
        lines
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

/// An edge pixel, its own direction (index), and what it counts.
struct Voter {
    at: PointPx,
    direction: usize,
    weight: f64,
    spent: bool,
}

/// Votes of edge pixels for the lines they may lie on.
struct Votes {
    of: Vec<f32>,
    /// The most in every direction, and where.
    best: Vec<(f32, usize)>,
    voters: Vec<Voter>,
    turns: Vec<(f64, f64)>,
    reach: usize,
}

impl Votes {
    fn of(gradient: &Gradient) -> Self {
        let reach = (gradient.width as f64).hypot(gradient.height as f64) as usize + 2;
        let turn = |a: usize| (std::f64::consts::PI * a as f64 / ANGLES as f64).sin_cos();
        let mut votes = Self {
            of: vec![0.0; ANGLES * 2 * reach],
            best: vec![(0.0, 0); ANGLES],
            voters: gradient.voters(),
            turns: (0..ANGLES).map(turn).collect(),
            reach,
        };
        for i in 0..votes.voters.len() {
            votes.cast(i, 1.0);
        }
        (0..ANGLES).for_each(|a| votes.look(a));
        votes
    }

    /// Directions a pixel votes in.
    fn near(direction: usize) -> impl Iterator<Item = usize> {
        (direction + ANGLES - SPREAD..=direction + ANGLES + SPREAD).map(|a| a % ANGLES)
    }

    /// Adds a pixel's votes, `sign` times.
    fn cast(&mut self, voter: usize, sign: f64) {
        let voter = &self.voters[voter];
        for a in Self::near(voter.direction) {
            let (sin, cos) = self.turns[a];
            let rho = voter.at.x_px * cos + voter.at.y_px * sin + self.reach as f64;
            if let Some(v) = self.of.get_mut(a * 2 * self.reach + rho.round() as usize) {
                *v += (sign * voter.weight) as f32;
            }
        }
    }

    /// Finds the most in one direction anew.
    fn look(&mut self, direction: usize) {
        let from = direction * 2 * self.reach;
        let row = self.of[from..from + 2 * self.reach].iter().enumerate();
        let most = row.max_by(|a, b| a.1.total_cmp(b.1));
        self.best[direction] = most.map_or((0.0, 0), |(rho, votes)| (*votes, rho));
    }

    fn strongest(&self) -> Option<Line> {
        let all = self.best.iter().enumerate();
        let (a, (votes, rho)) = all.max_by(|a, b| a.1.0.total_cmp(&b.1.0))?;
        let (sin, cos) = self.turns[a];
        let rho = *rho as f64 - self.reach as f64;
        (*votes >= LEAST_VOTES).then_some(Line {
            through: PointPx::new(rho * cos, rho * sin),
            across: (cos, sin),
        })
    }

    /// Takes back the votes of the pixels that lie along a line.
    fn take(&mut self, line: &Line) {
        let angle = line.across.1.atan2(line.across.0);
        let direction = direction_of(angle);
        for i in 0..self.voters.len() {
            let voter = &self.voters[i];
            let apart = voter.direction.abs_diff(direction);
            let along = apart.min(ANGLES - apart) <= SPREAD;
            if !voter.spent && along && line.distance(voter.at).abs() <= BESIDE_PX {
                self.voters[i].spent = true;
                self.cast(i, -1.0);
            }
        }
        for a in Self::near(direction)
            .chain(Self::near(direction + SPREAD))
            .chain(Self::near(direction + ANGLES - SPREAD))
        {
            self.look(a);
        }
    }
}

fn direction_of(angle: f64) -> usize {
    let turned = angle.rem_euclid(std::f64::consts::PI) / std::f64::consts::PI;
    (turned * ANGLES as f64).round() as usize % ANGLES
}

fn sobel(plane: &[u8], width: usize, x: usize, y: usize) -> (f32, f32) {
    let at = |dx: usize, dy: usize| f32::from(plane[(y + dy - 1) * width + x + dx - 1]);
    let gx = at(2, 0) + 2.0 * at(2, 1) + at(2, 2) - at(0, 0) - 2.0 * at(0, 1) - at(0, 2);
    let gy = at(0, 2) + 2.0 * at(1, 2) + at(2, 2) - at(0, 0) - 2.0 * at(1, 0) - at(2, 0);
    (gx / 8.0, gy / 8.0)
}
