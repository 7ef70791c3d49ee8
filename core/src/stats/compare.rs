//! Two-sample comparisons: Welch along one axis, Hotelling's T² for a vector on the face.

use super::describe::Summary;
use super::distributions::{f_upper_p, t_two_sided_p};
use crate::frame::{Cov2, PointMm};
use serde::{Deserialize, Serialize};

/// Result of a comparison of two means.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TTest {
    /// Difference over its standard error.
    pub t: f64,
    /// Degrees of freedom, usually not whole.
    pub dof: f64,
    /// Two-sided p-value, 0..1.
    pub p: f64,
}

/// Result of a comparison of two mean vectors on the face.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct VectorTest {
    /// Hotelling's T².
    pub t2: f64,
    /// Degrees of freedom of the covariance, usually not whole.
    pub dof: f64,
    /// The same as an F statistic with 2 and `dof - 1` degrees of freedom.
    pub f: f64,
    /// p-value, 0..1.
    pub p: f64,
}

/// Welch's test of two means with unequal variances (Welch 1947).
///
/// `None` when either sample has fewer than two values or nothing scatters.
pub fn welch(a: Summary, b: Summary) -> Option<TTest> {
    if a.n < 2 || b.n < 2 {
        return None;
    }
    let (va, vb) = (a.variance / a.n as f64, b.variance / b.n as f64);
    let variance = va + vb;
    if !(variance.is_finite() && variance > 0.0) {
        return None;
    }
    let t = (a.mean - b.mean) / variance.sqrt();
    let dof = variance.powi(2) / (va * va / (a.n - 1) as f64 + vb * vb / (b.n - 1) as f64);
    Some(TTest {
        t,
        dof,
        p: t_two_sided_p(t, dof),
    })
}

/// Test of `difference` against zero when its covariance was estimated with `dof` degrees of
/// freedom: `F = T² (dof - 1) / (2 dof)` (Johnson & Wichern, Applied Multivariate Statistical
/// Analysis, 5.2).
///
/// `None` when the covariance cannot be inverted or `dof <= 1`.
pub fn vector_test(difference: PointMm, covariance: Cov2, dof: f64) -> Option<VectorTest> {
    let inverse = inverse(covariance)?;
    if dof <= 1.0 {
        return None;
    }
    let t2 = quadratic(inverse, difference);
    let f = t2 * (dof - 1.0) / (2.0 * dof);
    Some(VectorTest {
        t2,
        dof,
        f,
        p: f_upper_p(f, 2.0, dof - 1.0),
    })
}

/// Hotelling's T² of two groups that are taken to scatter alike (Johnson & Wichern 6.3);
/// `scatter` is a group's sample covariance, `n` its count.
///
/// `None` when there are fewer than four arrows in all, or no scatter.
pub fn hotelling_pooled(
    difference: PointMm,
    (scatter_a, n_a): (Cov2, usize),
    (scatter_b, n_b): (Cov2, usize),
) -> Option<VectorTest> {
    if n_a == 0 || n_b == 0 || n_a + n_b < 4 {
        return None;
    }
    let (a, b) = (n_a as f64, n_b as f64);
    let dof = a + b - 2.0;
    let pooled = (scatter_a.scaled(a - 1.0) + scatter_b.scaled(b - 1.0)).scaled(1.0 / dof);
    vector_test(difference, pooled.scaled(1.0 / a + 1.0 / b), dof)
}

/// Hotelling's T² of two groups that scatter differently, with the degrees of freedom of
/// Krishnamoorthy and Yu, Statistics & Probability Letters 66 (2004) 161-169.
///
/// `None` when either group has fewer than three arrows, or no scatter.
pub fn hotelling_unequal(
    difference: PointMm,
    (scatter_a, n_a): (Cov2, usize),
    (scatter_b, n_b): (Cov2, usize),
) -> Option<VectorTest> {
    if n_a < 3 || n_b < 3 {
        return None;
    }
    let part_a = scatter_a.scaled(1.0 / n_a as f64);
    let part_b = scatter_b.scaled(1.0 / n_b as f64);
    let total = part_a + part_b;
    let inverse = inverse(total)?;
    let below =
        share(part_a, inverse) / (n_a - 1) as f64 + share(part_b, inverse) / (n_b - 1) as f64;
    vector_test(difference, total, 6.0 / below)
}

/// `tr((P V)^2) + (tr(P V))^2` of a part `P` of the covariance and the inverse `V` of the whole.
fn share(part: Cov2, inverse: Cov2) -> f64 {
    let a = part.xx_mm2 * inverse.xx_mm2 + part.xy_mm2 * inverse.xy_mm2;
    let b = part.xx_mm2 * inverse.xy_mm2 + part.xy_mm2 * inverse.yy_mm2;
    let c = part.xy_mm2 * inverse.xx_mm2 + part.yy_mm2 * inverse.xy_mm2;
    let d = part.xy_mm2 * inverse.xy_mm2 + part.yy_mm2 * inverse.yy_mm2;
    (a * a + 2.0 * b * c + d * d) + (a + d).powi(2)
}

fn inverse(c: Cov2) -> Option<Cov2> {
    let determinant = c.xx_mm2 * c.yy_mm2 - c.xy_mm2 * c.xy_mm2;
    let scale = c.xx_mm2 * c.yy_mm2;
    // A determinant this far below its diagonal is rounding, not information.
    if !(determinant.is_finite() && determinant > 1e-14 * scale && scale > 0.0) {
        return None;
    }
    Some(Cov2 {
        xx_mm2: c.yy_mm2 / determinant,
        xy_mm2: -c.xy_mm2 / determinant,
        yy_mm2: c.xx_mm2 / determinant,
    })
}

fn quadratic(m: Cov2, v: PointMm) -> f64 {
    v.x_mm * v.x_mm * m.xx_mm2 + 2.0 * v.x_mm * v.y_mm * m.xy_mm2 + v.y_mm * v.y_mm * m.yy_mm2
}
