//! Least squares of a homography and the rings' own errors to border points.
//!
//! The plane is corrected from its own side, `H <- H (I + E)`, so that a point seen at m mm moves
//! by `-E m` and the residual `|m| - (R + d)` has a derivative that is short to write. E has eight
//! entries (the ninth is scale); its rotation cannot be seen in rings and is held.

use nalgebra::{DMatrix, DVector, Matrix3};

use crate::plane::Homography;

use super::faces::Face;
use super::trace::RingPoints;
use crate::frame::PointMm;
use crate::stats::{SD_PER_MEDIAN, median};

/// A printed border against its published radius, one standard deviation, mm.
const RING_SD_MM: f64 = 0.5;
/// The one border that is trusted, so that the others cannot shift the scale.
const SCALE_RING_SD_MM: f64 = 0.08;
/// Stands for "not at all".
const HELD_SD_MM: f64 = 1e-4;
/// Border points scatter by at least this (ink, paper), mm.
const LEAST_SCATTER_MM: f64 = 0.02;

/// State of the fit.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct RingFit {
    pub(crate) homography: Homography,
    /// Found minus published radius of each border, mm (0 where it was not seen).
    pub(crate) off_mm: Vec<f64>,
    /// Root mean square of the residuals after leaving out the far ones, mm.
    pub(crate) rms_mm: f64,
    /// Robust scatter of a border point, mm.
    pub(crate) scatter_mm: f64,
    covariance: Option<DMatrix<f64>>,
    unit_mm: f64,
}

/// A fit and the border points it rests on.
#[derive(Debug, PartialEq)]
pub(crate) struct Found {
    pub(crate) fit: RingFit,
    pub(crate) rings: Vec<RingPoints>,
}

/// Settings of one step.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Step {
    /// Residuals beyond this lose their pull, mm.
    pub(crate) robust_mm: f64,
    /// Whether the two perspective entries are fitted; one ring cannot tell them.
    pub(crate) perspective: bool,
    /// Whether the rings' own errors are fitted. Not before the plane is nearly right: shrinking
    /// everything also makes residuals small.
    pub(crate) own_errors: bool,
}

impl Step {
    /// Everything is fitted.
    pub(crate) fn last(robust_mm: f64) -> Self {
        Self {
            robust_mm,
            perspective: true,
            own_errors: true,
        }
    }
}

impl RingFit {
    pub(crate) fn new(homography: Homography, face: &Face) -> Self {
        Self {
            homography,
            off_mm: vec![0.0; face.radii_mm.len()],
            rms_mm: f64::INFINITY,
            scatter_mm: 1.0,
            covariance: None,
            unit_mm: face.radii_mm.last().copied().unwrap_or(1.0),
        }
    }

    /// The same fit where the plane lies so in another picture.
    pub(crate) fn on(self, homography: Homography) -> Self {
        Self { homography, ..self }
    }

    /// One reweighted Gauss-Newton step; `None` if the points do not fix the plane.
    pub(crate) fn improve(&mut self, rings: &[RingPoints], face: &Face, step: Step) -> Option<()> {
        let points = self.points(rings, face);
        let (normal, right) = self.assemble(&points, face, step);
        let root = normal.cholesky()?;
        let change = root.solve(&right);
        self.homography = self.moved(&change)?;
        for (off, d) in self.off_mm.iter_mut().zip(change.iter().skip(8)) {
            *off += d;
        }
        self.covariance = Some(root.inverse());
        self.measure(rings, face, step.robust_mm);
        Some(())
    }

    fn points(&self, rings: &[RingPoints], face: &Face) -> Vec<(usize, PointMm, f64)> {
        rings
            .iter()
            .flat_map(|r| r.points.iter().map(move |p| (r.ring, p)))
            .filter_map(|(ring, p)| {
                let m = self.homography.to_mm(*p)?;
                let radius = face.radii_mm.get(ring)? + self.off_mm.get(ring)?;
                Some((ring, m, m.norm_mm() - radius))
            })
            .collect()
    }

    fn assemble(
        &self,
        points: &[(usize, PointMm, f64)],
        face: &Face,
        step: Step,
    ) -> (DMatrix<f64>, DVector<f64>) {
        let n = 8 + face.radii_mm.len();
        let mut normal = DMatrix::zeros(n, n);
        let mut right = DVector::zeros(n);
        for (ring, m, residual) in points {
            let row = self.row(*m, 8 + ring, n);
            let pull = 1.0 / (1.0 + (residual / step.robust_mm).powi(2));
            let weight = pull / self.scatter_mm.powi(2);
            normal.ger(weight, &row, &row, 1.0);
            right.axpy(-residual * weight, &row, 1.0);
        }
        add_priors(&mut normal, &mut right, &self.off_mm, face, step);
        (normal, right)
    }

    /// Derivative of the residual by E (row by row, positions in units of the outermost radius)
    /// and by the rings' errors.
    fn row(&self, m: PointMm, ring: usize, n: usize) -> DVector<f64> {
        let (x, y) = (m.x_mm / self.unit_mm, m.y_mm / self.unit_mm);
        let rho = x.hypot(y).max(1e-9);
        let (nx, ny) = (x / rho, y / rho);
        let e = [nx * x, nx * y, nx, ny * x, ny * y, ny, -rho * x, -rho * y];
        let mut row = DVector::zeros(n);
        for (r, v) in row.iter_mut().zip(e) {
            *r = -v * self.unit_mm;
        }
        row[ring] = -1.0;
        row
    }

    /// H (I + E) with E given in units of the outermost radius.
    fn moved(&self, e: &DVector<f64>) -> Option<Homography> {
        let u = self.unit_mm;
        let step = Matrix3::new(
            1.0 + e[0],
            e[1],
            e[2] * u,
            e[3],
            1.0 + e[4],
            e[5] * u,
            e[6] / u,
            e[7] / u,
            1.0,
        );
        Homography::from_matrix(self.homography.matrix() * step)
    }

    fn measure(&mut self, rings: &[RingPoints], face: &Face, robust_mm: f64) {
        let all: Vec<f64> = self
            .points(rings, face)
            .iter()
            .map(|(_, _, r)| r.abs())
            .collect();
        let scatter = SD_PER_MEDIAN * median(all.clone()).unwrap_or(f64::INFINITY);
        self.scatter_mm = scatter.max(LEAST_SCATTER_MM);
        let limit = (3.0 * self.scatter_mm).max(robust_mm);
        let near = || all.iter().filter(|r| **r < limit);
        let mean_square = near().map(|r| r * r).sum::<f64>() / near().count().max(1) as f64;
        self.rms_mm = mean_square.sqrt();
    }

    /// The plane one standard deviation off in each independent way.
    pub(crate) fn modes(&self) -> Vec<Homography> {
        let Some(root) = self.covariance.clone().and_then(nalgebra::Cholesky::new) else {
            return Vec::new();
        };
        let lower = root.l();
        (0..lower.ncols())
            .filter_map(|i| self.moved(&lower.column(i).into_owned()))
            .collect()
    }
}

fn add_priors(
    normal: &mut DMatrix<f64>,
    right: &mut DVector<f64>,
    off_mm: &[f64],
    face: &Face,
    step: Step,
) {
    // Rotation: (E12 - E21) stays put.
    let hold = 1e8;
    for (i, j, sign) in [(1, 1, 1.0), (3, 3, 1.0), (1, 3, -1.0), (3, 1, -1.0)] {
        normal[(i, j)] += sign * hold;
    }
    // Without perspective the two entries stay put; else a whisper keeps the matrix regular.
    let bend = if step.perspective { 1e-2 } else { 1e10 };
    for i in 0..8 {
        normal[(i, i)] += if i < 6 { 1e-6 } else { bend };
    }
    for (ring, off) in off_mm.iter().enumerate() {
        let sd = match (step.own_errors, Some(ring) == face.scale_ring) {
            (false, _) => HELD_SD_MM,
            (true, true) => SCALE_RING_SD_MM,
            (true, false) => RING_SD_MM,
        };
        normal[(8 + ring, 8 + ring)] += sd.powi(-2);
        right[8 + ring] -= off * sd.powi(-2);
    }
    if face.scale_ring.is_none() {
        hold_mean(normal, right, off_mm);
    }
}

/// Without a border that is trusted more than the others, their mean is.
fn hold_mean(normal: &mut DMatrix<f64>, right: &mut DVector<f64>, off_mm: &[f64]) {
    let n = off_mm.len() as f64;
    let mean = off_mm.iter().sum::<f64>() / n;
    let weight = SCALE_RING_SD_MM.powi(-2) / n;
    for i in 8..8 + off_mm.len() {
        right[i] -= mean * weight;
        for j in 8..8 + off_mm.len() {
            normal[(i, j)] += weight / n;
        }
    }
}
