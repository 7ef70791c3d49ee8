//! What people type and read, to and from base units.

use shimwright::units::{Force, Length, Mass, Speed, Unit, parse};

/// A unit that a figure is typed or shown in. Base units are mm, kg, m/s and N.
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
            Self::MetrePerSecond => Quantity::Speed(Speed::MetrePerSecond),
            Self::FootPerSecond => Quantity::Speed(Speed::FootPerSecond),
            Self::Newton => Quantity::Force(Force::Newton),
            Self::PoundForce => Quantity::Force(Force::PoundForce),
        }
    }
}

/// What was typed, in base units; `unit` counts where none was typed. Null where it is no such
/// figure: nothing is guessed.
#[uniffi::export]
pub fn read_figure(text: String, unit: FigureUnit) -> Option<f64> {
    match unit.quantity() {
        Quantity::Length(unit) => parse(&text, unit).ok(),
        Quantity::Mass(unit) => parse(&text, unit).ok(),
        Quantity::Speed(unit) => parse(&text, unit).ok(),
        Quantity::Force(unit) => parse(&text, unit).ok(),
    }
}

/// A figure in base units, as a number of `unit`.
#[uniffi::export]
pub fn figure_in(base: f64, unit: FigureUnit) -> f64 {
    match unit.quantity() {
        Quantity::Length(unit) => unit.of_base(base),
        Quantity::Mass(unit) => unit.of_base(base),
        Quantity::Speed(unit) => unit.of_base(base),
        Quantity::Force(unit) => unit.of_base(base),
    }
}
