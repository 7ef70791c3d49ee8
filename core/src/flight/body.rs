//! What the motion needs of an arrow: mass, balance, inertia and its lifting parts.

use super::fins::{FinRing, NOSE_SLOPE, OGIVE_CENTRE};
use crate::units::STANDARD_GRAVITY_MPS2;
use serde::{Deserialize, Serialize};
use std::f64::consts::PI;

/// Equal slices of the shaft for cross-flow.
pub(crate) const PANELS: usize = 60;

/// The numbers behind an arrow's motion, before the constants of the motion are drawn from them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BodyData {
    /// Mass, kg.
    pub mass_kg: f64,
    /// Moment of inertia about the balance point across the shaft, kg m^2.
    pub inertia_kgm2: f64,
    /// Nock throat to shaft end, m.
    pub length_m: f64,
    /// Shaft diameter, m.
    pub diameter_m: f64,
    /// Nock throat to balance point, m.
    pub balance_m: f64,
    /// How far the nose reaches beyond the shaft's end, m.
    pub nose_m: f64,
    /// Normal-force slope of the nose per radian on the frontal area.
    pub nose_slope: f64,
    /// Slope of further surfaces on the frontal area and their centre's distance from the nock
    /// throat, m: vanes, blades.
    pub fins: Vec<(f64, f64)>,
    /// Drag coefficient on the frontal area.
    pub drag_coefficient: f64,
    /// Drag coefficient of the shaft across its axis.
    pub cross_drag: f64,
    /// Skin-friction coefficient of the shaft.
    pub friction: f64,
    /// Air density, kg/m^3.
    pub density_kg_m3: f64,
}

impl BodyData {
    /// A ring of fins whose inner leading edge lies `leading_m` from the nock throat.
    pub fn ring(&self, ring: &FinRing, leading_m: f64) -> (f64, f64) {
        (ring.slope(self.diameter_m), leading_m - ring.centre_m())
    }

    /// Frontal area, m^2.
    pub fn area_m2(&self) -> f64 {
        PI * self.diameter_m * self.diameter_m / 4.0
    }

    /// Centre of pressure behind the balance point at small angles, m: the static margin.
    pub fn static_margin_m(&self) -> f64 {
        let body = self.body();
        let slope: f64 = body.surfaces.iter().map(|s| s.strength).sum();
        let moment: f64 = body.surfaces.iter().map(|s| s.strength * s.xi_m).sum();
        -moment / slope
    }

    /// The constants of the motion.
    pub fn body(&self) -> Body {
        let pressure = 0.5 * self.density_kg_m3;
        let nose_xi = self.length_m - self.balance_m + self.nose_m * (1.0 - OGIVE_CENTRE);
        let strength = |slope: f64| pressure * self.area_m2() * slope;
        let nose = Surface {
            strength: strength(self.nose_slope),
            xi_m: nose_xi,
        };
        let fins = self.fins.iter().map(|(slope, from_nock_m)| Surface {
            strength: strength(*slope),
            xi_m: from_nock_m - self.balance_m,
        });
        let slice = self.length_m / PANELS as f64;
        let panel = pressure * self.diameter_m * slice;
        Body {
            mass_kg: self.mass_kg,
            inertia_kgm2: self.inertia_kgm2,
            length_m: self.length_m,
            balance_m: self.balance_m,
            nose_m: self.nose_m,
            drag: pressure * self.area_m2() * self.drag_coefficient,
            separated: panel * self.cross_drag,
            viscous: panel * PI * self.friction,
            surfaces: std::iter::once(nose).chain(fins).collect(),
            slices: std::array::from_fn(|i| (i as f64 + 0.5) * slice - self.balance_m),
            gravity_mps2: 0.0,
        }
    }
}

impl Default for BodyData {
    /// The base arrow without vanes: 400 gr, 29 in, 6 mm, balance 12 % forward, sea-level air.
    fn default() -> Self {
        Self {
            mass_kg: 0.025_919_564,
            inertia_kgm2: 1.860_585_776_180_295e-3,
            length_m: 0.7366,
            diameter_m: 0.006,
            balance_m: 0.456_692,
            nose_m: 0.022_86,
            nose_slope: NOSE_SLOPE,
            fins: Vec::new(),
            drag_coefficient: 2.0,
            cross_drag: 1.2,
            friction: 0.003_5,
            density_kg_m3: super::air::SEA_LEVEL_KG_M3,
        }
    }
}

/// A lifting part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Surface {
    /// `rho S CN / 2`, kg/m.
    pub(crate) strength: f64,
    /// Ahead of the balance point, m.
    pub(crate) xi_m: f64,
}

/// Constants of the motion of one arrow in one air.
#[derive(Debug, Clone, PartialEq)]
pub struct Body {
    pub(crate) mass_kg: f64,
    pub(crate) inertia_kgm2: f64,
    pub(crate) length_m: f64,
    pub(crate) balance_m: f64,
    pub(crate) nose_m: f64,
    /// `rho S CD / 2`, kg/m.
    pub(crate) drag: f64,
    /// `rho d dl cdc / 2` of one slice.
    pub(crate) separated: f64,
    /// `rho d dl π cf / 2` of one slice.
    pub(crate) viscous: f64,
    pub(crate) surfaces: Vec<Surface>,
    pub(crate) slices: [f64; PANELS],
    /// Pull towards negative y, m/s^2: zero seen from above.
    pub(crate) gravity_mps2: f64,
}

impl Body {
    /// The same arrow seen from the side: y is up and gravity pulls it down.
    #[must_use]
    pub fn from_the_side(self) -> Self {
        Self {
            gravity_mps2: STANDARD_GRAVITY_MPS2,
            ..self
        }
    }
}
