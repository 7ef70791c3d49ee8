//! Air: ISO 2533 standard atmosphere and the CIPM-2007 density of moist air.

use serde::{Deserialize, Serialize};

/// Density at sea level, 15 °C, dry, kg/m^3 (ISO 2533).
pub const SEA_LEVEL_KG_M3: f64 = 1.225;
/// Earth's nominal radius of ISO 2533, m.
const EARTH_RADIUS_M: f64 = 6_356_766.0;
/// Molar gas constant of CIPM-2007, J/(mol K).
const GAS_CONSTANT: f64 = 8.314_472;
/// Molar mass of dry air at 400 ppm carbon dioxide, kg/mol (CIPM-2007).
const DRY_AIR_KG_MOL: f64 = 28.965_46e-3;
/// Molar mass of water, kg/mol (CIPM-2007).
const WATER_KG_MOL: f64 = 18.015_28e-3;

/// The air an arrow flies through.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Air {
    /// Density, kg/m^3, 0.5 to 1.6.
    pub density_kg_m3: f64,
}

impl Default for Air {
    fn default() -> Self {
        Self {
            density_kg_m3: SEA_LEVEL_KG_M3,
        }
    }
}

/// Weather or height out of the range that the formulas hold for.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum AirError {
    /// Height.
    #[error(
        "{altitude_m} m as height above the sea is outside -500 to 6000 m; check the number and its unit"
    )]
    Altitude {
        /// What was given, m above sea level.
        altitude_m: f64,
    },
    /// Temperature.
    #[error(
        "{temperature_c} °C as temperature is outside -40 to 50 °C; check the number and its unit"
    )]
    Temperature {
        /// What was given, °C.
        temperature_c: f64,
    },
    /// Humidity.
    #[error("{humidity} as relative humidity is outside 0 to 1; enter it as a share, 0.5 for 50 %")]
    Humidity {
        /// What was given, 1 = saturated.
        humidity: f64,
    },
}

impl Air {
    /// Air at a height above sea level (-500 to 6000 m), a temperature (-40 to 50 °C) and a
    /// relative humidity (0 to 1): standard pressure of the height, CIPM-2007 density.
    ///
    /// # Errors
    /// [`AirError`] outside those ranges.
    pub fn at(altitude_m: f64, temperature_c: f64, humidity: f64) -> Result<Self, AirError> {
        if !(-500.0..=6000.0).contains(&altitude_m) {
            return Err(AirError::Altitude { altitude_m });
        }
        if !(-40.0..=50.0).contains(&temperature_c) {
            return Err(AirError::Temperature { temperature_c });
        }
        if !(0.0..=1.0).contains(&humidity) {
            return Err(AirError::Humidity { humidity });
        }
        let pressure_pa = standard_pressure_pa(geopotential_m(altitude_m));
        Ok(Self {
            density_kg_m3: moist_density_kg_m3(temperature_c, pressure_pa, humidity),
        })
    }
}

/// Geopotential height of a geometric height, m (ISO 2533, 2.3).
pub fn geopotential_m(altitude_m: f64) -> f64 {
    EARTH_RADIUS_M * altitude_m / (EARTH_RADIUS_M + altitude_m)
}

/// Ratio of standard temperature at a geopotential height below 11 km to that at sea level.
fn temperature_ratio(geopotential_m: f64) -> f64 {
    1.0 - 6.5e-3 * geopotential_m / 288.15
}

/// Exponent `g0 / (R L)` of ISO 2533's pressure.
fn pressure_exponent() -> f64 {
    9.806_65 / (287.052_87 * 6.5e-3)
}

/// Standard pressure at a geopotential height below 11 km, Pa.
pub fn standard_pressure_pa(geopotential_m: f64) -> f64 {
    101_325.0 * temperature_ratio(geopotential_m).powf(pressure_exponent())
}

/// Density of moist air, kg/m^3: A. Picard, R. S. Davis, M. Gläser, K. Fujii, Metrologia 45
/// (2008) 149-155 (CIPM-2007), at 400 ppm of carbon dioxide. `humidity` is 0 to 1.
pub fn moist_density_kg_m3(temperature_c: f64, pressure_pa: f64, humidity: f64) -> f64 {
    let kelvin = temperature_c + 273.15;
    let saturation_pa = (1.237_884_7e-5 * kelvin * kelvin - 1.912_131_6e-2 * kelvin
        + 33.937_110_47
        - 6.343_164_5e3 / kelvin)
        .exp();
    let enhancement = 1.000_62 + 3.14e-8 * pressure_pa + 5.6e-7 * temperature_c * temperature_c;
    let vapour = humidity * enhancement * saturation_pa / pressure_pa;
    let lighter = 1.0 - WATER_KG_MOL / DRY_AIR_KG_MOL;
    let z = compressibility(temperature_c, pressure_pa, vapour);
    pressure_pa * DRY_AIR_KG_MOL / (z * GAS_CONSTANT * kelvin) * (1.0 - lighter * vapour)
}

fn compressibility(temperature_c: f64, pressure_pa: f64, vapour: f64) -> f64 {
    let t = temperature_c;
    let ratio = pressure_pa / (t + 273.15);
    let first = 1.581_23e-6 - 2.9331e-8 * t
        + 1.1043e-10 * t * t
        + (5.707e-6 - 2.051e-8 * t) * vapour
        + (1.9898e-4 - 2.376e-6 * t) * vapour * vapour;
    1.0 - ratio * first + ratio * ratio * (1.83e-11 - 0.765e-8 * vapour * vapour)
}
