//! From what the person says is of known size to a plane.

use super::request::{MeasuredLength, Reference, Up};
use super::{DEFAULT_TAP_SD_PX, MeasureError};
use crate::frame::PointPx;
use crate::photo::Photo;
use crate::plane::{
    Face, FirstLook, Marks, Plane, PlaneError, RingsFit, Sheet, SheetFit, TwoPoints, Up as FaceUp,
};

/// How exactly a person measures rings of their own, one standard deviation of a radius, mm.
const OWN_RING_SD_MM: f64 = 0.5;

/// Fits the reference, and corrects its scale by the measured length, if there is one.
pub(super) fn fit(
    photo: &Photo,
    seen: &FirstLook,
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
        Reference::Marks {
            width_mm,
            height_mm,
            corners_px,
        } => {
            let marks = Marks::new(*width_mm, *height_mm)?;
            let corners = four(corners_px.as_deref())?;
            marks.fit(photo, corners, &sheet_fit(photo, lens_k1))?
        }
        Reference::Points {
            a_px,
            b_px,
            distance_mm,
        } => {
            let two = TwoPoints {
                a: *a_px,
                b: *b_px,
                distance_mm: *distance_mm,
                tap_sd_px: DEFAULT_TAP_SD_PX,
            };
            two.fit(&photo.grey(), lens_k1)?
        }
        Reference::Rings {
            face,
            radii_mm,
            centre_px,
            up,
        } => {
            let face = face_of(face, radii_mm.as_deref())?;
            let with = RingsFit {
                remembered_k1: lens_k1,
                up: face_up(*up),
            };
            face.fit_again(photo, seen, *centre_px, &with)?
        }
    };
    match length {
        Some(l) => Ok(plane.with_measured_length(l.a_px, l.b_px, l.length_mm, l.sd_mm)?),
        None => Ok(plane),
    }
}

/// The sheet, with the cutting tolerance of its standard where the size is a known one.
pub(super) fn sheet_of(width_mm: f64, height_mm: f64) -> Result<Sheet, PlaneError> {
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
    let with = sheet_fit(photo, lens_k1);
    if corners_px.is_none() {
        return sheet.find(photo, &with);
    }
    sheet.fit(photo, four(corners_px)?, &with)
}

fn sheet_fit(photo: &Photo, lens_k1: Option<f64>) -> SheetFit {
    SheetFit {
        tap_sd_px: None,
        remembered_k1: lens_k1,
        focal_px: photo.focal_px(),
        accept_raw: false,
    }
}

fn four(corners_px: Option<&[PointPx]>) -> Result<&[PointPx; 4], PlaneError> {
    let corners = corners_px.ok_or(PlaneError::NotFound)?;
    corners.try_into().map_err(|_| PlaneError::TooFewPoints {
        got: corners.len(),
        need: 4,
    })
}

fn face_of(key: &str, radii_mm: Option<&[f64]>) -> Result<Face, PlaneError> {
    match radii_mm {
        Some(radii) => Face::own(radii, OWN_RING_SD_MM),
        None => Face::published(key).ok_or_else(|| PlaneError::UnknownFace {
            key: key.to_owned(),
        }),
    }
}

fn face_up(up: Up) -> FaceUp {
    match up {
        Up::Picture => FaceUp::Picture,
        Up::Taps { below_px, above_px } => FaceUp::Upwards {
            below: below_px,
            above: above_px,
        },
        Up::Level { left_px, right_px } => FaceUp::Level {
            left: left_px,
            right: right_px,
        },
        Up::Gravity { roll_rad } => FaceUp::Gravity { roll_rad },
    }
}

/// Marks that must lie on the picture. A sheet's corners need not: a sheet may leave the frame.
pub(super) fn marks<'a>(
    reference: &Reference,
    length: Option<&MeasuredLength>,
) -> Vec<(PointPx, &'a str)> {
    let mut marks = match reference {
        Reference::Points { a_px, b_px, .. } => {
            vec![(*a_px, "first point"), (*b_px, "second point")]
        }
        Reference::Rings { centre_px, .. } => vec![(*centre_px, "middle of the face")],
        Reference::Sheet { .. } | Reference::Marks { .. } => Vec::new(),
    };
    if let Some(l) = length {
        marks.push((l.a_px, "one end of the measured length"));
        marks.push((l.b_px, "the other end of the measured length"));
    }
    marks
}
