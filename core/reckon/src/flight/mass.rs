//! Where an arrow's mass lies: a uniform shaft with its fittings at their places.

use super::arrow::{ArrowError, ArrowSetup, Vanes};

/// Usual parts of a 400 gr arrow (common practice, no source), kg and kg/m.
const POINT_KG: f64 = 6.48e-3;
const INSERT_KG: f64 = 0.78e-3;
const NOCK_KG: f64 = 0.52e-3;
const SHAFT_KG_PER_M: f64 = 22.8e-3;
/// A point's centre of mass lies this far beyond the shaft's end, m.
const POINT_AHEAD_M: f64 = 0.003;
/// A broadhead's lies farther out, m.
const HEAD_AHEAD_M: f64 = 0.015;
/// Least mass per length that a shaft can have, kg/m (the lightest made are about 10 g/m).
const LIGHTEST_SHAFT_KG_PER_M: f64 = 5e-3;

/// Masses of the parts, kg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Parts {
    length_m: f64,
    shaft: f64,
    /// Point and insert, at the front.
    front: f64,
    nock: f64,
    vanes: f64,
    vanes_at_m: f64,
    /// Mass that a broadhead adds to the front.
    head_extra: f64,
}

/// Mass, balance point from the nock throat, and inertia about it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct MassLine {
    pub(crate) mass_kg: f64,
    pub(crate) balance_m: f64,
    pub(crate) inertia_kgm2: f64,
}

impl Parts {
    /// The parts of a checked set-up. What is not given is what the total leaves: first the insert,
    /// which differs most between arrows, then the shaft. A measured balance point moves mass
    /// between shaft and front until the arrow balances there.
    pub(crate) fn of(setup: &ArrowSetup) -> Result<Self, ArrowError> {
        let length_m = setup.shaft_length_mm / 1e3;
        let vanes = setup.vanes.unwrap_or_default();
        let point = setup.point_mass_kg.unwrap_or(POINT_KG);
        let nock = setup.nock_mass_kg.unwrap_or(NOCK_KG);
        let vane_mass = f64::from(vanes.count) * vanes.mass_kg;
        let shaft = setup.shaft_kg_per_m.map(|m| m * length_m);
        let usual_shaft = SHAFT_KG_PER_M * length_m;
        let rest = setup
            .total_mass_kg
            .map(|total| total - point - nock - vane_mass);
        let (insert, shaft) = match (rest, setup.insert_mass_kg, shaft) {
            (Some(rest), Some(insert), _) => (insert, rest - insert),
            (Some(rest), None, Some(shaft)) => (rest - shaft, shaft),
            (Some(rest), None, None) => (INSERT_KG, rest - INSERT_KG),
            (None, insert, shaft) => (insert.unwrap_or(INSERT_KG), shaft.unwrap_or(usual_shaft)),
        };
        let head = setup.broadhead.and_then(|b| b.mass_kg);
        let parts = Self {
            length_m,
            shaft,
            front: point + insert,
            nock,
            vanes: vane_mass,
            vanes_at_m: vanes_at_m(&vanes),
            head_extra: head.map_or(0.0, |head| head - point),
        };
        parts.sound()?;
        match setup.balance_mm {
            Some(balance_mm) => parts.balanced_at(balance_mm / 1e3),
            None => parts.with_sound_balance(),
        }
    }

    fn sound(&self) -> Result<(), ArrowError> {
        let least = LIGHTEST_SHAFT_KG_PER_M * self.length_m;
        if self.shaft < least || self.front <= 0.0 {
            let shaft_kg = self.shaft.min(self.front);
            return Err(ArrowError::PartsOutweighArrow { shaft_kg });
        }
        Ok(())
    }

    fn with_sound_balance(self) -> Result<Self, ArrowError> {
        let foc_percent = foc_percent(self.fletched().balance_m, self.length_m);
        if (0.0..=40.0).contains(&foc_percent) {
            Ok(self)
        } else {
            Err(ArrowError::Balance { foc_percent })
        }
    }

    fn balanced_at(self, balance_m: f64) -> Result<Self, ArrowError> {
        let foc = foc_percent(balance_m, self.length_m);
        if !(0.0..=40.0).contains(&foc) {
            return Err(ArrowError::Balance { foc_percent: foc });
        }
        let now = self.fletched();
        let lever = self.length_m + POINT_AHEAD_M - self.length_m / 2.0;
        let moved = now.mass_kg * (balance_m - now.balance_m) / lever;
        let parts = Self {
            shaft: self.shaft - moved,
            front: self.front + moved,
            ..self
        };
        parts.sound()?;
        Ok(parts)
    }

    /// With vanes and field point.
    pub(crate) fn fletched(&self) -> MassLine {
        self.line(self.vanes, 0.0)
    }

    /// Without vanes.
    pub(crate) fn bare(&self) -> MassLine {
        self.line(0.0, 0.0)
    }

    /// With vanes and broadhead.
    pub(crate) fn broadhead(&self) -> MassLine {
        self.line(self.vanes, HEAD_AHEAD_M - POINT_AHEAD_M)
    }

    fn line(&self, vanes: f64, head_m: f64) -> MassLine {
        let extra = if head_m > 0.0 { self.head_extra } else { 0.0 };
        let front_m = self.length_m + POINT_AHEAD_M + head_m;
        let places = [
            (self.front + extra, front_m),
            (self.nock, 0.0),
            (vanes, self.vanes_at_m),
            (self.shaft, self.length_m / 2.0),
        ];
        let mass_kg: f64 = places.iter().map(|(m, _)| m).sum();
        let balance_m = places.iter().map(|(m, x)| m * x).sum::<f64>() / mass_kg;
        let about: f64 = places
            .iter()
            .map(|(m, x)| m * (x - balance_m).powi(2))
            .sum();
        MassLine {
            mass_kg,
            balance_m,
            inertia_kgm2: about + self.shaft * self.length_m.powi(2) / 12.0,
        }
    }
}

/// Middle of the vanes from the nock throat, m.
fn vanes_at_m(vanes: &Vanes) -> f64 {
    (vanes.from_nock_mm + 0.45 * vanes.length_mm) / 1e3
}

/// Front of centre, percent: how far the balance point lies ahead of the middle between nock
/// throat and shaft end, in lengths of that (ASTM F1435's length basis; formula from memory).
pub fn foc_percent(balance_m: f64, length_m: f64) -> f64 {
    100.0 * (balance_m / length_m - 0.5)
}
