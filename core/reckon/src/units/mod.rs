//! Units: exact conversions, reading what people type, and rounding figures to the digits they deserve.
//!
//! The core works in mm, m, kg, m/s, N, J, kg m/s; every other unit exists only here. The
//! factors are exact by definition (international yard and pound, 1959; standard gravity of the
//! 3rd CGPM, 1901).
//!
//! ```
//! use shimwright_reckon::units::{self, Length};
//! let typed_mm = units::parse("1 3/16\"", Length::Millimetre).unwrap();
//! assert!((typed_mm - 30.1625).abs() < 1e-9);
//! let shown = units::round_estimate(-12.34, 1.42);
//! assert_eq!(format!("{:.1} ± {:.1}", shown.value, shown.spread), "-12.3 ± 1.4");
//! assert_eq!(shown.decimals, 1);
//! ```

mod parse;
mod round;

pub use parse::{UnitsError, parse, parse_distance_m};
pub use round::{Rounded, round_estimate};

use serde::{Deserialize, Serialize};

/// Millimetres in an inch, exact.
pub const MM_PER_INCH: f64 = 25.4;
/// Metres in a yard, exact.
pub const M_PER_YARD: f64 = 0.9144;
/// Metres in a foot, exact.
pub const M_PER_FOOT: f64 = 0.3048;
/// Kilograms in a grain, exact (7000 grains make a pound).
pub const KG_PER_GRAIN: f64 = 64.798_91e-6;
/// Kilograms in a pound, exact.
pub const KG_PER_POUND: f64 = 0.453_592_37;
/// Standard gravity, m/s^2, exact.
pub const STANDARD_GRAVITY_MPS2: f64 = 9.806_65;
/// Newtons in a pound-force, exact.
pub const N_PER_POUND_FORCE: f64 = 4.448_221_615_260_5;
/// Twenty yards in metres: the distance every response is stated at.
pub const TWENTY_YARDS_M: f64 = 18.288;

/// One unit of a quantity: how it is written and what it is worth.
#[derive(Debug, Clone, Copy)]
pub struct UnitRow<U: 'static> {
    /// The unit itself.
    pub unit: U,
    /// How the project writes it.
    pub symbol: &'static str,
    /// Base units in one of this unit, exact.
    pub base: f64,
    /// Decimals that a plain figure is written with.
    pub decimals: usize,
    /// Other ways people type it, lower case.
    pub also: &'static [&'static str],
}

/// A quantity with a closed set of units.
pub trait Unit: Copy + PartialEq + 'static {
    /// The quantity in words ("a length"), for errors.
    const QUANTITY: &'static str;
    /// Every unit; the first is the base unit.
    const ALL: &'static [UnitRow<Self>];

    /// The row of this unit.
    fn row(self) -> &'static UnitRow<Self> {
        Self::ALL
            .iter()
            .find(|row| row.unit == self)
            .unwrap_or(&Self::ALL[0])
    }

    /// `value` of this unit in base units.
    fn to_base(self, value: f64) -> f64 {
        value * self.row().base
    }

    /// A value in base units, in this unit.
    fn of_base(self, base: f64) -> f64 {
        base / self.row().base
    }

    /// How the project writes this unit.
    fn symbol(self) -> &'static str {
        self.row().symbol
    }
}

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $words:literal, { $($(#[$vdoc:meta])* $variant:ident:
        $symbol:literal, $base:expr, $decimals:literal, [$($also:literal),*];)+ }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
        #[serde(rename_all = "snake_case")]
        pub enum $name { $($(#[$vdoc])* $variant,)+ }

        impl Unit for $name {
            const QUANTITY: &'static str = $words;
            const ALL: &'static [UnitRow<Self>] = &[$(UnitRow {
                unit: Self::$variant, symbol: $symbol, base: $base, decimals: $decimals,
                also: &[$($also),*],
            },)+];
        }
    };
}

quantity!(
    /// A length; base unit mm. Distances are the same quantity, see [`parse_distance_m`].
    Length, "a length", {
    /// Millimetre.
    Millimetre: "mm", 1.0, 1, ["millimetre", "millimetres", "millimeter", "millimeters"];
    /// Centimetre.
    Centimetre: "cm", 10.0, 1, ["centimetre", "centimetres", "centimeter", "centimeters"];
    /// Metre.
    Metre: "m", 1000.0, 1, ["metre", "metres", "meter", "meters"];
    /// Inch.
    Inch: "in", MM_PER_INCH, 2, ["\"", "''", "inch", "inches", "in."];
    /// Foot.
    Foot: "ft", 304.8, 1, ["'", "foot", "feet", "ft."];
    /// Yard.
    Yard: "yd", 914.4, 1, ["yard", "yards", "yds", "yd.", "y"];
});

quantity!(
    /// A mass; base unit kg.
    Mass, "a mass", {
    /// Kilogram.
    Kilogram: "kg", 1.0, 2, ["kilo", "kilos", "kilogram", "kilograms"];
    /// Gram.
    Gram: "g", 1e-3, 2, ["gram", "grams", "gm"];
    /// Grain, 1/7000 lb.
    Grain: "gr", KG_PER_GRAIN, 0, ["grain", "grains", "grn", "gn", "gr."];
    /// Pound.
    Pound: "lb", KG_PER_POUND, 1, ["lbs", "pound", "pounds", "#", "lb.", "lbs."];
    /// Ounce.
    Ounce: "oz", KG_PER_POUND / 16.0, 2, ["ounce", "ounces"];
});

quantity!(
    /// A shaft's mass for its length; base unit kg/m.
    LinearDensity, "a shaft's mass for its length", {
    /// Kilogram per metre.
    KilogramPerMetre: "kg/m", 1.0, 4, ["kg m-1"];
    /// Gram per metre.
    GramPerMetre: "g/m", 1e-3, 1, ["g m-1"];
    /// Grain per inch, the trade's unit.
    GrainPerInch: "gr/in", KG_PER_GRAIN / (MM_PER_INCH * 1e-3), 1, ["gpi", "gr per inch", "grains per inch"];
});

quantity!(
    /// A speed; base unit m/s.
    Speed, "a speed", {
    /// Metre per second.
    MetrePerSecond: "m/s", 1.0, 1, ["mps", "m s-1", "ms", "m/sec"];
    /// Foot per second.
    FootPerSecond: "ft/s", M_PER_FOOT, 0, ["fps", "f/s", "ft/sec", "feet/s"];
});

quantity!(
    /// A force, such as draw weight; base unit N. A typed "lb" or "kg" is the weight of that mass.
    Force, "a draw weight", {
    /// Newton.
    Newton: "N", 1.0, 0, ["newton", "newtons"];
    /// Pound-force, the trade's draw weight.
    PoundForce: "lb", N_PER_POUND_FORCE, 1, ["lbs", "#", "lbf", "pound", "pounds", "lb.", "lbs."];
    /// Kilogram-force.
    KilogramForce: "kg", STANDARD_GRAVITY_MPS2, 1, ["kgf", "kp", "kilo", "kilos"];
});

quantity!(
    /// An energy; base unit J.
    Energy, "an energy", {
    /// Joule.
    Joule: "J", 1.0, 1, ["joule", "joules"];
    /// Foot-pound.
    FootPound: "ft·lb", N_PER_POUND_FORCE * M_PER_FOOT, 1, ["ft-lb", "ft lb", "ftlb", "ft-lbs", "ft lbs"];
});

quantity!(
    /// A momentum; base unit kg m/s.
    Momentum, "a momentum", {
    /// Kilogram metre per second.
    KilogramMetrePerSecond: "kg·m/s", 1.0, 3, ["kg m/s", "n s", "ns"];
    /// Slug foot per second (equal to a pound-force second).
    SlugFootPerSecond: "slug·ft/s", N_PER_POUND_FORCE, 3, ["slug ft/s", "slugs", "lb s"];
});

/// Which units a person reads.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum UnitSystem {
    /// Millimetres, metres, grams, metres per second.
    #[default]
    Metric,
    /// Inches, yards, grains, feet per second.
    Imperial,
}

impl UnitSystem {
    /// The unit of splits, tears, spacers and bow measures.
    pub fn length(self) -> Length {
        match self {
            Self::Metric => Length::Millimetre,
            Self::Imperial => Length::Inch,
        }
    }

    /// The unit of shooting distances.
    pub fn distance(self) -> Length {
        match self {
            Self::Metric => Length::Metre,
            Self::Imperial => Length::Yard,
        }
    }

    /// The unit of arrow masses.
    pub fn mass(self) -> Mass {
        match self {
            Self::Metric => Mass::Gram,
            Self::Imperial => Mass::Grain,
        }
    }

    /// The unit of arrow speeds.
    pub fn speed(self) -> Speed {
        match self {
            Self::Metric => Speed::MetrePerSecond,
            Self::Imperial => Speed::FootPerSecond,
        }
    }

    /// The unit of draw weights.
    pub fn force(self) -> Force {
        match self {
            Self::Metric => Force::Newton,
            Self::Imperial => Force::PoundForce,
        }
    }
}
