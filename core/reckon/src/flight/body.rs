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
            slices: Slices::of(self.length_m, self.balance_m),
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

/// Six places on `[-1, 1]` and their weights that sum any polynomial up to degree 11 over the middles
/// of 60 equal slices exactly (Gauss's rule for that discrete measure, by Stieltjes' recurrence).
/// Skin friction is smooth along the shaft, so six places stand for sixty to the last digit.
pub(crate) const PLACES: [(f64, f64); 6] = [
    (-0.931_319_317_503_532_8, 0.086_368_405_893_645_2),
    (-0.660_028_883_849_532_6, 0.180_105_114_044_874_3),
    (-0.238_177_294_365_596, 0.233_526_480_061_480_6),
    (0.238_177_294_365_596, 0.233_526_480_061_480_6),
    (0.660_028_883_849_532_6, 0.180_105_114_044_874_3),
    (0.931_319_317_503_532_8, 0.086_368_405_893_645_2),
];

/// Power sums of the slices' places: how many, and the sums of `xi`, `xi²`, `xi³`.
type Sums = [f64; 4];

/// The slices of a shaft for cross-flow.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Slices {
    /// Place of the first, ahead of the balance point, m.
    first_m: f64,
    /// Length of one, m.
    each_m: f64,
    /// Middle and half length of the shaft, m.
    middle_m: f64,
    half_m: f64,
    /// Sums over the first so many slices.
    below: [Sums; PANELS + 1],
}

impl Slices {
    fn of(length_m: f64, balance_m: f64) -> Self {
        let each_m = length_m / PANELS as f64;
        let first_m = 0.5 * each_m - balance_m;
        let mut below = [[0.0; 4]; PANELS + 1];
        let mut sums = [0.0; 4];
        for (i, below) in below.iter_mut().skip(1).enumerate() {
            let xi = first_m + i as f64 * each_m;
            for (sum, term) in sums.iter_mut().zip([1.0, xi, xi * xi, xi * xi * xi]) {
                *sum += term;
            }
            *below = sums;
        }
        Self {
            first_m,
            each_m,
            middle_m: length_m / 2.0 - balance_m,
            half_m: length_m / 2.0,
            below,
        }
    }

    /// Sums over the slices of `w |w|` and `xi w |w|` for `w = across + om xi`. Flow changes sides
    /// at one place at most, so two ranges of power sums give what adding up sixty slices gives.
    pub(crate) fn separated(&self, across: f64, om: f64) -> (f64, f64) {
        let all = &self.below[PANELS];
        let (whole, whole_moment) = squares(all, across, om);
        if om == 0.0 {
            let sign = across.signum();
            return (sign * whole, sign * whole_moment);
        }
        let slices_below = ((-across / om - self.first_m) / self.each_m).ceil();
        let part = &self.below[(slices_below.max(0.0) as usize).min(PANELS)];
        let (low, low_moment) = squares(part, across, om);
        let sign = om.signum();
        (
            sign * (whole - 2.0 * low),
            sign * (whole_moment - 2.0 * low_moment),
        )
    }

    /// Sums over the slices of `w V` and `xi w V` with `V² = along² + w²`.
    pub(crate) fn viscous(&self, along: f64, across: f64, om: f64) -> (f64, f64) {
        let (mut force, mut moment) = (0.0, 0.0);
        for (place, weight) in PLACES {
            let xi = self.middle_m + self.half_m * place;
            let w = across + om * xi;
            let pull = weight * w * (along * along + w * w).sqrt();
            force += pull;
            moment += pull * xi;
        }
        (force * PANELS as f64, moment * PANELS as f64)
    }
}

/// Sums of `w²` and `xi w²` from power sums.
fn squares(sums: &Sums, across: f64, om: f64) -> (f64, f64) {
    let [count, first, second, third] = *sums;
    let (aa, ab, bb) = (across * across, 2.0 * across * om, om * om);
    (
        aa * count + ab * first + bb * second,
        aa * first + ab * second + bb * third,
    )
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
    pub(crate) slices: Slices,
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

#[cfg(test)]
mod tests {
    use super::*;

    /// Power sums and six places give what adding up sixty slices gives.
    #[test]
    fn short_sums_equal_the_long_ones() {
        let slices = Slices::of(0.7366, 0.4567);
        for (along, across, om) in [
            (85.0, 3.0, 0.0),
            (85.0, -3.0, 12.0),
            (85.0, 1.0, -9.0),
            (60.0, 8.0, 40.0),
            (85.0, 0.0, 0.0),
        ] {
            let mut long = [0.0; 4];
            for i in 0..PANELS {
                let xi = slices.first_m + i as f64 * slices.each_m;
                let w: f64 = across + om * xi;
                let smooth = w * f64::hypot(along, w);
                for (sum, term) in
                    long.iter_mut()
                        .zip([w * w.abs(), xi * w * w.abs(), smooth, xi * smooth])
                {
                    *sum += term;
                }
            }
            let (a, b) = slices.separated(across, om);
            let (c, d) = slices.viscous(along, across, om);
            for (short, long) in [a, b, c, d].into_iter().zip(long) {
                assert!(
                    (short - long).abs() <= 1e-10 * long.abs().max(1.0),
                    "{short} {long}"
                );
            }
        }
    }
}
