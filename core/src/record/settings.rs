//! Settings of the workshop and of its cameras.

use serde::{Deserialize, Serialize};

use super::{Field, FieldError, Hand};
use crate::units::MM_PER_INCH;
use crate::verdict::Settings;

/// What lengths are shown and typed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LengthUnit {
    /// Millimetres.
    Millimetre,
    /// Inches.
    Inch,
}

impl LengthUnit {
    /// Lengths of a target face's order that are round figures in this unit, mm, ascending: what a scale or an
    /// axis is divided by.
    pub fn round_mm(self) -> [f64; 7] {
        match self {
            Self::Millimetre => [5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0],
            Self::Inch => [0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 40.0].map(|inches| inches * MM_PER_INCH),
        }
    }
}

/// What shooting distances are shown and typed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DistanceUnit {
    /// Metres.
    Metre,
    /// Yards.
    Yard,
}

/// What time is worth against millimetres.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Pace {
    /// Millimetres first: more rounds and swaps for the last of the split.
    Thorough,
    /// The verdict's own prior.
    Usual,
    /// Time first: good enough soon.
    Quick,
}

impl Pace {
    /// Split that a minute of work must save to be worth it, mm (common practice, no source).
    pub fn mm_per_minute(self) -> f64 {
        match self {
            Self::Thorough => 0.1,
            Self::Usual => Settings::default().mm_per_minute,
            Self::Quick => 0.3,
        }
    }
}

/// Settings that hold for the whole workshop.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WorkshopSettings {
    /// Unit of lengths.
    pub length_unit: LengthUnit,
    /// Unit of shooting distances.
    pub distance_unit: DistanceUnit,
    /// Hand offered for a new bow.
    pub hand: Hand,
    /// How far from the reference group still counts as together, mm, 1 to 300.
    pub tolerance_mm: f64,
    /// The distance that tolerance is meant at, m, 5 to 100.
    pub tolerance_distance_m: f64,
    /// Whether the two axles may carry different seats.
    pub unequal_axles: bool,
    /// Largest difference of the two cam offsets then, mm, 0 to 15.
    pub tilt_limit_mm: f64,
    /// Time against millimetres.
    pub pace: Pace,
}

impl Default for WorkshopSettings {
    /// The verdict's own priors; millimetres and metres.
    fn default() -> Self {
        let priors = Settings::default();
        Self {
            length_unit: LengthUnit::Millimetre,
            distance_unit: DistanceUnit::Metre,
            hand: Hand::Right,
            tolerance_mm: priors.tolerance_mm,
            tolerance_distance_m: priors.tolerance_distance_m,
            unequal_axles: priors.unequal_axles,
            tilt_limit_mm: priors.tilt_limit_mm,
            pace: Pace::Usual,
        }
    }
}

impl WorkshopSettings {
    /// What a verdict is asked to reach where a bow has no wishes of its own.
    pub fn wishes(&self) -> Settings {
        Settings {
            tolerance_mm: self.tolerance_mm,
            tolerance_distance_m: self.tolerance_distance_m,
            unequal_axles: self.unequal_axles,
            tilt_limit_mm: self.tilt_limit_mm,
            mm_per_minute: self.pace.mm_per_minute(),
            ..Settings::default()
        }
    }

    /// Passes settings whose numbers can be computed with.
    ///
    /// # Errors
    /// The first field out of range.
    pub fn check(&self) -> Result<(), FieldError> {
        Field::Tolerance.check(self.tolerance_mm)?;
        Field::ToleranceDistance.check(self.tolerance_distance_m)?;
        Field::TiltLimit.check(self.tilt_limit_mm)
    }
}

/// The lens distortion learned for one camera and picture size.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CameraCalibration {
    /// Make, model, focal length and picture size in one string.
    pub camera: String,
    /// Radial distortion, relative to the half diagonal, -0.5 to 0.5.
    pub k1: f64,
    /// When it was learned, epoch ms.
    pub at_ms: i64,
}
