//! Trials.

use shimwright::frame::{ArrowKind, PointMm, PointPx};
use shimwright::measure::Reference;
use shimwright::record::{
    Exclusion, PhotoRef, PlaneRecord, ReferenceUsed, SetupState, Surface, Trial, TrialDraft,
    TrialImpact, TrialTear,
};
use shimwright::spacer::Fitting;

#[uniffi::remote(Enum)]
pub enum Surface {
    Face,
    Paper,
}

#[uniffi::remote(Enum)]
pub enum Exclusion {
    BadShot,
    DamagedArrow,
    Contact,
    WrongMark,
}

#[uniffi::remote(Record)]
pub struct TrialImpact {
    pub kind: ArrowKind,
    pub at: PointMm,
    pub sd_mm: f64,
    pub px: Option<PointPx>,
    pub snapped: bool,
    pub arrow_number: Option<i32>,
    pub excluded: Option<Exclusion>,
}

#[uniffi::remote(Record)]
pub struct TrialTear {
    pub kind: ArrowKind,
    pub tear: PointMm,
    pub sd_mm: f64,
    pub px: Option<PointPx>,
    pub excluded: Option<Exclusion>,
}

#[uniffi::remote(Enum)]
pub enum ReferenceUsed {
    Sheet { width_mm: f64, height_mm: f64 },
    Points { distance_mm: f64 },
    Rings,
}

#[uniffi::remote(Record)]
pub struct PlaneRecord {
    pub reference: ReferenceUsed,
    pub residual_px: f64,
    pub residual_mm: f64,
    pub k1: f64,
    pub scale_sd: f64,
    pub turn_sd_rad: f64,
    pub marked: Option<Reference>,
}

#[uniffi::remote(Record)]
pub struct PhotoRef {
    pub file: String,
    pub width_px: u32,
    pub height_px: u32,
}

#[uniffi::remote(Record)]
pub struct TrialDraft {
    pub surface: Surface,
    pub distance_m: f64,
    pub shooter: String,
    pub arrow_setup_id: Option<i64>,
    pub impacts: Vec<TrialImpact>,
    pub tears: Vec<TrialTear>,
    pub photo: Option<PhotoRef>,
    pub plane: Option<PlaneRecord>,
    pub note: String,
}

#[uniffi::remote(Record)]
pub struct Trial {
    pub id: i64,
    pub bow_id: i64,
    pub at_ms: i64,
    pub fitting_id: i64,
    pub fitting: Fitting,
    pub setup: SetupState,
    pub shot: TrialDraft,
    pub struck_ms: Option<i64>,
}
