//! What was shot.

use serde::{Deserialize, Serialize};

use super::{Form, form, form_enum};
use crate::frame::{ArrowKind, PointMm, PointPx};
use crate::measure::{Reference, Up};
use crate::record::{Exclusion, PhotoRef, PlaneRecord, ReferenceUsed, TrialImpact, TrialTear};

/// The live side of [`StoredMarks`]: what of a trial stands in its JSON column.
pub(in crate::store) struct Marks {
    pub(in crate::store) impacts: Vec<TrialImpact>,
    pub(in crate::store) tears: Vec<TrialTear>,
    pub(in crate::store) photo: Option<PhotoRef>,
    pub(in crate::store) plane: Option<PlaneRecord>,
    pub(in crate::store) note: String,
    pub(in crate::store) shooter: String,
}

form!(StoredMarks of Marks {
    impacts: Vec<StoredImpact>,
    tears: Vec<StoredTear>,
    photo: Option<StoredPhoto>,
    plane: Option<StoredPlane>,
} later { note: String, shooter: String });
form!(StoredImpact of TrialImpact {
    kind: ArrowKind,
    at: StoredPlace,
    sd_mm: f64,
    px: Option<StoredPixel>,
    arrow_number: Option<i32>,
    excluded: Option<Exclusion>,
} later { snapped: bool });
form!(StoredTear of TrialTear {
    kind: ArrowKind,
    tear: StoredPlace,
    sd_mm: f64,
    excluded: Option<Exclusion>,
} later { px: Option<StoredPixel> });
form!(StoredPlace of PointMm { x_mm: f64, y_mm: f64 });
form!(StoredPixel of PointPx { x_px: f64, y_px: f64 });
form!(StoredPhoto of PhotoRef { file: String, width_px: u32, height_px: u32 });
form!(StoredPlane of PlaneRecord {
    reference: StoredReference,
    residual_px: f64,
    residual_mm: f64,
    k1: f64,
    scale_sd: f64,
} later { marked: Option<StoredMarked>, turn_sd_rad: f64 });
form_enum!(StoredMarked of Reference {
    Sheet { width_mm: f64, height_mm: f64, corners_px: Option<Vec<StoredPixel>> },
    Marks { width_mm: f64, height_mm: f64, corners_px: Option<Vec<StoredPixel>> },
    Points { a_px: StoredPixel, b_px: StoredPixel, distance_mm: f64 },
    Rings { face: String, radii_mm: Option<Vec<f64>>, centre_px: StoredPixel, up: StoredUp },
});
form_enum!(StoredUp of Up {
    Picture,
    Taps { below_px: StoredPixel, above_px: StoredPixel },
    Level { left_px: StoredPixel, right_px: StoredPixel },
    Gravity { roll_rad: f64 },
});
form_enum!(StoredReference of ReferenceUsed {
    Sheet { width_mm: f64, height_mm: f64 },
    Points { distance_mm: f64 },
    Rings,
});
