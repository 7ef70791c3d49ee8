//! Cheap detectors of a reference that is not what it was taken for.

use nalgebra::{Matrix3, Vector3};

use super::solve::Solved;
use super::trace::Side;
use super::{Homography, Lens, PlaneError, PlaneWarning, Sheet, SheetFit};
use crate::photo::FILM_DIAGONAL_MM;

/// A flat sheet stays within 0.05 px (one in sixteen within 0.2), a 2 mm bow shows 3.5 px.
const SAG_WARN_PX: f64 = 0.5;
const ROUGH_WARN_PX: f64 = 0.25;
/// Taps a third of a pixel off and a focal length 3 % off give up to 0.017; A4 for Letter 0.079.
const SHAPE_REFUSE: f64 = 0.05;
const SQUARE_WARN_DEGREES: f64 = 3.0;
const LENS_WARN: f64 = 0.005;
/// Focal lengths (35 mm film) of phone main and wide cameras, tried where EXIF says nothing.
const FOCAL_GUESSES_35MM: [u32; 8] = [20, 22, 24, 26, 28, 32, 40, 60];

/// Bow of one side: the quadratic part of its residuals, px at the middle.
pub(crate) fn sag_px(residuals: &[(f64, f64)]) -> f64 {
    // Least squares of r = a + b t + q 4 t (1 - t).
    let mut normal = Matrix3::zeros();
    let mut right = Vector3::zeros();
    for (t, r) in residuals {
        let row = Vector3::new(1.0, *t, 4.0 * t * (1.0 - t));
        normal += row * row.transpose();
        right += row * *r;
    }
    normal.cholesky().map_or(0.0, |c| c.solve(&right).z)
}

/// Warnings of the edge fit.
pub(crate) fn edge_warnings(solved: &Solved, sides: &[Side], with: &SheetFit) -> Vec<PlaneWarning> {
    let worst = sides
        .iter()
        .map(|s| sag_px(&solved.residuals(s)).abs())
        .fold(0.0, f64::max);
    let mut warnings = Vec::new();
    if worst > SAG_WARN_PX {
        warnings.push(PlaneWarning::NotFlat { sag_px: worst });
    } else if solved.rms_px > ROUGH_WARN_PX {
        warnings.push(PlaneWarning::Rough {
            rms_px: solved.rms_px,
        });
    }
    if let Some(remembered_k1) = with.remembered_k1 {
        let fitted_k1 = solved.lens.k1;
        if (fitted_k1 - remembered_k1).abs() > LENS_WARN {
            warnings.push(PlaneWarning::LensDiffers {
                remembered_k1,
                fitted_k1,
            });
        }
    }
    warnings
}

/// How the reference's axes look to a camera of a given focal length.
struct Shape {
    /// Apparent width over height, relative to the reference chosen: 1 if it is the right one.
    aspect: f64,
    /// Angle between the axes, degrees.
    angle: f64,
}

fn shape(h: &Homography, lens: &Lens, focal_px: f64) -> Shape {
    let c = lens.centre();
    let h = h.matrix();
    let ray = |i: usize| {
        Vector3::new(
            (h[(0, i)] - c.x_px * h[(2, i)]) / focal_px,
            (h[(1, i)] - c.y_px * h[(2, i)]) / focal_px,
            h[(2, i)],
        )
    };
    let (x, y) = (ray(0), ray(1));
    Shape {
        aspect: x.norm() / y.norm(),
        angle: x.angle(&y).to_degrees(),
    }
}

/// Refuses a sheet whose proportions are not those chosen (`K^-1 h1` and `K^-1 h2` of a rectangle
/// are orthogonal and of equal length: Zhang, PAMI 22, 2000), warns where that cannot be told.
pub(crate) fn check_shape(
    sheet: &Sheet,
    h: &Homography,
    lens: &Lens,
    focal_px: Option<f64>,
) -> Result<Option<PlaneWarning>, PlaneError> {
    let diagonal = 2.0 * lens.half_diagonal_px();
    let focals: Vec<f64> = match focal_px {
        Some(f) => vec![f],
        None => FOCAL_GUESSES_35MM
            .iter()
            .map(|f| f64::from(*f) / FILM_DIAGONAL_MM * diagonal)
            .collect(),
    };
    let shapes: Vec<Shape> = focals.iter().map(|f| shape(h, lens, *f)).collect();
    let off = |target: f64| {
        let errors = shapes.iter().map(move |s| s.aspect / target - 1.0);
        errors
            .min_by(|a, b| a.abs().total_cmp(&b.abs()))
            .unwrap_or(0.0)
    };
    if off(1.0).abs() > SHAPE_REFUSE {
        let turned = (sheet.height_mm / sheet.width_mm).powi(2);
        if off(turned).abs() < SHAPE_REFUSE {
            return Err(PlaneError::Turned);
        }
        return Err(PlaneError::WrongShape {
            percent_wide: 100.0 * off(1.0),
        });
    }
    let all_agree = shapes
        .iter()
        .all(|s| (s.aspect - 1.0).abs() <= SHAPE_REFUSE);
    if focal_px.is_none() && !all_agree {
        return Ok(Some(PlaneWarning::ShapeUnchecked));
    }
    let degrees = shapes
        .iter()
        .map(|s| s.angle - 90.0)
        .min_by(|a, b| a.abs().total_cmp(&b.abs()))
        .unwrap_or(0.0);
    Ok((degrees.abs() > SQUARE_WARN_DEGREES).then_some(PlaneWarning::NotSquare { degrees }))
}
