//! Everything one verdict is computed from.

use serde::{Deserialize, Serialize};

use super::Checked;
use crate::evidence::{Probe, TrialEvidence};
use crate::spacer::{AxleGeometry, Fitting, Kit, Stock};

/// One bow's case: the kit, what is fitted, what the user wants, and all that was shot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Case {
    /// The kit that fits the bow.
    pub kit: Kit,
    /// The pieces this bow may draw on; without it every pair is taken to be at hand twice.
    #[serde(default)]
    pub stock: Option<Stock>,
    /// The bow as it stands now.
    pub bow: BowState,
    /// What the user wants.
    #[serde(default)]
    pub settings: Settings,
    /// Every trial of this bow, in any order.
    #[serde(default)]
    pub trials: Vec<TrialEvidence>,
    /// Set-up checks that are open or failed (passed ones may be left out).
    #[serde(default)]
    pub checks: Vec<Checked>,
}

/// The bow as it stands now.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BowState {
    /// Distance between the axles, mm, 400 to 1300.
    pub axle_to_axle_mm: f64,
    /// Share of the top cam in the nock plane's offset, 0 to 1 (prior 0.5).
    #[serde(default = "half")]
    pub top_weight: f64,
    /// What is fitted now.
    pub fitted: Fitting,
    /// Where the rest stands now, mm; without it, where it stood in the latest trial.
    #[serde(default)]
    pub rest_mm: Option<f64>,
    /// Where the nocking point stands now, mm; without it, where it stood in the latest trial.
    #[serde(default)]
    pub nock_mm: Option<f64>,
    /// The epoch now (see [`TrialEvidence::epoch`]); without it, that of the latest trial.
    #[serde(default)]
    pub epoch: Option<i64>,
}

impl BowState {
    /// The geometry that turns seats into offsets.
    pub fn geometry(&self) -> AxleGeometry {
        AxleGeometry {
            axle_to_axle_mm: self.axle_to_axle_mm,
            top_weight: self.top_weight,
        }
    }
}

fn half() -> f64 {
    0.5
}

/// What the user wants, and what things cost him in split.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Settings {
    /// A split this small at `tolerance_distance_m` is good enough, mm (prior 25).
    pub tolerance_mm: f64,
    /// The distance that matters to the user, m (prior 18.288, that is 20 yd).
    pub tolerance_distance_m: f64,
    /// A tear this small is good enough, mm (prior 6, a quarter of an inch).
    pub paper_tolerance_mm: f64,
    /// Whether the two axles may carry different seats.
    pub unequal_axles: bool,
    /// Largest difference between the two cam offsets, mm (prior 0.6).
    pub tilt_limit_mm: f64,
    /// What should come together with the field points, most important first.
    pub priority: Vec<Probe>,
    /// Split that opening one axle must save to be worth it, mm at `tolerance_distance_m` (prior
    /// 5.5: half the press jobs of one step at a time at a smaller split, `tests/virtual-bows`).
    pub price_per_axle_mm: f64,
    /// Split that a millimetre of tilt between the cams must save, mm (prior).
    pub price_of_tilt: f64,
    /// Split that shooting one more arrow must save, mm (prior 0.2: a quarter fewer arrows than
    /// at 0.1, at the same split, `tests/virtual-bows`).
    pub price_per_arrow_mm: f64,
    /// Split that one more round must save whatever its arrows, mm: the walk to the target and
    /// back, another photograph, the readings (prior 2, a third of an axle; a fifth fewer arrows than
    /// without it at a split 1.5 mm larger, `tests/virtual-bows`).
    pub price_per_round_mm: f64,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            tolerance_mm: 25.0,
            tolerance_distance_m: 18.288,
            paper_tolerance_mm: 6.0,
            unequal_axles: false,
            tilt_limit_mm: 0.6,
            priority: vec![Probe::Broadhead, Probe::Bare, Probe::Paper],
            price_per_axle_mm: 5.5,
            price_of_tilt: 2.0,
            price_per_arrow_mm: 0.2,
            price_per_round_mm: 2.0,
        }
    }
}
