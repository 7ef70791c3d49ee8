//! Settings.

use shimwright::record::{DistanceUnit, Hand, LengthUnit, Pace, WorkshopSettings};

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
pub enum Pace {
    Thorough,
    Usual,
    Quick,
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
    pub pace: Pace,
}
