//! What a verdict says.

use serde::{Deserialize, Serialize};

use super::call::Call;
use super::reason::Reason;
use crate::evidence::Probe;
use crate::spacer::Fitting;
use crate::split::Split;

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
    /// Degrees of freedom behind the sideways deviation.
    pub dof: f64,
    /// 95 % interval sideways (Student's t), lower end, mm.
    pub low95_mm: f64,
    /// 95 % interval sideways, upper end, mm.
    pub high95_mm: f64,
    /// Chance of a sideways split this large if there were none.
    pub p: f64,
    /// Whether it is clearly more than scatter.
    pub is_real: bool,
    /// Arrows of the probe.
    pub probe_arrows: u32,
    /// Fletched arrows it was compared with.
    pub reference_arrows: u32,
}

impl From<&Split> for SplitReading {
    fn from(split: &Split) -> Self {
        let x = split.x();
        Self {
            kind: split.probe,
            distance_m: split.distance_m,
            x_mm: x.value_mm,
            y_mm: split.offset.y_mm,
            sd_x_mm: x.sd_mm,
            sd_y_mm: split.cov.sd_y_mm(),
            dof: x.dof,
            low95_mm: x.low95_mm,
            high95_mm: x.high95_mm,
            p: x.p,
            is_real: x.is_real(),
            probe_arrows: split.n_probe,
            reference_arrows: split.n_reference,
        }
    }
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
    /// Whether this bow has shown it: a before/after pair that makes its direction 9 in 10 sure.
    pub seen_on_this_bow: bool,
    /// Other bows of its family that the expectation rests on.
    pub relatives: u32,
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
    /// What going there is expected to cost in the end, mm: the split that is left once what it
    /// teaches has been acted on, beyond what is well inside tolerance, plus the price of the work.
    pub loss_mm: f64,
}

/// Another thing that could be done next.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Alternative {
    /// What.
    pub call: Call,
    /// How much worse it is expected to end, split and work together, mm.
    pub behind_mm: f64,
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
    /// What is expected of the bow as it is, of the same probe.
    pub as_it_is: Predicted,
    /// What is expected once the call is carried out, of every probe that evidence reaches, in the
    /// order of the priority.
    pub predictions: Vec<Predicted>,
    /// Every allowed fitting, best first.
    pub options: Vec<Choice>,
    /// What else could be done next, best first; at most three.
    pub alternatives: Vec<Alternative>,
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
