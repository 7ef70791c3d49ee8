//! An arrow as a technician describes it.

use serde::{Deserialize, Serialize};

/// Vanes of a fletched arrow.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Vanes {
    /// How many, 2 to 6.
    pub count: u32,
    /// Length along the shaft, mm, 15 to 150.
    pub length_mm: f64,
    /// Height over the shaft, mm, 4 to 25.
    pub height_mm: f64,
    /// How far the top's front edge lies behind the bottom's, mm; 0.6 of the length when unknown.
    pub sweep_mm: Option<f64>,
    /// Nock throat to the vane's rear edge, mm, 5 to 120.
    pub from_nock_mm: f64,
    /// Mass of one vane with its glue, kg, 0.05 to 3 g.
    pub mass_kg: f64,
}

impl Default for Vanes {
    /// Three vanes of 2.0 x 0.50 in, an inch from the nock throat, 7 gr each.
    fn default() -> Self {
        Self {
            count: 3,
            length_mm: 50.8,
            height_mm: 12.7,
            sweep_mm: None,
            from_nock_mm: 25.4,
            mass_kg: 4.54e-4,
        }
    }
}

/// A fixed-blade broadhead.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Broadhead {
    /// Blades, 2 to 6.
    pub blades: u32,
    /// Diameter of the cut, mm, 15 to 60.
    pub cut_mm: f64,
    /// Length of a blade along the shaft, mm, 10 to 80.
    pub blade_mm: f64,
    /// Mass, kg, 3 to 40 g; the field point's when unknown, as is common practice.
    pub mass_kg: Option<f64>,
}

impl Default for Broadhead {
    /// Three blades, 1 1/16 in cut, an inch long, as heavy as the field point.
    fn default() -> Self {
        Self {
            blades: 3,
            cut_mm: 27.0,
            blade_mm: 25.4,
            mass_kg: None,
        }
    }
}

/// An arrow as a technician describes it. Only the shaft's length must be known: the rest is taken
/// from a usual 400 gr arrow and widens every uncertainty that depends on it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ArrowSetup {
    /// Nock throat to the end of the shaft, point not counted, mm, 400 to 900.
    pub shaft_length_mm: f64,
    /// Shaft diameter, mm, 3.5 to 12.
    pub diameter_mm: Option<f64>,
    /// Mass of the whole fletched arrow with its field point, kg, 8 to 80 g.
    pub total_mass_kg: Option<f64>,
    /// Shaft alone, kg per m ("grains per inch"), 0.008 to 0.06.
    pub shaft_kg_per_m: Option<f64>,
    /// Field point, kg, 3 to 40 g.
    pub point_mass_kg: Option<f64>,
    /// Insert or outsert, kg, 0 to 15 g.
    pub insert_mass_kg: Option<f64>,
    /// Nock with its bushing, kg, 0.2 to 5 g.
    pub nock_mass_kg: Option<f64>,
    /// Nock throat to where the fletched arrow balances, mm.
    pub balance_mm: Option<f64>,
    /// Vanes.
    pub vanes: Option<Vanes>,
    /// Broadhead.
    pub broadhead: Option<Broadhead>,
    /// Static spine: deflection in thousandths of an inch, 28 in span, 880 g (ASTM F2031), 150 to
    /// 2000.
    pub static_spine: Option<f64>,
    /// Speed at the string, m/s, 30 to 130.
    pub speed_mps: Option<f64>,
}

impl Default for ArrowSetup {
    fn default() -> Self {
        Self {
            shaft_length_mm: 736.6,
            diameter_mm: None,
            total_mass_kg: None,
            shaft_kg_per_m: None,
            point_mass_kg: None,
            insert_mass_kg: None,
            nock_mass_kg: None,
            balance_mm: None,
            vanes: None,
            broadhead: None,
            static_spine: None,
            speed_mps: None,
        }
    }
}

/// A figure of an arrow that can be out of range.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ArrowFigure {
    /// Shaft length, mm.
    ShaftLength,
    /// Shaft diameter, mm.
    Diameter,
    /// Total mass, kg.
    TotalMass,
    /// Shaft mass per length, kg/m.
    ShaftMass,
    /// Point mass, kg.
    PointMass,
    /// Insert mass, kg.
    InsertMass,
    /// Nock mass, kg.
    NockMass,
    /// Vane count.
    VaneCount,
    /// Vane length, mm.
    VaneLength,
    /// Vane height, mm.
    VaneHeight,
    /// Vane sweep, mm.
    VaneSweep,
    /// Nock to vane, mm.
    VanePlace,
    /// Mass of one vane, kg.
    VaneMass,
    /// Blade count.
    BladeCount,
    /// Cut diameter, mm.
    CutDiameter,
    /// Blade length, mm.
    BladeLength,
    /// Broadhead mass, kg.
    BroadheadMass,
    /// Static spine.
    StaticSpine,
    /// Speed, m/s.
    Speed,
}

impl ArrowFigure {
    /// What it is called, its unit, and its range.
    fn limits(self) -> (&'static str, &'static str, f64, f64) {
        match self {
            Self::ShaftLength => ("shaft length", " mm", 400.0, 900.0),
            Self::Diameter => ("shaft diameter", " mm", 3.5, 12.0),
            Self::TotalMass => ("arrow mass", " kg", 0.008, 0.08),
            Self::ShaftMass => ("shaft mass", " kg/m", 0.008, 0.06),
            Self::PointMass => ("point mass", " kg", 0.003, 0.04),
            Self::InsertMass => ("insert mass", " kg", 0.0, 0.015),
            Self::NockMass => ("nock mass", " kg", 0.0002, 0.005),
            Self::VaneCount => ("number of vanes", "", 2.0, 6.0),
            Self::VaneLength => ("vane length", " mm", 15.0, 150.0),
            Self::VaneHeight => ("vane height", " mm", 4.0, 25.0),
            Self::VaneSweep => ("vane sweep", " mm", 0.0, 150.0),
            Self::VanePlace => ("distance from nock to vane", " mm", 5.0, 120.0),
            Self::VaneMass => ("mass of one vane", " kg", 0.000_05, 0.003),
            Self::BladeCount => ("number of blades", "", 2.0, 6.0),
            Self::CutDiameter => ("cut diameter", " mm", 15.0, 60.0),
            Self::BladeLength => ("blade length", " mm", 10.0, 80.0),
            Self::BroadheadMass => ("broadhead mass", " kg", 0.003, 0.04),
            Self::StaticSpine => ("static spine", "", 150.0, 2000.0),
            Self::Speed => ("arrow speed", " m/s", 30.0, 130.0),
        }
    }

    fn check(self, value: f64) -> Result<(), ArrowError> {
        let (_, _, low, high) = self.limits();
        if (low..=high).contains(&value) {
            Ok(())
        } else {
            Err(ArrowError::OutOfRange {
                figure: self,
                value,
                low,
                high,
            })
        }
    }
}

/// Why an arrow was refused.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum ArrowError {
    /// A figure no arrow has.
    #[error("{value}{unit} as {} is outside {low} to {high}{unit}; check the number and its unit",
        figure.limits().0, unit = figure.limits().1)]
    OutOfRange {
        /// Which figure.
        figure: ArrowFigure,
        /// What was given, in the figure's own unit.
        value: f64,
        /// Lowest accepted.
        low: f64,
        /// Highest accepted.
        high: f64,
    },
    /// The parts leave nothing for the shaft.
    #[error("the parts leave {:.1} g for the shaft, which cannot be; check the masses of arrow, point, insert and vanes", shaft_kg * 1e3)]
    PartsOutweighArrow {
        /// What would be left for the shaft, kg.
        shaft_kg: f64,
    },
    /// The balance point lies where no arrow has it.
    #[error(
        "this balance point is {foc_percent:.0} % forward of centre, outside 0 to 40 %; measure it from the nock's throat"
    )]
    Balance {
        /// Front of centre, percent of the shaft's length.
        foc_percent: f64,
    },
    /// A launch fault would not part this bare shaft from the fletched arrow.
    #[error(
        "a bare shaft of this arrow would land with the fletched ones whatever the bow does and cannot show a fault; check its figures"
    )]
    BareShowsNothing,
    /// The arrow does not fly.
    #[error(transparent)]
    Motion(#[from] super::motion::MotionError),
}

impl ArrowSetup {
    /// A usual arrow with vanes and a broadhead, to start from where nothing was entered.
    pub fn usual() -> Self {
        Self {
            vanes: Some(Vanes::default()),
            broadhead: Some(Broadhead::default()),
            ..Self::default()
        }
    }

    /// Passes an arrow whose every figure is one that arrows have.
    ///
    /// # Errors
    /// [`ArrowError::OutOfRange`] for the first that is not.
    pub fn check(&self) -> Result<(), ArrowError> {
        use ArrowFigure as F;
        F::ShaftLength.check(self.shaft_length_mm)?;
        for (figure, value) in [
            (F::Diameter, self.diameter_mm),
            (F::TotalMass, self.total_mass_kg),
            (F::ShaftMass, self.shaft_kg_per_m),
            (F::PointMass, self.point_mass_kg),
            (F::InsertMass, self.insert_mass_kg),
            (F::NockMass, self.nock_mass_kg),
            (F::StaticSpine, self.static_spine),
            (F::Speed, self.speed_mps),
            (F::BroadheadMass, self.broadhead.and_then(|b| b.mass_kg)),
        ] {
            value.map_or(Ok(()), |v| figure.check(v))?;
        }
        self.vanes.map_or(Ok(()), check_vanes)?;
        self.broadhead.map_or(Ok(()), check_broadhead)
    }
}

fn check_vanes(vanes: Vanes) -> Result<(), ArrowError> {
    use ArrowFigure as F;
    F::VaneCount.check(f64::from(vanes.count))?;
    F::VaneLength.check(vanes.length_mm)?;
    F::VaneHeight.check(vanes.height_mm)?;
    F::VaneSweep.check(vanes.sweep_mm.unwrap_or(0.0))?;
    F::VanePlace.check(vanes.from_nock_mm)?;
    F::VaneMass.check(vanes.mass_kg)
}

fn check_broadhead(head: Broadhead) -> Result<(), ArrowError> {
    use ArrowFigure as F;
    F::BladeCount.check(f64::from(head.blades))?;
    F::CutDiameter.check(head.cut_mm)?;
    F::BladeLength.check(head.blade_mm)
}
