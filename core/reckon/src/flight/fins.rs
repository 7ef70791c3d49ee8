//! Slopes and centres of pressure of fins and noses: J. S. and J. A. Barrowman, The Theoretical
//! Prediction of the Center of Pressure, NARAM-8 (1966).

use serde::{Deserialize, Serialize};

/// A ring of equal flat fins on a round shaft.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FinRing {
    /// How many, at least 1; two or more are taken as averaged over the arrow's roll.
    pub count: u32,
    /// Chord along the shaft, m.
    pub root_m: f64,
    /// Chord at the outer edge, m.
    pub tip_m: f64,
    /// Height over the shaft's surface, m.
    pub height_m: f64,
    /// How far the outer leading edge lies behind the inner one, m.
    pub sweep_m: f64,
}

impl FinRing {
    /// Normal-force slope per radian of one fin in its own plane, on the shaft's frontal area,
    /// without the shaft's influence.
    pub fn one_fin_slope(&self, diameter_m: f64) -> f64 {
        let middle = self.sweep_m + (self.tip_m - self.root_m) / 2.0;
        let mid_chord = self.height_m.hypot(middle);
        let slender = 2.0 * mid_chord / (self.root_m + self.tip_m);
        8.0 * (self.height_m / diameter_m).powi(2) / (1.0 + 1.0_f64.hypot(slender))
    }

    /// Normal-force slope per radian of the ring on the shaft's frontal area, with the shaft's
    /// influence `1 + r / (r + s)`; half a fin's slope each, which is a ring's mean over roll.
    pub fn slope(&self, diameter_m: f64) -> f64 {
        let radius = diameter_m / 2.0;
        let influence = 1.0 + radius / (radius + self.height_m);
        f64::from(self.count) / 2.0 * self.one_fin_slope(diameter_m) * influence
    }

    /// Centre of pressure behind the inner leading edge, m.
    pub fn centre_m(&self) -> f64 {
        let (root, tip) = (self.root_m, self.tip_m);
        let sum = root + tip;
        self.sweep_m / 3.0 * (root + 2.0 * tip) / sum + (sum - root * tip / sum) / 6.0
    }
}

/// Normal-force slope per radian of any pointed nose on its base area.
pub const NOSE_SLOPE: f64 = 2.0;
/// Centre of pressure of an ogive nose behind its tip, in nose lengths.
pub const OGIVE_CENTRE: f64 = 0.466;
