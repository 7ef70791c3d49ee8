//! What the screens show.

use shimwright::frame::ArrowKind;
use shimwright::record::{
    ArrowSetupRecord, Bow, ChangeRecord, FittingRecord, Hand, KitRecord, MoreArrows, Outcome,
    SetupCheck, SetupState, Shelf, Surface, SwapProgress, Trial, VerdictGiven,
};
use shimwright::scene::Scene;
use shimwright::spacer::{Arrangement, Stock};
use shimwright::split::{AxisSplit, Reality};
use shimwright::store::{Thing, Unread};
use shimwright::swap::{Step, SwapEvent};
use shimwright::verdict::{CheckItem, Choice, Ending, SplitReading, TrackRecord};
use shimwright::workshop::{
    BowPage, Forecast, Happening, History, HistoryPage, KitOnShelf, RackRow, SwapPage, TrialSplit,
    VerdictPage, Waits,
};

#[uniffi::remote(Enum)]
pub enum Waits {
    SwapHalfDone {
        confirmed: u32,
        steps: u32,
    },
    FailedCheck {
        item: CheckItem,
    },
    Kit,
    Fitting,
    Trial,
    Verdict,
    Arrows {
        bare: u32,
        fletched: u32,
        broadhead: u32,
        paper: u32,
    },
    Swap,
    Trim,
    Elsewhere,
    Adjustment,
    Left,
    Nothing,
}

#[uniffi::remote(Record)]
pub struct RackRow {
    pub bow_id: i64,
    pub name: String,
    pub owner: String,
    pub hand: Hand,
    pub fitted: Option<FittingRecord>,
    pub waits: Waits,
    pub used_ms: i64,
    pub archived_ms: Option<i64>,
}

#[uniffi::remote(Record)]
pub struct BowPage {
    pub bow: Bow,
    pub kit: Option<KitRecord>,
    pub stock: Option<Stock>,
    pub fitted: Option<FittingRecord>,
    pub contested: Vec<FittingRecord>,
    pub arrangement: Option<Arrangement>,
    pub setup: SetupState,
    pub checks: Vec<SetupCheck>,
    pub arrow_setups: Vec<ArrowSetupRecord>,
    pub last_trial: Option<Trial>,
    pub last_verdict: Option<VerdictGiven>,
    pub verdict_stands: bool,
    pub swap: Option<SwapProgress>,
    pub waits: Waits,
    pub unread: Vec<Unread>,
}

#[uniffi::remote(Record)]
pub struct KitOnShelf {
    pub record: KitRecord,
    pub shelf: Shelf,
}

#[uniffi::remote(Record)]
pub struct SwapPage {
    pub progress: SwapProgress,
    pub steps: Vec<Step>,
    pub current: Option<Step>,
    pub event: SwapEvent,
    pub fitted: FittingRecord,
}

#[uniffi::remote(Enum)]
pub enum Happening {
    Fitted {
        entry: FittingRecord,
    },
    Shot {
        trial_id: i64,
        surface: Surface,
        distance_m: f64,
        arrows: MoreArrows,
        counts: bool,
        at_ms: i64,
    },
    Judged {
        verdict_id: i64,
        outcome: Outcome,
        at_ms: i64,
    },
    Changed {
        record: ChangeRecord,
    },
}

#[uniffi::remote(Record)]
pub struct AxisSplit {
    pub value_mm: f64,
    pub sd_mm: f64,
    pub dof: f64,
    pub low80_mm: f64,
    pub high80_mm: f64,
    pub low95_mm: f64,
    pub high95_mm: f64,
    pub p: f64,
    pub reality: Reality,
}

#[uniffi::remote(Record)]
pub struct TrialSplit {
    pub trial_id: i64,
    pub fitting_id: i64,
    pub at_ms: i64,
    pub kind: ArrowKind,
    pub distance_m: f64,
    pub probe_arrows: u32,
    pub reference_arrows: u32,
    pub x: AxisSplit,
    pub y: AxisSplit,
    pub reality: Reality,
    pub reading: SplitReading,
}

#[uniffi::remote(Record)]
pub struct Forecast {
    pub verdict_id: i64,
    pub fitting_id: i64,
    pub trial_id: i64,
    pub kind: ArrowKind,
    pub distance_m: f64,
    pub expected_mm: f64,
    pub expected_low95_mm: f64,
    pub expected_high95_mm: f64,
    pub shot_mm: f64,
    pub shot_low95_mm: f64,
    pub shot_high95_mm: f64,
    pub sds: f64,
    pub within_80: bool,
    pub within_95: bool,
}

#[uniffi::remote(Record)]
pub struct History {
    pub happenings: Vec<Happening>,
    pub splits: Vec<TrialSplit>,
    pub forecasts: Vec<Forecast>,
    pub track: TrackRecord,
    pub unread: Vec<Unread>,
}

#[uniffi::remote(Record)]
pub struct Unread {
    pub thing: Thing,
    pub id: i64,
    pub detail: String,
}

#[uniffi::remote(Enum)]
pub enum Thing {
    Bow,
    Kit,
    ArrowSetup,
    Fitting,
    Trial,
    Verdict,
    Swap,
    Check,
    Change,
}

#[uniffi::remote(Record)]
pub struct HistoryPage {
    pub name: String,
    pub history: History,
    pub chart: Option<Scene>,
    pub fitted: Option<FittingRecord>,
    pub swapping: bool,
    pub contested: Vec<FittingRecord>,
}

#[uniffi::remote(Enum)]
pub enum Reality {
    TooFewArrows,
    NotShown,
    Likely,
    Clear,
}

#[uniffi::remote(Record)]
pub struct VerdictPage {
    pub given: VerdictGiven,
    pub ending: Option<Ending>,
    pub outcome: Outcome,
    pub bow: BowPage,
    pub then: Option<FittingRecord>,
    pub trials: Vec<Trial>,
    pub proof: Option<Scene>,
    pub change: Option<Scene>,
    pub moves_mm: Option<f64>,
    pub others: Vec<Choice>,
    pub forecasts: bool,
    pub tolerance_mm: f64,
    pub tolerance_at_m: Option<f64>,
    pub newest: bool,
    pub stands: bool,
}
