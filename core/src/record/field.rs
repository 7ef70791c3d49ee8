//! The fields a person fills in, their ranges as data, and what can be wrong with them.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::range;

/// A field that a person fills in; the shell owns its label in words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Field {
    /// Name of a bow, kit or arrow set-up.
    Name,
    /// A free label: a family of bows, who shot.
    Label,
    /// Distance between the axles, mm.
    AxleToAxle,
    /// String to the throat of the grip, mm.
    BraceHeight,
    /// Peak draw force, N.
    DrawWeight,
    /// Draw length, mm.
    DrawLength,
    /// Share of the top cam in the nock plane's offset.
    TopWeight,
    /// Sideways place of the rest relative to where this bow's record starts, mm.
    RestPlace,
    /// Height of the nocking point relative to where this bow's record starts, mm.
    NockPlace,
    /// How far the rest may go to one side, mm.
    RestRoom,
    /// How far a remembered swap moved the split, mm.
    RememberedMove,
    /// How sure that is, mm.
    RememberedDoubt,
    /// A value measured during a set-up check.
    CheckValue,
    /// Distance to a face, m.
    FaceDistance,
    /// Distance to the paper, m.
    PaperDistance,
    /// Where an arrow hit, mm.
    ImpactPlace,
    /// Standard deviation of a measured place, mm.
    PlaceSd,
    /// Length of a tear, mm.
    TearLength,
    /// Number written on an arrow.
    ArrowNumber,
    /// Sets of a pair that the workshop owns.
    PairSets,
    /// How far from the reference group still counts as together, mm.
    Tolerance,
    /// The distance that tolerance is meant at, m.
    ToleranceDistance,
    /// Largest difference of the two cam offsets, mm.
    TiltLimit,
    /// Radial lens distortion.
    LensK1,
    /// A figure of an arrow set-up.
    ArrowFigure,
}

impl Field {
    /// Smallest and largest value that is taken, in the unit its variant states.
    pub const fn range(self) -> (f64, f64) {
        match self {
            Self::Name => (1.0, 200.0),
            Self::Label => (0.0, 60.0),
            Self::AxleToAxle => range::AXLE_TO_AXLE_MM,
            Self::BraceHeight => (90.0, 350.0),
            Self::DrawWeight => (20.0, 600.0),
            Self::DrawLength => (350.0, 950.0),
            Self::TopWeight => range::TOP_WEIGHT,
            Self::RestPlace | Self::NockPlace => range::REST_AND_NOCK_MM,
            Self::RestRoom => range::REST_ROOM_MM,
            Self::RememberedMove => range::REMEMBERED_MOVE_MM,
            Self::CheckValue => (-2000.0, 2000.0),
            Self::FaceDistance | Self::ToleranceDistance => range::FACE_DISTANCE_M,
            Self::PaperDistance => range::PAPER_DISTANCE_M,
            Self::ImpactPlace => range::IMPACT_MM,
            Self::PlaceSd => range::PLACE_SD_MM,
            Self::TearLength => range::TEAR_MM,
            Self::ArrowNumber => (1.0, 999.0),
            Self::PairSets => (0.0, 99.0),
            Self::Tolerance | Self::RememberedDoubt => range::TOLERANCE_MM,
            Self::TiltLimit => range::TILT_LIMIT_MM,
            Self::LensK1 => (-0.5, 0.5),
            Self::ArrowFigure => (0.0, 2000.0),
        }
    }

    /// What it is called in English, and its unit with a space before it.
    const fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::Name => ("name", " characters"),
            Self::Label => ("label", " characters"),
            Self::AxleToAxle => ("axle-to-axle distance", " mm"),
            Self::BraceHeight => ("brace height", " mm"),
            Self::DrawWeight => ("draw weight", " N"),
            Self::DrawLength => ("draw length", " mm"),
            Self::TopWeight => ("share of the top cam", ""),
            Self::RestPlace => ("place of the rest", " mm"),
            Self::NockPlace => ("height of the nocking point", " mm"),
            Self::RestRoom => ("room of the rest", " mm"),
            Self::RememberedMove => ("move of a remembered swap", " mm"),
            Self::RememberedDoubt => ("doubt of a remembered swap", " mm"),
            Self::CheckValue => ("measured value", ""),
            Self::FaceDistance => ("distance to the face", " m"),
            Self::PaperDistance => ("distance to the paper", " m"),
            Self::ImpactPlace => ("place of an impact", " mm"),
            Self::PlaceSd => ("uncertainty of a place", " mm"),
            Self::TearLength => ("tear", " mm"),
            Self::ArrowNumber => ("number of an arrow", ""),
            Self::PairSets => ("count of sets", ""),
            Self::Tolerance => ("tolerance", " mm"),
            Self::ToleranceDistance => ("distance of the tolerance", " m"),
            Self::TiltLimit => ("limit of tilt", " mm"),
            Self::LensK1 => ("lens distortion", ""),
            Self::ArrowFigure => ("figure of an arrow", ""),
        }
    }

    /// Passes a value that is in range.
    ///
    /// # Errors
    /// [`FieldError::OutOfRange`], also for a value that is not a number.
    pub fn check(self, value: f64) -> Result<(), FieldError> {
        let (low, high) = self.range();
        if (low..=high).contains(&value) {
            return Ok(());
        }
        Err(FieldError::OutOfRange {
            field: self,
            value,
            low,
            high,
        })
    }

    /// As [`Field::check`], for a value that may be absent.
    ///
    /// # Errors
    /// [`FieldError::OutOfRange`].
    pub fn check_given(self, value: Option<f64>) -> Result<(), FieldError> {
        value.map_or(Ok(()), |value| self.check(value))
    }

    /// Passes text that is neither blank nor longer than its range.
    ///
    /// # Errors
    /// [`FieldError::Empty`] or [`FieldError::OutOfRange`] with the length.
    pub fn check_text(self, text: &str) -> Result<(), FieldError> {
        if text.trim().is_empty() {
            return Err(FieldError::Empty { field: self });
        }
        self.check(text.chars().count() as f64)
    }

    /// Passes text that may be blank but not longer than its range.
    ///
    /// # Errors
    /// [`FieldError::OutOfRange`] with the length.
    pub fn check_label(self, text: &str) -> Result<(), FieldError> {
        self.check(text.chars().count() as f64)
    }
}

/// What is wrong with a field.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum FieldError {
    /// A field that must be filled in is blank.
    #[error("the {} is empty; fill it in", field.words().0)]
    Empty {
        /// Which field.
        field: Field,
    },
    /// A value outside its range, or not a number.
    #[error(
        "{value}{unit} as {} is outside {low} to {high}{unit}; check the number and its unit",
        field.words().0,
        unit = field.words().1
    )]
    OutOfRange {
        /// Which field.
        field: Field,
        /// What was entered.
        value: f64,
        /// Smallest value that is taken.
        low: f64,
        /// Largest value that is taken.
        high: f64,
    },
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slipped_decimal_point_is_refused_and_named() {
        let refused = Field::AxleToAxle.check(83.8).unwrap_err();
        assert_eq!(
            refused.to_string(),
            "83.8 mm as axle-to-axle distance is outside 400 to 1500 mm; check the number and its unit"
        );
        assert!(Field::AxleToAxle.check(f64::NAN).is_err());
        assert!(Field::AxleToAxle.check(838.0).is_ok());
    }

    #[test]
    fn blank_and_endless_names_are_refused() {
        assert!(Field::Name.check_text(" \t").is_err());
        assert!(Field::Name.check_text(&"x".repeat(201)).is_err());
        assert!(Field::Name.check_text("Heron").is_ok());
    }
}
