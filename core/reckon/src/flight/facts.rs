//! Figures of an arrow that a technician wants anyway.

use super::air::Air;
use super::arrow::{ArrowError, ArrowSetup};
use super::body::BodyData;
use super::kinds::{DRAG_DOUBT, Kinds, balance_doubt_m, mass_doubt};
use super::mass::foc_percent;
use super::motion::{Launch, MotionError, Passage, fly};
use crate::distance::{self, DistanceError};
use crate::frame::ArrowKind;
use crate::units::{MM_PER_INCH, STANDARD_GRAVITY_MPS2};
use serde::{Deserialize, Serialize};

/// What follows from an arrow set-up.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ArrowFacts {
    /// Mass of the fletched arrow, kg.
    pub mass_kg: f64,
    /// One standard deviation of it, kg: small where the arrow was weighed.
    pub mass_sd_kg: f64,
    /// Mass of the bare shaft, kg.
    pub bare_mass_kg: f64,
    /// Nock throat to balance point, mm.
    pub balance_mm: f64,
    /// One standard deviation of it, mm: small where it was measured.
    pub balance_sd_mm: f64,
    /// Front of centre, percent.
    pub foc_percent: f64,
    /// One standard deviation of it, percent points.
    pub foc_sd_percent: f64,
    /// Front of centre of the bare shaft, percent.
    pub bare_foc_percent: f64,
    /// Bending stiffness, N m^2, where the static spine is known.
    pub stiffness_nm2: Option<f64>,
    /// Speed at the string, m/s; a usual one where none was entered.
    pub speed_mps: f64,
    /// Kinetic energy at the string, J.
    pub kinetic_energy_j: f64,
    /// One standard deviation of it, J, from the mass alone.
    pub kinetic_energy_sd_j: f64,
    /// Momentum at the string, kg m/s.
    pub momentum_kgmps: f64,
    /// One standard deviation of it, kg m/s, from the mass alone.
    pub momentum_sd_kgmps: f64,
    /// How far the fletched arrow's centre of pressure lies behind its balance point, mm.
    pub static_margin_mm: f64,
    /// The same with the broadhead on, mm.
    pub broadhead_margin_mm: f64,
}

/// An arrow at a distance.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Downrange {
    /// Speed, m/s.
    pub speed_mps: f64,
    /// One standard deviation of it, m/s.
    pub speed_sd_mps: f64,
    /// How far it has fallen below the line it left on, mm.
    pub drop_mm: f64,
    /// One standard deviation of it, mm, from drag and mass; the speed at the string is taken as it is.
    pub drop_sd_mm: f64,
    /// Time since the string, s.
    pub time_s: f64,
    /// Kinetic energy, J.
    pub kinetic_energy_j: f64,
}

/// Why an arrow at a distance could not be computed.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum DownrangeError {
    /// The arrow.
    #[error(transparent)]
    Arrow(#[from] ArrowError),
    /// The distance.
    #[error(transparent)]
    Distance(#[from] DistanceError),
}

/// Facts of a set-up.
///
/// # Errors
/// [`ArrowError`] for an arrow that cannot be.
pub fn facts(setup: &ArrowSetup, air: Air) -> Result<ArrowFacts, ArrowError> {
    let kinds = Kinds::of(setup, air)?;
    let (fletched, bare) = (&kinds.fletched, &kinds.bare);
    let speed = kinds.speed_mps;
    let (mass_share, balance_sd_mm) = (mass_doubt(setup), balance_doubt_m(setup) * 1e3);
    let (energy, momentum) = (
        0.5 * fletched.mass_kg * speed * speed,
        fletched.mass_kg * speed,
    );
    Ok(ArrowFacts {
        mass_kg: fletched.mass_kg,
        mass_sd_kg: mass_share * fletched.mass_kg,
        bare_mass_kg: bare.mass_kg,
        balance_mm: fletched.balance_m * 1e3,
        balance_sd_mm,
        foc_percent: foc_percent(fletched.balance_m, fletched.length_m),
        foc_sd_percent: 100.0 * balance_sd_mm / setup.shaft_length_mm,
        bare_foc_percent: foc_percent(bare.balance_m, bare.length_m),
        stiffness_nm2: setup.static_spine.map(stiffness_nm2),
        speed_mps: speed,
        kinetic_energy_j: energy,
        kinetic_energy_sd_j: mass_share * energy,
        momentum_kgmps: momentum,
        momentum_sd_kgmps: mass_share * momentum,
        static_margin_mm: fletched.static_margin_m() * 1e3,
        broadhead_margin_mm: kinds.broadhead.static_margin_m() * 1e3,
    })
}

/// Bending stiffness of a static spine, N m^2: `EI = F L³ / 48 δ` with 880 g on a span of 28 in
/// (ASTM F2031).
pub fn stiffness_nm2(static_spine: f64) -> f64 {
    let force_n = 0.88 * STANDARD_GRAVITY_MPS2;
    let span_m = 28.0 * MM_PER_INCH / 1e3;
    let deflection_m = static_spine * MM_PER_INCH / 1e6;
    force_n * span_m.powi(3) / (48.0 * deflection_m)
}

/// An arrow of `kind`, shot level and without fault, at `distance_m` (0.5 to 100 m).
///
/// # Errors
/// [`DownrangeError`] for an impossible arrow or distance.
pub fn downrange(
    setup: &ArrowSetup,
    air: Air,
    kind: ArrowKind,
    distance_m: f64,
) -> Result<Downrange, DownrangeError> {
    let distance_m = distance::checked_m(distance_m)?;
    let kinds = Kinds::of(setup, air)?;
    let data = kinds.kind(kind);
    let there = level(data, kinds.speed_mps, distance_m)?;
    let mut heavy = data.clone();
    heavy.mass_kg *= 1.0 + mass_doubt(setup);
    let mut braked = data.clone();
    braked.drag_coefficient += DRAG_DOUBT;
    let doubted = [
        level(&heavy, kinds.speed_mps, distance_m)?,
        level(&braked, kinds.speed_mps, distance_m)?,
    ];
    let sd = |of: fn(&Passage) -> f64| {
        let off = doubted.each_ref().map(|other| of(other) - of(&there));
        off[0].hypot(off[1])
    };
    Ok(Downrange {
        speed_mps: there.speed_mps,
        speed_sd_mps: sd(|passage| passage.speed_mps),
        drop_mm: -there.point_mm,
        drop_sd_mm: sd(|passage| passage.point_mm),
        time_s: there.time_s,
        kinetic_energy_j: 0.5 * data.mass_kg * there.speed_mps.powi(2),
    })
}

/// One arrow, shot level and without fault.
fn level(data: &BodyData, speed_mps: f64, distance_m: f64) -> Result<Passage, ArrowError> {
    let launch = Launch {
        speed_mps,
        yaw_rad: 0.0,
        rate_radps: 0.0,
    };
    let passages = fly(&data.body().from_the_side(), launch, &[distance_m])?;
    let there = passages.first().copied();
    there.ok_or(ArrowError::Motion(MotionError::DoesNotArrive))
}
