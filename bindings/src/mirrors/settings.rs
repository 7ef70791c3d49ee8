//! Settings.

use shimwright::record::{
    CameraCalibration, DistanceUnit, Hand, Language, LengthUnit, WorkshopSettings,
};

#[uniffi::remote(Enum)]
pub enum LengthUnit {
    Millimetre,
    Inch,
}

#[uniffi::remote(Enum)]
pub enum DistanceUnit {
    Metre,
    Yard,
}

#[uniffi::remote(Enum)]
pub enum Language {
    System,
    English,
    German,
}

#[uniffi::remote(Record)]
pub struct WorkshopSettings {
    pub length_unit: LengthUnit,
    pub distance_unit: DistanceUnit,
    pub hand: Hand,
    pub tolerance_mm: f64,
    pub tolerance_distance_m: f64,
    pub unequal_axles: bool,
    pub tilt_limit_mm: f64,
    pub language: Language,
    pub red_mode: bool,
    pub cautions_read: bool,
}

#[uniffi::remote(Record)]
pub struct CameraCalibration {
    pub camera: String,
    pub k1: f64,
    pub at_ms: i64,
}
