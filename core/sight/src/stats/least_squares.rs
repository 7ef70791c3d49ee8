//! Linear least squares by Householder QR, columns scaled first.

use nalgebra::{DMatrix, DVector};

/// A fitted linear model.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// One coefficient per column.
    pub coefficients: Vec<f64>,
    /// Standard error of each coefficient from the residuals (zero when nothing is left over).
    pub errors: Vec<f64>,
    /// Unscaled covariance `(X'X)^-1`, row-major: multiply by a known noise variance.
    pub unscaled: Vec<f64>,
    /// Residual standard deviation.
    pub residual_sd: f64,
    /// Sum of squared residuals.
    pub residual_squares: f64,
    /// Rows minus columns.
    pub dof: usize,
}

/// Fits `y = X b` for the rows of `X` (each as long as the number of coefficients).
///
/// `None` when there are fewer rows than columns, the rows differ in length, a number is not
/// finite, or the columns do not tell the coefficients apart (relative pivot below 1e-13).
pub fn least_squares(rows: &[Vec<f64>], y: &[f64]) -> Option<Fit> {
    let columns = rows.first()?.len();
    let bad_shape = rows.len() != y.len() || columns == 0 || rows.len() < columns;
    if bad_shape
        || rows
            .iter()
            .any(|r| r.len() != columns || r.iter().any(|v| !v.is_finite()))
    {
        return None;
    }
    let x = DMatrix::from_fn(rows.len(), columns, |i, j| rows[i][j]);
    let scale: Vec<f64> = x.column_iter().map(|c| c.norm()).collect();
    if scale.iter().any(|s| *s <= 0.0) {
        return None;
    }
    let scaled = DMatrix::from_fn(rows.len(), columns, |i, j| x[(i, j)] / scale[j]);
    let target = DVector::from_column_slice(y);
    let (coefficients, inverse) = solve(scaled, &target, &scale)?;
    Some(summarise(&x, &target, &coefficients, &inverse))
}

/// Coefficients in the caller's scale and the inverse of `R` in the same scale. One step of
/// iterative refinement wins back the digits that an ill-conditioned set costs.
fn solve(
    scaled: DMatrix<f64>,
    target: &DVector<f64>,
    scale: &[f64],
) -> Option<(DVector<f64>, DMatrix<f64>)> {
    let columns = scale.len();
    let original = scaled.clone();
    let qr = scaled.qr();
    let r = qr.r();
    let largest = (0..columns).map(|j| r[(j, j)].abs()).fold(0.0, f64::max);
    if (0..columns).any(|j| r[(j, j)].abs() <= 1e-13 * largest) {
        return None;
    }
    let q = qr.q();
    let mut beta = r.solve_upper_triangular(&(q.transpose() * target))?;
    let residual = target - &original * &beta;
    beta += r.solve_upper_triangular(&(q.transpose() * residual))?;
    let mut inverse = r.solve_upper_triangular(&DMatrix::identity(columns, columns))?;
    for (j, s) in scale.iter().enumerate() {
        beta[j] /= s;
        inverse.row_mut(j).scale_mut(1.0 / s);
    }
    Some((beta, inverse))
}

fn summarise(
    x: &DMatrix<f64>,
    target: &DVector<f64>,
    coefficients: &DVector<f64>,
    inverse: &DMatrix<f64>,
) -> Fit {
    let residual_squares = (target - x * coefficients).norm_squared();
    let dof = x.nrows() - x.ncols();
    let residual_sd = if dof == 0 {
        0.0
    } else {
        (residual_squares / dof as f64).sqrt()
    };
    let unscaled = inverse * inverse.transpose();
    Fit {
        errors: unscaled
            .diagonal()
            .iter()
            .map(|v| residual_sd * v.sqrt())
            .collect(),
        unscaled: unscaled.transpose().iter().copied().collect(),
        coefficients: coefficients.iter().copied().collect(),
        residual_sd,
        residual_squares,
        dof,
    }
}
