//! From what the person says is of known size to a plane.

use nalgebra::Matrix3;

use super::request::{MeasuredLength, Reference};
use super::{DEFAULT_TAP_SD_PX, MeasureError};
use crate::frame::PointPx;
use crate::photo::Photo;
use crate::plane::{
    Homography, Lens, Plane, PlaneError, PlaneWarning, ReferenceKind, ScaleSd, Sheet, SheetFit,
};

/// A camera held by hand "square" to a target is off by about this angle, and shortens lengths by
/// its cosine.
const UNCORRECTED_TILT_RAD: f64 = 0.15;

/// Fits the reference, and corrects its scale by the measured length, if there is one.
pub(super) fn fit(
    photo: &Photo,
    reference: &Reference,
    lens_k1: Option<f64>,
    length: Option<&MeasuredLength>,
) -> Result<Plane, MeasureError> {
    let plane = match reference {
        Reference::Sheet {
            width_mm,
            height_mm,
            corners_px,
        } => {
            let sheet = sheet_of(*width_mm, *height_mm)?;
            fit_sheet(photo, sheet, corners_px.as_deref(), lens_k1)?
        }
        Reference::Points {
            a_px,
            b_px,
            distance_mm,
        } => two_points(photo, (*a_px, *b_px), *distance_mm, lens_k1)?,
        Reference::Marks { .. } | Reference::Rings { .. } => {
            return Err(PlaneError::NotFound.into());
        }
    };
    match length {
        Some(l) => Ok(plane.with_measured_length(l.a_px, l.b_px, l.length_mm, l.sd_mm)?),
        None => Ok(plane),
    }
}

/// The sheet, with the cutting tolerance of its standard where the size is a known one.
fn sheet_of(width_mm: f64, height_mm: f64) -> Result<Sheet, PlaneError> {
    let card = [Sheet::ID1, Sheet::ID1.turned()]
        .iter()
        .any(|s| (s.width_mm - width_mm).abs() < 0.5 && (s.height_mm - height_mm).abs() < 0.5);
    let like = if card { Sheet::ID1 } else { Sheet::A4 };
    Sheet::new(width_mm, height_mm, like.cut_sd_mm)
}

fn fit_sheet(
    photo: &Photo,
    sheet: Sheet,
    corners_px: Option<&[PointPx]>,
    lens_k1: Option<f64>,
) -> Result<Plane, PlaneError> {
    let corners = corners_px.ok_or(PlaneError::NotFound)?;
    let corners = corners.try_into().map_err(|_| PlaneError::TooFewPoints {
        got: corners.len(),
        need: 4,
    })?;
    let with = SheetFit {
        tap_sd_px: Some(DEFAULT_TAP_SD_PX),
        remembered_k1: lens_k1,
        focal_px: photo.focal_px(),
        accept_raw: false,
    };
    sheet.fit(&photo.grey(), corners, &with)
}

/// Scale only: the picture is taken as square to the plane, middle of the two points as origin.
fn two_points(
    photo: &Photo,
    (a, b): (PointPx, PointPx),
    distance_mm: f64,
    lens_k1: Option<f64>,
) -> Result<Plane, PlaneError> {
    let distance_mm = crate::plane::checked_length("distance", distance_mm)?;
    let lens = Lens::new(lens_k1.unwrap_or(0.0), photo.width(), photo.height());
    let (a, b) = (lens.undistort(a), lens.undistort(b));
    let length_px = a.distance_px(b);
    let far_enough = length_px > 4.0 * DEFAULT_TAP_SD_PX;
    let scale = length_px / distance_mm;
    let (x, y) = (f64::midpoint(a.x_px, b.x_px), f64::midpoint(a.y_px, b.y_px));
    let matrix = Matrix3::new(scale, 0.0, x, 0.0, -scale, y, 0.0, 0.0, 1.0);
    let homography = Homography::from_matrix(matrix)
        .filter(|_| far_enough)
        .ok_or(PlaneError::Degenerate)?;
    let pointing = DEFAULT_TAP_SD_PX * std::f64::consts::SQRT_2 / length_px;
    let sd = pointing.hypot(1.0 - UNCORRECTED_TILT_RAD.cos());
    Ok(Plane {
        homography,
        lens,
        residual_px: 0.0,
        residual_mm: 0.0,
        scale_sd: ScaleSd { x: sd, y: sd },
        warnings: vec![PlaneWarning::ScaleOnly],
        reference: ReferenceKind::Points { distance_mm },
        modes: Vec::new(),
    })
}
