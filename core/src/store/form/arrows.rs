//! An arrow set-up.

use serde::{Deserialize, Serialize};

use super::{Form, form};
use crate::flight::{ArrowSetup, Broadhead, Vanes};

form!(StoredArrows of ArrowSetup {
    shaft_length_mm: f64,
    diameter_mm: Option<f64>,
    total_mass_kg: Option<f64>,
    shaft_kg_per_m: Option<f64>,
    point_mass_kg: Option<f64>,
    insert_mass_kg: Option<f64>,
    nock_mass_kg: Option<f64>,
    balance_mm: Option<f64>,
    vanes: Option<StoredVanes>,
    broadhead: Option<StoredBroadhead>,
    static_spine: Option<f64>,
    speed_mps: Option<f64>,
});
form!(StoredVanes of Vanes {
    count: u32,
    length_mm: f64,
    height_mm: f64,
    sweep_mm: Option<f64>,
    from_nock_mm: f64,
    mass_kg: f64,
});
form!(StoredBroadhead of Broadhead {
    blades: u32,
    cut_mm: f64,
    blade_mm: f64,
    mass_kg: Option<f64>,
});
