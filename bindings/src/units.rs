//! What people type and read, to and from base units. Reading gives nothing where a text is no such
//! figure: the field says so, nothing is guessed.

use shimwright::flight::ArrowSetup;
use shimwright::record::{DistanceUnit, LengthUnit};
use shimwright::units::{
    Force, Length, LinearDensity, Mass, Rounded, Speed, Unit, parse, parse_distance_m,
};
use shimwright::verdict::RestRoom;

/// A unit that a figure is typed or shown in. Base units are mm, kg, kg/m, m/s and N.
#[derive(Debug, Clone, Copy, PartialEq, Eq, uniffi::Enum)]
pub enum FigureUnit {
    /// Length.
    Millimetre,
    /// Length.
    Inch,
    /// Length; base unit mm all the same.
    Metre,
    /// Length; base unit mm all the same.
    Yard,
    /// Mass.
    Gram,
    /// Mass.
    Grain,
    /// Mass for a length.
    GrainPerInch,
    /// Speed.
    MetrePerSecond,
    /// Speed.
    FootPerSecond,
    /// Force.
    Newton,
    /// Force.
    PoundForce,
}

enum Quantity {
    Length(Length),
    Mass(Mass),
    LinearDensity(LinearDensity),
    Speed(Speed),
    Force(Force),
}

impl FigureUnit {
    fn quantity(self) -> Quantity {
        match self {
            Self::Millimetre => Quantity::Length(Length::Millimetre),
            Self::Inch => Quantity::Length(Length::Inch),
            Self::Metre => Quantity::Length(Length::Metre),
            Self::Yard => Quantity::Length(Length::Yard),
            Self::Gram => Quantity::Mass(Mass::Gram),
            Self::Grain => Quantity::Mass(Mass::Grain),
            Self::GrainPerInch => Quantity::LinearDensity(LinearDensity::GrainPerInch),
            Self::MetrePerSecond => Quantity::Speed(Speed::MetrePerSecond),
            Self::FootPerSecond => Quantity::Speed(Speed::FootPerSecond),
            Self::Newton => Quantity::Force(Force::Newton),
            Self::PoundForce => Quantity::Force(Force::PoundForce),
        }
    }
}

/// A figure, in base units; `unit` is meant where none is typed.
#[uniffi::export]
pub fn read_figure(text: &str, unit: FigureUnit) -> Option<f64> {
    match unit.quantity() {
        Quantity::Length(unit) => parse(text, unit).ok(),
        Quantity::Mass(unit) => parse(text, unit).ok(),
        Quantity::LinearDensity(unit) => parse(text, unit).ok(),
        Quantity::Speed(unit) => parse(text, unit).ok(),
        Quantity::Force(unit) => parse(text, unit).ok(),
    }
}

/// A length, mm; the workshop's `unit` is meant where none is typed.
#[uniffi::export]
pub fn read_length(text: &str, unit: LengthUnit) -> Option<f64> {
    let unit = match unit {
        LengthUnit::Millimetre => FigureUnit::Millimetre,
        LengthUnit::Inch => FigureUnit::Inch,
    };
    read_figure(text, unit)
}

/// A distance to the target, m; the workshop's `unit` is meant where none is typed.
#[uniffi::export]
pub fn read_distance(text: &str, unit: DistanceUnit) -> Option<f64> {
    let unit = match unit {
        DistanceUnit::Metre => Length::Metre,
        DistanceUnit::Yard => Length::Yard,
    };
    parse_distance_m(text, unit).ok()
}

/// A draw weight, N; pounds are meant where no unit is typed.
#[uniffi::export]
pub fn read_draw_weight(text: &str) -> Option<f64> {
    read_figure(text, FigureUnit::PoundForce)
}

/// A figure in base units, as a number of `unit`.
#[uniffi::export]
pub fn figure_in(base: f64, unit: FigureUnit) -> f64 {
    match unit.quantity() {
        Quantity::Length(unit) => unit.of_base(base),
        Quantity::Mass(unit) => unit.of_base(base),
        Quantity::LinearDensity(unit) => unit.of_base(base),
        Quantity::Speed(unit) => unit.of_base(base),
        Quantity::Force(unit) => unit.of_base(base),
    }
}

/// Half the width of the 95 % interval of a figure with this standard deviation, in its own unit.
#[uniffi::export]
pub fn plus_minus(sd: f64) -> f64 {
    shimwright::stats::plus_minus(sd)
}

/// A figure and its spread as they are shown.
#[uniffi::remote(Record)]
pub struct Rounded {
    pub value: f64,
    pub spread: f64,
    pub decimals: u32,
}

/// Rounds a figure and its spread alike, in their own unit.
#[uniffi::export]
pub fn round_estimate(value: f64, spread: f64) -> Rounded {
    shimwright::units::round_estimate(value, spread)
}

/// How far a rest may go where nobody says otherwise.
#[uniffi::export]
pub fn usual_rest_room() -> RestRoom {
    RestRoom::default()
}

/// A usual arrow with vanes and a broadhead, for the fields nothing was typed into.
#[uniffi::export]
pub fn usual_arrow() -> ArrowSetup {
    ArrowSetup::usual()
}
