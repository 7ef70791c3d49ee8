//! What a verdict says.

use serde::{Deserialize, Serialize};

use super::{CheckItem, Reason};
use crate::evidence::Probe;
use crate::frame::ArrowKind;
use crate::spacer::Fitting;

/// What to do next.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Call {
    /// Swap spacers to this fitting.
    Fit {
        /// The fitting to go to.
        fitting: Fitting,
    },
    /// Leave the spacers as they are.
    Keep {
        /// A small move of the rest that takes out what is left, where its direction is known.
        rest: Option<Trim>,
        /// A small move of the nocking point, where its direction is known.
        nock: Option<Trim>,
    },
    /// Shoot more arrows before deciding.
    ShootMore {
        /// Further bare shafts.
        bare: u32,
        /// Further fletched field points.
        fletched: u32,
        /// Further fixed-blade broadheads.
        broadhead: u32,
        /// Further fletched arrows through paper.
        paper: u32,
        /// At this distance, m (paper: the distance to the paper).
        distance_m: f64,
    },
    /// Put something else right before touching spacers.
    AdjustFirst {
        /// What.
        what: Adjustment,
    },
}

/// A small move of the rest or the nocking point.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Trim {
    /// How far, mm: rest positive right, nocking point positive up.
    pub move_mm: f64,
    /// Standard deviation of that, mm.
    pub sd_mm: f64,
    /// How sure the direction is, 0.5 to 1, from what this bow has shown.
    pub direction_chance: f64,
}

/// What must be put right before spacers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Adjustment {
    /// A set-up check has failed.
    FailedCheck {
        /// Which.
        check: CheckItem,
    },
    /// A set-up check has not been made.
    OpenCheck {
        /// Which.
        check: CheckItem,
    },
    /// The vertical split is real and larger than the sideways one: nocking-point height first.
    NockingPoint {
        /// Remaining vertical split after what gravity and drag explain, mm.
        y_mm: f64,
        /// Its standard deviation, mm.
        sd_mm: f64,
        /// The move, where its direction is known; positive up.
        trim: Option<Trim>,
    },
    /// One arrow makes the picture: look at it, or leave it out and say why.
    Arrow {
        /// The trial.
        trial: i64,
        /// Its kind.
        kind: ArrowKind,
        /// Its place in the trial's list, from 0.
        index: u32,
        /// The number on its shaft, where it has one.
        arrow: Option<i32>,
    },
    /// Tears and bare shafts disagree: look for contact with the rest or the vanes.
    Clearance {
        /// The paper trial.
        trial: i64,
    },
    /// Bare shafts scatter far more than they should: spine or nock fit.
    Spine {
        /// How many times the fletched scatter the bare shafts show.
        ratio: f64,
    },
    /// One trial contradicts all others: something moved, or the fitting was noted wrongly.
    Contradiction {
        /// The trial that disagrees.
        trial: i64,
    },
}

/// A split as it was shot.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SplitReading {
    /// What was compared with the fletched field points.
    pub kind: Probe,
    /// Distance, m (paper: to the paper).
    pub distance_m: f64,
    /// Sideways, mm, positive right; for paper the tear.
    pub x_mm: f64,
    /// Up and down, mm, as shot.
    pub y_mm: f64,
    /// Standard deviation sideways, mm.
    pub sd_x_mm: f64,
    /// Standard deviation up and down, mm.
    pub sd_y_mm: f64,
    /// Chance of a sideways split this large if there were none.
    pub p: f64,
    /// Whether `p` is below 0.05.
    pub is_real: bool,
    /// Arrows of the probe.
    pub probe_arrows: u32,
    /// Fletched arrows it was compared with.
    pub reference_arrows: u32,
}

/// How the bow answers a shift of its cams.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Response {
    /// Bare-shaft split at 20 yd per mm of nock-plane shift, mm/mm; positive where moving the
    /// cams left brings a shaft that lands right back to the left.
    pub mm_per_mm: f64,
    /// Its standard deviation, mm/mm.
    pub sd: f64,
    /// Chance that this bow answers the other way round than common practice says.
    pub wrong_way_chance: f64,
    /// Whether a before/after pair on this bow has shown it.
    pub seen_on_this_bow: bool,
}

/// An expected split with its uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Predicted {
    /// Which probe.
    pub kind: Probe,
    /// At this distance, m (paper: to the paper).
    pub distance_m: f64,
    /// Expected split sideways, mm.
    pub x_mm: f64,
    /// Its standard deviation, mm.
    pub sd_mm: f64,
    /// 80 % interval, mm.
    pub low80_mm: f64,
    /// 80 % interval, mm.
    pub high80_mm: f64,
    /// 95 % interval, mm.
    pub low95_mm: f64,
    /// 95 % interval, mm.
    pub high95_mm: f64,
    /// Chance to be within tolerance, 0 to 1.
    pub within_tolerance: f64,
}

/// One fitting as a choice.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Choice {
    /// The fitting.
    pub fitting: Fitting,
    /// Nock-plane offset, mm, positive right.
    pub offset_mm: f64,
    /// Top cam's offset minus the bottom cam's, mm.
    pub tilt_mm: f64,
    /// Axles that must be opened to get there; 0 is what is fitted now.
    pub axles_opened: u32,
    /// Expected split there, mm, for the first probe of the priority that evidence reaches.
    pub x_mm: f64,
    /// Its standard deviation, mm.
    pub sd_mm: f64,
    /// Chance to be within tolerance there.
    pub within_tolerance: f64,
    /// Expected size of the split plus prices, mm: the lowest is chosen.
    pub loss_mm: f64,
}

/// What to do next, with what is expected of it and why.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Verdict {
    /// What to do next.
    pub call: Call,
    /// The splits as shot with what is fitted now (else in the latest trial), per probe.
    pub splits: Vec<SplitReading>,
    /// How the bow answers a shift of its cams.
    pub response: Response,
    /// What is expected once the call is carried out (shooting more or adjusting first: as it stands).
    pub predicted: Predicted,
    /// The same for every probe of the priority that evidence reaches, in order.
    pub predictions: Vec<Predicted>,
    /// Every allowed fitting, best first.
    pub options: Vec<Choice>,
    /// Why, most important first.
    pub reasons: Vec<Reason>,
}

impl Predicted {
    /// Nothing to aim at: only reachable through an empty priority, which intake refuses.
    pub(crate) fn unknown() -> Self {
        Self {
            kind: Probe::Bare,
            distance_m: 0.0,
            x_mm: 0.0,
            sd_mm: 0.0,
            low80_mm: 0.0,
            high80_mm: 0.0,
            low95_mm: 0.0,
            high95_mm: 0.0,
            within_tolerance: 0.0,
        }
    }
}
