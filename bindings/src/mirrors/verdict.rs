//! Verdicts.

use shimwright::evidence::Probe;
use shimwright::frame::{ArrowKind, Side};
use shimwright::record::{MoreArrows, Outcome, VerdictGiven};
use shimwright::spacer::Fitting;
use shimwright::verdict::{
    Adjustment, Alternative, Arrows, Call, CheckItem, Choice, Direction, Ending, Knob,
    MeasuredUnit, OutOfRange, Predicted, Reason, Response, SplitReading, TrackRecord, Trim,
    Verdict,
};
use shimwright::walkback::WalkBackMeaning;

#[uniffi::remote(Enum)]
pub enum Probe {
    Bare,
    Broadhead,
    Paper,
}

#[uniffi::remote(Enum)]
pub enum Call {
    AdjustFirst {
        what: Adjustment,
    },
    Stop,
    Trim {
        knob: Knob,
        trim: Trim,
        put_back: bool,
        arrows: Arrows,
    },
    Fit {
        fitting: Fitting,
        experiment: bool,
    },
    ShootMore {
        arrows: Arrows,
    },
    SpacersCannot,
}

#[uniffi::remote(Enum)]
pub enum Ending {
    FirstIn { first: Probe },
    LikelyIn,
    HeightStays,
    HeadsApart,
    PiecesMissing { pair: String },
    TooWide,
    Beyond,
}

#[uniffi::remote(Record)]
pub struct Arrows {
    pub bare: u32,
    pub fletched: u32,
    pub broadhead: u32,
    pub paper: u32,
    pub distance_m: f64,
}

#[uniffi::remote(Enum)]
pub enum Knob {
    Rest,
    Nock,
}

#[uniffi::remote(Record)]
pub struct Trim {
    pub move_mm: f64,
    pub sd_mm: f64,
    pub direction_chance: f64,
}

#[uniffi::remote(Enum)]
pub enum Direction {
    Up,
    Down,
}

#[uniffi::remote(Record)]
pub struct OutOfRange {
    pub item: CheckItem,
    pub measured: f64,
    pub low: Option<f64>,
    pub high: Option<f64>,
    pub unit: MeasuredUnit,
}

#[uniffi::remote(Enum)]
pub enum Adjustment {
    Check {
        check: CheckItem,
        failed: bool,
        found: Option<OutOfRange>,
    },
    CamsApart {
        tilt_mm: f64,
        limit_mm: f64,
    },
    Arrow {
        trial: i64,
        arrow_kind: ArrowKind,
        index: u32,
        arrow: Option<i32>,
        keeps: bool,
    },
    ConfirmSwap {
        before_mm: f64,
        after_mm: f64,
        arrows: Arrows,
    },
    Contact {
        trial: i64,
        tear_mm: f64,
        bare_mm: f64,
        in_height: bool,
    },
    Contradiction {
        trial: i64,
        probe: Option<Probe>,
    },
    Spine {
        ratio: f64,
    },
    Vertical {
        probe: Option<Probe>,
        y_mm: f64,
        sd_mm: f64,
        direction: Direction,
        trim: Trim,
        seen_on_this_bow: bool,
    },
}

#[uniffi::remote(Record)]
pub struct SplitReading {
    pub kind: Probe,
    pub distance_m: f64,
    pub x_mm: f64,
    pub y_mm: f64,
    pub sd_x_mm: f64,
    pub sd_y_mm: f64,
    pub dof: f64,
    pub low95_mm: f64,
    pub high95_mm: f64,
    pub p: f64,
    pub is_real: bool,
    pub probe_arrows: u32,
    pub reference_arrows: u32,
}

#[uniffi::remote(Record)]
pub struct Response {
    pub mm_per_mm: f64,
    pub sd: f64,
    pub wrong_way_chance: f64,
    pub seen_on_this_bow: bool,
    pub relatives: u32,
}

#[uniffi::remote(Record)]
pub struct Predicted {
    pub kind: Probe,
    pub distance_m: f64,
    pub x_mm: f64,
    pub sd_mm: f64,
    pub low80_mm: f64,
    pub high80_mm: f64,
    pub low95_mm: f64,
    pub high95_mm: f64,
    pub within_tolerance: f64,
}

#[uniffi::remote(Record)]
pub struct Choice {
    pub fitting: Fitting,
    pub offset_mm: f64,
    pub tilt_mm: f64,
    pub axles_opened: u32,
    pub x_mm: f64,
    pub sd_mm: f64,
    pub within_tolerance: f64,
    pub loss_mm: f64,
}

#[uniffi::remote(Record)]
pub struct Alternative {
    pub call: Call,
    pub behind_mm: f64,
}

#[uniffi::remote(Record)]
pub struct Verdict {
    pub call: Call,
    pub splits: Vec<SplitReading>,
    pub response: Response,
    pub predicted: Predicted,
    pub as_it_is: Predicted,
    pub predictions: Vec<Predicted>,
    pub options: Vec<Choice>,
    pub alternatives: Vec<Alternative>,
    pub reasons: Vec<Reason>,
}

#[uniffi::remote(Enum)]
pub enum WalkBackMeaning {
    OnTheLine,
    Slant { far_side: Side },
    Bend { far_side: Side },
    Beside { side: Side },
}

#[uniffi::remote(Record)]
pub struct TrackRecord {
    pub predictions: u32,
    pub in80: u32,
    pub in95: u32,
    pub mean_miss_mm: f64,
    pub rms_miss_mm: f64,
    pub rms_sds: f64,
}

#[uniffi::remote(Enum)]
pub enum Outcome {
    AdjustFirst,
    Stop,
    Trim,
    Fit,
    ShootMore,
    Leave,
    SpacersCannot,
}

#[uniffi::remote(Record)]
pub struct MoreArrows {
    pub bare: u32,
    pub fletched: u32,
    pub broadhead: u32,
    pub paper: u32,
}

#[uniffi::remote(Record)]
pub struct VerdictGiven {
    pub id: i64,
    pub bow_id: i64,
    pub fitting_id: i64,
    pub trial_ids: Vec<i64>,
    pub verdict: Verdict,
    pub at_ms: i64,
}
