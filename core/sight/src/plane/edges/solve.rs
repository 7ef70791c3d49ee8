//! One least-squares fit of four corners and the lens to edge points of four straight sides.
//!
//! A side is straight once the lens is undone, so the residual of an edge point is its distance
//! from the line through two corners; no corner is ever looked for, so hidden ones do not matter.

use nalgebra::{SMatrix, SVector};

use crate::plane::Lens;
use crate::plane::line::Line;

use super::proportions::Proportions;
use super::trace::Side;
use crate::frame::PointPx;
use crate::stats::{SD_PER_MEDIAN, median};

/// Eight corner coordinates (undistorted px) and k1.
const PARAMETERS: usize = 9;
type Normal = SMatrix<f64, PARAMETERS, PARAMETERS>;
type Column = SVector<f64, PARAMETERS>;

/// Where the soft-L1 loss turns from square to straight: px, and times the scatter (loose paper).
const SOFT_PX: f64 = 0.7;
/// Phone pictures scatter by about this even on a perfect edge, px; keeps weights finite.
const LEAST_SCATTER_PX: f64 = 0.02;
/// Differences of the sheet's proportions are taken over this far to either side, px.
const SLOPE_PX: f64 = 0.1;

/// Starting values and priors.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Start {
    /// Corner taps, px of the photograph, and their standard deviation.
    pub(crate) taps: [PointPx; 4],
    pub(crate) tap_sd_px: f64,
    /// Expected lens, and how far it may be off.
    pub(crate) lens: Lens,
    pub(crate) k1_sd: f64,
    /// What places a side that is not seen, where it is known.
    pub(crate) proportions: Option<Proportions>,
}

/// The fitted corners and lens.
#[derive(Debug, Clone)]
pub(crate) struct Solved {
    /// Corners, undistorted px.
    pub(crate) corners: [PointPx; 4],
    pub(crate) lens: Lens,
    /// Robust scatter of the residuals (1.4826 x median absolute), px.
    pub(crate) scatter_px: f64,
    /// Root mean square of the residuals, px.
    pub(crate) rms_px: f64,
    /// How many neighbouring points err alike: waves along an edge are one error, not many.
    pub(crate) alike: f64,
    /// Covariance of the parameters.
    pub(crate) covariance: Normal,
}

impl Solved {
    /// Signed distances of a side's points from it, with how far along the side they lie (0..=1).
    pub(crate) fn residuals(&self, side: &Side) -> Vec<(f64, f64)> {
        let (a, b) = ends(&self.corners, side);
        let Some(line) = Line::between(a, b) else {
            return Vec::new();
        };
        let length = a.distance_px(b);
        side.points
            .iter()
            .map(|p| {
                let u = self.lens.undistort(*p);
                (along(&line, u) / length, line.distance(u))
            })
            .collect()
    }

    /// Standard deviation of k1.
    pub(crate) fn k1_sd(&self) -> f64 {
        self.covariance[(8, 8)].max(0.0).sqrt()
    }

    /// The corners and lens one standard deviation off in each independent way.
    pub(crate) fn modes(&self) -> Vec<([PointPx; 4], Lens)> {
        let Some(root) = self.covariance.cholesky() else {
            return Vec::new();
        };
        let lower = root.l();
        (0..PARAMETERS)
            .map(|i| moved(&self.corners, &self.lens, &lower.column(i).into_owned()))
            .collect()
    }
}

fn along(line: &Line, u: PointPx) -> f64 {
    (u.x_px - line.through.x_px) * line.across.1 - (u.y_px - line.through.y_px) * line.across.0
}

fn ends(corners: &[PointPx; 4], side: &Side) -> (PointPx, PointPx) {
    let i = side.edge as usize;
    (corners[i], corners[(i + 1) % 4])
}

fn moved(corners: &[PointPx; 4], lens: &Lens, step: &Column) -> ([PointPx; 4], Lens) {
    let corners = std::array::from_fn(|i| {
        PointPx::new(
            corners[i].x_px + step[2 * i],
            corners[i].y_px + step[2 * i + 1],
        )
    });
    (corners, lens.with_k1(lens.k1 + step[8]))
}

/// Gauss-Newton with reweighting; `None` if the sides do not fix the corners.
pub(crate) fn solve(sides: &[Side], corners: [PointPx; 4], start: &Start) -> Option<Solved> {
    let mut solved = Solved {
        corners,
        lens: start.lens,
        scatter_px: 0.5,
        rms_px: 0.0,
        alike: 1.0,
        covariance: Normal::zeros(),
    };
    for _ in 0..12 {
        let (normal, gradient) = assemble(sides, &solved, start);
        let root = normal.cholesky()?;
        let step = -root.solve(&gradient);
        (solved.corners, solved.lens) = moved(&solved.corners, &solved.lens, &step);
        solved.covariance = root.inverse();
        (solved.scatter_px, solved.rms_px) = scatter(sides, &solved);
        solved.alike = alike_on(sides, &solved);
        if step.iter().take(8).all(|s| s.abs() < 1e-5) {
            break;
        }
    }
    let finite = solved
        .corners
        .iter()
        .all(|c| c.x_px.is_finite() && c.y_px.is_finite());
    (finite && solved.lens.k1.abs() <= crate::plane::MAX_K1).then_some(solved)
}

fn scatter(sides: &[Side], solved: &Solved) -> (f64, f64) {
    let all: Vec<f64> = sides
        .iter()
        .flat_map(|s| solved.residuals(s))
        .map(|(_, r)| r.abs())
        .collect();
    let mean_square = all.iter().map(|r| r * r).sum::<f64>() / all.len().max(1) as f64;
    let robust = SD_PER_MEDIAN * median(all).unwrap_or(0.0);
    (robust.max(LEAST_SCATTER_PX), mean_square.sqrt())
}

/// How many neighbours in a row err alike: the integrated autocorrelation `1 + 2 (r1 + r2 + ...)` up
/// to the first that is not positive (Geyer, Statistical Science 7, 1992).
pub(crate) fn alike(residuals: &[f64]) -> f64 {
    let lag = |k: usize| -> f64 {
        let pairs = residuals.iter().zip(residuals.iter().skip(k));
        pairs.map(|(a, b)| a * b).sum()
    };
    let all = lag(0).max(1e-12);
    let positive = (1..residuals.len())
        .map(|k| lag(k) / all)
        .take_while(|c| *c > 0.0);
    1.0 + 2.0 * positive.sum::<f64>()
}

/// The same over all sides: their mean.
fn alike_on(sides: &[Side], solved: &Solved) -> f64 {
    let of_side = |side: &Side| {
        let residuals: Vec<f64> = solved.residuals(side).iter().map(|(_, r)| *r).collect();
        alike(&residuals)
    };
    let sum: f64 = sides.iter().map(of_side).sum();
    (sum / sides.len().max(1) as f64).max(1.0)
}

/// Normal matrix and gradient of the weighted residuals and the priors.
fn assemble(sides: &[Side], at: &Solved, start: &Start) -> (Normal, Column) {
    let mut normal = Normal::zeros();
    let mut gradient = Column::zeros();
    let mut add = |row: &Column, residual: f64, weight: f64| {
        normal += row * row.transpose() * weight;
        gradient += row * (residual * weight);
    };
    let precision = at.scatter_px.powi(-2) / at.alike;
    let soft_px = at.scatter_px.max(SOFT_PX);
    for side in sides {
        for (row, residual) in rows(side, at) {
            let soft = 1.0 / (1.0 + (residual / soft_px).powi(2)).sqrt();
            add(&row, residual, precision * soft);
        }
    }
    for i in 0..8 {
        let tap = start.lens.undistort(start.taps[i / 2]);
        let corner = at.corners[i / 2];
        let residual = if i % 2 == 0 {
            corner.x_px - tap.x_px
        } else {
            corner.y_px - tap.y_px
        };
        add(&unit(i), residual, start.tap_sd_px.powi(-2));
    }
    add(&unit(8), at.lens.k1 - start.lens.k1, start.k1_sd.powi(-2));
    if sides.len() < 4 {
        let rows = start.proportions.and_then(|p| shape_rows(&p, at));
        for (row, residual) in rows.into_iter().flatten() {
            add(&row, residual, 1.0);
        }
    }
    (normal, gradient)
}

/// Derivatives (by differences) and residuals of the sheet's proportions, in standard deviations; none
/// where a step leaves no sheet.
fn shape_rows(proportions: &Proportions, at: &Solved) -> Option<[(Column, f64); 2]> {
    let off = |step: &Column| {
        let (corners, lens) = moved(&at.corners, &at.lens, step);
        proportions.off(&corners, &lens)
    };
    let here = off(&Column::zeros())?;
    let mut rows = here.map(|residual| (Column::zeros(), residual));
    for i in 0..8 {
        let (ahead, behind) = (off(&(unit(i) * SLOPE_PX))?, off(&(unit(i) * -SLOPE_PX))?);
        for (k, (row, _)) in rows.iter_mut().enumerate() {
            row[i] = (ahead[k] - behind[k]) / (2.0 * SLOPE_PX);
        }
    }
    Some(rows)
}

fn unit(i: usize) -> Column {
    Column::from_fn(|k, _| f64::from(u8::from(k == i)))
}

/// Derivatives and residual of every point of a side.
fn rows(side: &Side, at: &Solved) -> Vec<(Column, f64)> {
    let (a, b) = ends(&at.corners, side);
    let Some(line) = Line::between(a, b) else {
        return Vec::new();
    };
    let (i, j) = (side.edge as usize, (side.edge as usize + 1) % 4);
    let (nx, ny) = line.across;
    let length = a.distance_px(b);
    let centre = at.lens.centre();
    side.points
        .iter()
        .map(|p| {
            let u = at.lens.undistort(*p);
            let t = along(&line, u) / length;
            let (dx, dy) = (p.x_px - centre.x_px, p.y_px - centre.y_px);
            let r2 = (dx * dx + dy * dy) / at.lens.half_diagonal_px().powi(2);
            let mut row = Column::zeros();
            row[2 * i] = -nx * (1.0 - t);
            row[2 * i + 1] = -ny * (1.0 - t);
            row[2 * j] = -nx * t;
            row[2 * j + 1] = -ny * t;
            row[8] = (nx * dx + ny * dy) * r2;
            (row, line.distance(u))
        })
        .collect()
}
