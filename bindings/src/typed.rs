//! Reading what people type into fields. `None` where it is not a figure: the field says so.

use shimwright::record::{DistanceUnit, LengthUnit};
use shimwright::units::{self, Force, Length};
use shimwright::verdict::{CheckItem, MeasuredUnit};

/// A length, mm; `unit` is meant where none is typed.
#[uniffi::export]
pub fn read_length(text: &str, unit: LengthUnit) -> Option<f64> {
    let unit = match unit {
        LengthUnit::Millimetre => Length::Millimetre,
        LengthUnit::Inch => Length::Inch,
    };
    units::parse(text, unit).ok()
}

/// A distance to the target, m; `unit` is meant where none is typed.
#[uniffi::export]
pub fn read_distance(text: &str, unit: DistanceUnit) -> Option<f64> {
    let unit = match unit {
        DistanceUnit::Metre => Length::Metre,
        DistanceUnit::Yard => Length::Yard,
    };
    units::parse_distance_m(text, unit).ok()
}

/// A draw weight, N; pounds are meant where no unit is typed.
#[uniffi::export]
pub fn read_draw_weight(text: &str) -> Option<f64> {
    units::parse(text, Force::PoundForce).ok()
}

/// What a check measures, where it measures something.
#[uniffi::export]
pub fn measured_unit(item: CheckItem) -> Option<MeasuredUnit> {
    item.unit()
}
