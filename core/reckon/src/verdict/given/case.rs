//! Everything one verdict is computed from.

use serde::{Deserialize, Serialize};

use super::checked::Checked;
use crate::evidence::{Probe, Relative, RememberedSwap, TrialEvidence};
use crate::flight::ArrowSetup;
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
    /// The arrows that are shot; without them the usual ones are taken, with their doubt.
    #[serde(default)]
    pub arrow: Option<ArrowSetup>,
    /// Other bows of its family.
    #[serde(default)]
    pub relatives: Vec<Relative>,
    /// Swaps from before the record.
    #[serde(default)]
    pub remembered: Vec<RememberedSwap>,
}

impl Case {
    /// A case of a kit and a bow, with nothing shot yet.
    pub fn new(kit: Kit, bow: BowState, settings: Settings) -> Self {
        Self {
            kit,
            stock: None,
            bow,
            settings,
            trials: Vec::new(),
            checks: Vec::new(),
            arrow: None,
            relatives: Vec::new(),
            remembered: Vec::new(),
        }
    }
}

/// The bow as it stands now.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BowState {
    /// Distance between the axles, mm, 400 to 1500.
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

/// What is good enough at 20 yd in most shops, mm: an inch. Common practice, no source.
const USUAL_TOLERANCE_MM: f64 = 25.0;
/// Minutes of a round: three and three arrows, the walk, the photograph (common practice, no source).
pub(crate) const ROUND_MINUTES: f64 = 10.0;
/// Minutes of a rest move on top of its round. Common practice, no source.
pub(crate) const REST_MINUTES: f64 = 3.0;
/// Minutes of a press job that opens one axle, and of each further axle, on top of its round. Common
/// practice, no source.
pub(crate) const PRESS_MINUTES: f64 = 25.0;
/// See [`PRESS_MINUTES`].
pub(crate) const AXLE_MINUTES: f64 = 5.0;

/// Minutes of a press job that opens so many axles, at least one.
pub(crate) fn press_minutes(axles: f64) -> f64 {
    PRESS_MINUTES + AXLE_MINUTES * (axles - 1.0)
}

/// How far the rest may still go from where it stands.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RestRoom {
    /// To the archer's left, mm, 0 to 20.
    pub left: f64,
    /// To the archer's right, mm, 0 to 20.
    pub right: f64,
}

impl Default for RestRoom {
    /// 1.2 mm to each side (prior): about what bow makers leave around their centre shot.
    fn default() -> Self {
        Self {
            left: 1.2,
            right: 1.2,
        }
    }
}

/// What the user wants, and what his time is worth.
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
    /// How far the rest may still go from where it stands; zero where it may not move.
    pub rest_room_mm: RestRoom,
    /// Time against millimetres: split that a minute of work must save to be worth it where 25 mm are
    /// good enough, mm (prior 0.25: a press job with its round must save 10 mm, a round of arrows 2.5;
    /// `tests/virtual-bows`). It grows and shrinks with the tolerance: who wants 8 mm works for 3.
    pub mm_per_minute: f64,
    /// Split that a millimetre of tilt between the cams must save, mm (prior).
    pub price_of_tilt: f64,
    /// Instead of the time: split that opening one axle must save, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub price_per_axle_mm: Option<f64>,
    /// Instead of the time: split that shooting one more arrow must save, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub price_per_arrow_mm: Option<f64>,
    /// Instead of the time: split that one more round must save whatever its arrows, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub price_per_round_mm: Option<f64>,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            tolerance_mm: USUAL_TOLERANCE_MM,
            tolerance_distance_m: 18.288,
            paper_tolerance_mm: 6.0,
            unequal_axles: false,
            tilt_limit_mm: 0.6,
            priority: vec![Probe::Broadhead, Probe::Bare, Probe::Paper],
            rest_room_mm: RestRoom::default(),
            mm_per_minute: 0.25,
            price_of_tilt: 2.0,
            price_per_axle_mm: None,
            price_per_arrow_mm: None,
            price_per_round_mm: None,
        }
    }
}

/// Share of a round's minutes that its arrows take, three and three; the rest is the walk. Chosen by
/// hand; not tuned.
const ARROWS_SHARE: f64 = 0.5;

impl Settings {
    /// What a split of a probe may be, mm: on a face it grows with the distance, m; of a tear it does not.
    pub fn allowed_mm(&self, probe: Probe, distance_m: f64) -> f64 {
        match probe {
            Probe::Paper => self.paper_tolerance_mm,
            Probe::Bare | Probe::Broadhead => {
                self.tolerance_mm * distance_m / self.tolerance_distance_m
            }
        }
    }

    /// Whether paper is asked for before all faces.
    pub(crate) fn paper_first(&self) -> bool {
        self.priority.first() == Some(&Probe::Paper)
    }

    /// Price of shooting `arrows` in one round, mm.
    pub(crate) fn round_mm(&self, arrows: u32) -> f64 {
        let whole_mm = self.minute_mm() * ROUND_MINUTES;
        let walk_mm = self
            .price_per_round_mm
            .unwrap_or(whole_mm * (1.0 - ARROWS_SHARE));
        let arrow_mm = self
            .price_per_arrow_mm
            .unwrap_or(whole_mm * ARROWS_SHARE / 6.0);
        walk_mm + arrow_mm * f64::from(arrows)
    }

    /// Price of a press job that opens `axles`, its round not counted, mm.
    pub(crate) fn press_mm(&self, axles: u32) -> f64 {
        let axles = f64::from(axles);
        if axles == 0.0 {
            return 0.0;
        }
        self.price_per_axle_mm
            .map_or(self.minute_mm() * press_minutes(axles), |price| {
                price * axles
            })
    }

    /// Price of moving the rest, its round not counted, mm.
    pub(crate) fn rest_mm(&self) -> f64 {
        self.minute_mm() * REST_MINUTES
    }

    /// Price of a minute at this tolerance, mm.
    fn minute_mm(&self) -> f64 {
        self.mm_per_minute * self.tolerance_mm / USUAL_TOLERANCE_MM
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(is_mm: f64, wanted_mm: f64) {
        assert!((is_mm - wanted_mm).abs() < 1e-12, "{is_mm} {wanted_mm}");
    }

    /// A quarter of a millimetre for each minute, common practice telling the minutes: 25 of them open one axle,
    /// 3 move the rest.
    #[test]
    fn a_press_job_with_its_round_must_save_10_mm_and_a_round_of_arrows_2_5() {
        let usual = Settings::default();
        close(usual.round_mm(6), 2.5);
        close(usual.press_mm(2) + usual.round_mm(6), 10.0);
        close(usual.press_mm(1), 6.25);
        close(usual.rest_mm(), 0.75);
    }

    #[test]
    fn a_price_of_ones_own_is_paid_for_every_axle_and_every_arrow() {
        let own = Settings {
            price_per_axle_mm: Some(40.0),
            price_per_arrow_mm: Some(0.5),
            price_per_round_mm: Some(3.0),
            ..Settings::default()
        };
        for (axles, wanted_mm) in [(0, 0.0), (1, 40.0), (2, 80.0)] {
            close(own.press_mm(axles), wanted_mm);
        }
        close(own.round_mm(8), 7.0);
    }

    /// Who wants a third of the usual tolerance works for a third of the split.
    #[test]
    fn time_is_worth_less_split_where_less_is_good_enough() {
        let strict = Settings {
            tolerance_mm: 25.0 / 3.0,
            ..Settings::default()
        };
        close(strict.press_mm(2) + strict.round_mm(6), 10.0 / 3.0);
    }
}
