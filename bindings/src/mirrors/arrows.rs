//! Arrow set-ups.

use shimwright::flight::{ArrowFacts, ArrowFigure, ArrowSetup, Broadhead, Downrange, Vanes};
use shimwright::record::ArrowSetupRecord;

#[uniffi::remote(Record)]
pub struct ArrowSetup {
    pub shaft_length_mm: f64,
    pub diameter_mm: Option<f64>,
    pub total_mass_kg: Option<f64>,
    pub shaft_kg_per_m: Option<f64>,
    pub point_mass_kg: Option<f64>,
    pub insert_mass_kg: Option<f64>,
    pub nock_mass_kg: Option<f64>,
    pub balance_mm: Option<f64>,
    pub vanes: Option<Vanes>,
    pub broadhead: Option<Broadhead>,
    pub static_spine: Option<f64>,
    pub speed_mps: Option<f64>,
}

#[uniffi::remote(Record)]
pub struct Vanes {
    pub count: u32,
    pub length_mm: f64,
    pub height_mm: f64,
    pub sweep_mm: Option<f64>,
    pub from_nock_mm: f64,
    pub mass_kg: f64,
}

#[uniffi::remote(Record)]
pub struct Broadhead {
    pub blades: u32,
    pub cut_mm: f64,
    pub blade_mm: f64,
    pub mass_kg: Option<f64>,
}

#[uniffi::remote(Record)]
pub struct ArrowFacts {
    pub mass_kg: f64,
    pub mass_sd_kg: f64,
    pub bare_mass_kg: f64,
    pub balance_mm: f64,
    pub balance_sd_mm: f64,
    pub foc_percent: f64,
    pub foc_sd_percent: f64,
    pub bare_foc_percent: f64,
    pub stiffness_nm2: Option<f64>,
    pub speed_mps: f64,
    pub kinetic_energy_j: f64,
    pub kinetic_energy_sd_j: f64,
    pub momentum_kgmps: f64,
    pub momentum_sd_kgmps: f64,
    pub static_margin_mm: f64,
    pub broadhead_margin_mm: f64,
}

#[uniffi::remote(Record)]
pub struct Downrange {
    pub speed_mps: f64,
    pub speed_sd_mps: f64,
    pub drop_mm: f64,
    pub drop_sd_mm: f64,
    pub time_s: f64,
    pub kinetic_energy_j: f64,
}

#[uniffi::remote(Enum)]
pub enum ArrowFigure {
    ShaftLength,
    Diameter,
    TotalMass,
    ShaftMass,
    PointMass,
    InsertMass,
    NockMass,
    VaneCount,
    VaneLength,
    VaneHeight,
    VaneSweep,
    VanePlace,
    VaneMass,
    BladeCount,
    CutDiameter,
    BladeLength,
    BroadheadMass,
    StaticSpine,
    Speed,
}

#[uniffi::remote(Record)]
pub struct ArrowSetupRecord {
    pub id: i64,
    pub bow_id: i64,
    pub name: String,
    pub setup: ArrowSetup,
    pub archived_ms: Option<i64>,
}
