//! Plane-to-picture homography: normalised direct linear transform in f64.

use nalgebra::{Matrix3, SMatrix, Vector3};

use super::PlaneError;
use crate::frame::{PointMm, PointPx};

/// Maps plane mm to (undistorted) picture px: `(x, y, w) = H (x_mm, y_mm, 1)`, px = `(x/w, y/w)`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Homography {
    forward: Matrix3<f64>,
    backward: Matrix3<f64>,
}

/// A point known on the plane and seen in the picture.
pub type Pair = (PointMm, PointPx);

/// Largest condition number of the normalised design accepted: beyond it four points are as good as
/// three in a line. Chosen by hand; not tuned.
const MAX_CONDITION: f64 = 1e6;

impl Homography {
    /// From a matrix; `None` if it cannot be inverted or holds a value that is not finite.
    pub fn from_matrix(forward: Matrix3<f64>) -> Option<Self> {
        let scale = forward.m33;
        let forward = if scale.abs() > 1e-12 * forward.norm() {
            forward / scale
        } else {
            forward
        };
        let backward = forward.try_inverse()?;
        let finite = forward.iter().chain(backward.iter()).all(|v| v.is_finite());
        finite.then_some(Self { forward, backward })
    }

    /// Least-squares fit to at least four pairs: algebraic error of normalised coordinates
    /// (Hartley and Zisserman, Multiple View Geometry, 2nd ed., Algorithm 4.2).
    ///
    /// # Errors
    /// [`PlaneError::TooFewPoints`], [`PlaneError::NotFinite`], or [`PlaneError::Degenerate`]
    /// where points coincide, lie in a line, or lie on both sides of the horizon.
    pub fn fit(pairs: &[Pair]) -> Result<Self, PlaneError> {
        if pairs.len() < 4 {
            return Err(PlaneError::TooFewPoints {
                got: pairs.len(),
                need: 4,
            });
        }
        if !pairs
            .iter()
            .all(|(m, p)| m.is_finite() && p.x_px.is_finite() && p.y_px.is_finite())
        {
            return Err(PlaneError::NotFinite);
        }
        let from = Normaliser::of(pairs.iter().map(|(m, _)| (m.x_mm, m.y_mm)))?;
        let to = Normaliser::of(pairs.iter().map(|(_, p)| (p.x_px, p.y_px)))?;
        let h = null_vector(pairs, &from, &to)?;
        let forward = to.inverse() * h * from.matrix();
        let fitted = Self::from_matrix(forward).ok_or(PlaneError::Degenerate)?;
        if pairs.iter().all(|(m, _)| fitted.weight(*m) > 0.0) {
            Ok(fitted)
        } else {
            Err(PlaneError::Degenerate)
        }
    }

    /// The matrix, scaled so that its last entry is 1 where possible.
    pub fn matrix(&self) -> &Matrix3<f64> {
        &self.forward
    }

    /// The inverse matrix, px to mm.
    pub fn inverse_matrix(&self) -> &Matrix3<f64> {
        &self.backward
    }

    fn weight(&self, m: PointMm) -> f64 {
        self.forward.m31 * m.x_mm + self.forward.m32 * m.y_mm + self.forward.m33
    }

    /// Plane to picture; meaningless (not finite) on the horizon.
    pub fn to_px(&self, m: PointMm) -> PointPx {
        let v = self.forward * Vector3::new(m.x_mm, m.y_mm, 1.0);
        PointPx::new(v.x / v.z, v.y / v.z)
    }

    /// Picture to plane; `None` on or beyond the horizon.
    pub fn to_mm(&self, p: PointPx) -> Option<PointMm> {
        let v = self.backward * Vector3::new(p.x_px, p.y_px, 1.0);
        let m = PointMm::new(v.x / v.z, v.y / v.z);
        (m.is_finite() && self.weight(m) > 0.0).then_some(m)
    }

    /// Local derivative d(px)/d(mm) at a plane point, rows x and y.
    pub fn jacobian_px_per_mm(&self, m: PointMm) -> nalgebra::Matrix2<f64> {
        let h = &self.forward;
        let w = self.weight(m);
        let p = self.to_px(m);
        nalgebra::Matrix2::new(
            (h.m11 - p.x_px * h.m31) / w,
            (h.m12 - p.x_px * h.m32) / w,
            (h.m21 - p.y_px * h.m31) / w,
            (h.m22 - p.y_px * h.m32) / w,
        )
    }

    /// Root mean square distance between seen and mapped points, px.
    pub fn rms_px(&self, pairs: &[Pair]) -> f64 {
        let sum: f64 = pairs
            .iter()
            .map(|(m, p)| self.to_px(*m).distance_px(*p).powi(2))
            .sum();
        (sum / pairs.len().max(1) as f64).sqrt()
    }
}

/// Moves points to mean 0 and mean distance sqrt 2.
struct Normaliser {
    scale: f64,
    cx: f64,
    cy: f64,
}

impl Normaliser {
    fn of(points: impl Iterator<Item = (f64, f64)> + Clone) -> Result<Self, PlaneError> {
        let n = points.clone().count() as f64;
        let (sx, sy) = points
            .clone()
            .fold((0.0, 0.0), |a, p| (a.0 + p.0, a.1 + p.1));
        let (cx, cy) = (sx / n, sy / n);
        let spread = points.map(|p| (p.0 - cx).hypot(p.1 - cy)).sum::<f64>() / n;
        if spread > 0.0 && spread.is_finite() {
            Ok(Self {
                scale: std::f64::consts::SQRT_2 / spread,
                cx,
                cy,
            })
        } else {
            Err(PlaneError::Degenerate)
        }
    }

    fn apply(&self, x: f64, y: f64) -> (f64, f64) {
        ((x - self.cx) * self.scale, (y - self.cy) * self.scale)
    }

    fn matrix(&self) -> Matrix3<f64> {
        let s = self.scale;
        Matrix3::new(s, 0.0, -s * self.cx, 0.0, s, -s * self.cy, 0.0, 0.0, 1.0)
    }

    fn inverse(&self) -> Matrix3<f64> {
        let s = 1.0 / self.scale;
        Matrix3::new(s, 0.0, self.cx, 0.0, s, self.cy, 0.0, 0.0, 1.0)
    }
}

/// The direction in which the design matrix of the pairs is smallest.
fn null_vector(
    pairs: &[Pair],
    from: &Normaliser,
    to: &Normaliser,
) -> Result<Matrix3<f64>, PlaneError> {
    let mut normal = SMatrix::<f64, 9, 9>::zeros();
    for (m, p) in pairs {
        let (x, y) = from.apply(m.x_mm, m.y_mm);
        let (u, v) = to.apply(p.x_px, p.y_px);
        let a = SMatrix::<f64, 9, 1>::from([x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y, -u]);
        let b = SMatrix::<f64, 9, 1>::from([0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y, -v]);
        normal += a * a.transpose() + b * b.transpose();
    }
    let eigen = normal.symmetric_eigen();
    let mut order: [usize; 9] = std::array::from_fn(|i| i);
    order.sort_by(|i, j| eigen.eigenvalues[*i].total_cmp(&eigen.eigenvalues[*j]));
    let [smallest, second, .., largest] = order;
    let ratio = eigen.eigenvalues[largest] / eigen.eigenvalues[second].max(0.0);
    if ratio.is_nan() || ratio > MAX_CONDITION {
        return Err(PlaneError::Degenerate);
    }
    let h = eigen.eigenvectors.column(smallest);
    Ok(Matrix3::from_row_iterator(h.iter().copied()))
}
