//! Verdicts.

use shimwright::evidence::Probe;
use shimwright::frame::{ArrowKind, PointMm, Side};
use shimwright::record::{MoreArrows, Outcome, VerdictGiven};
use shimwright::scatter::ArrowHabit;
use shimwright::spacer::Fitting;
use shimwright::verdict::{
    Adjustment, Call, CheckItem, Choice, Predicted, Reason, Response, SplitReading, TrackRecord,
    Trim, Verdict,
};
use shimwright::walkback::{Coefficient, WalkBack, WalkBackMeaning};

#[uniffi::remote(Enum)]
pub enum Probe {
    Bare,
    Broadhead,
    Paper,
}

#[uniffi::remote(Enum)]
pub enum Call {
    Fit {
        fitting: Fitting,
    },
    Keep {
        rest: Option<Trim>,
        nock: Option<Trim>,
    },
    ShootMore {
        bare: u32,
        fletched: u32,
        broadhead: u32,
        paper: u32,
        distance_m: f64,
    },
    AdjustFirst {
        what: Adjustment,
    },
}

#[uniffi::remote(Record)]
pub struct Trim {
    pub move_mm: f64,
    pub sd_mm: f64,
    pub direction_chance: f64,
}

#[uniffi::remote(Enum)]
pub enum Adjustment {
    FailedCheck {
        check: CheckItem,
    },
    OpenCheck {
        check: CheckItem,
    },
    NockingPoint {
        y_mm: f64,
        sd_mm: f64,
        trim: Option<Trim>,
    },
    Arrow {
        trial: i64,
        kind: ArrowKind,
        index: u32,
        arrow: Option<i32>,
    },
    Clearance {
        trial: i64,
    },
    Spine {
        ratio: f64,
    },
    Contradiction {
        trial: i64,
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

#[uniffi::remote(Enum)]
pub enum Reason {
    NothingShot,
    TooFewArrows {
        kind: Probe,
        have: u32,
        have_reference: u32,
        need: u32,
    },
    NoReference {
        trial: i64,
    },
    TrialWithoutFitting {
        trial: i64,
    },
    SplitIsReal {
        kind: Probe,
        x_mm: f64,
        sd_mm: f64,
        p: f64,
    },
    SplitMayBeScatter {
        kind: Probe,
        x_mm: f64,
        sd_mm: f64,
        p: f64,
    },
    WithinTolerance {
        kind: Probe,
        x_mm: f64,
        tolerance_mm: f64,
        chance: f64,
    },
    NotYetSeenOnThisBow,
    SeenOnThisBow {
        mm_per_mm: f64,
        sd: f64,
    },
    AnswersTheOtherWay {
        chance: f64,
    },
    DirectionOpen {
        wrong_way_chance: f64,
    },
    FittingPays {
        now_mm: f64,
        after_mm: f64,
        axles: u32,
    },
    NoFittingPays {
        saving_mm: f64,
        price_mm: f64,
    },
    KitEnds {
        remaining_mm: f64,
    },
    PrioritiesConflict {
        kind: Probe,
        x_mm: f64,
        against: Probe,
        now_mm: f64,
        there_mm: f64,
    },
    PiecesNotAtHand {
        pair: String,
        after_mm: f64,
    },
    UnequalAxles {
        tilt_mm: f64,
    },
    MoreArrowsPay {
        saving_mm: f64,
        arrows: u32,
    },
    CheckFirst {
        check: CheckItem,
        failed: bool,
    },
    VerticalFirst {
        y_mm: f64,
        sd_mm: f64,
    },
    VerticalExplained {
        kind: Probe,
        y_mm: f64,
    },
    ArrowApart {
        trial: i64,
        kind: ArrowKind,
        index: u32,
    },
    ArrowHabit {
        arrow: i32,
        kind: ArrowKind,
        trials: u32,
        x_mm: f64,
        y_mm: f64,
        p: f64,
    },
    WalkBackShows {
        meaning: WalkBackMeaning,
        slant_mm_per_m: f64,
        sd_mm_per_m: f64,
        near_m: f64,
        far_m: f64,
    },
    TearDisagrees {
        trial: i64,
        sds: f64,
    },
    BareScatter {
        ratio: f64,
    },
    TrialDisagrees {
        trial: i64,
        sds: f64,
    },
    OlderEpochs {
        trials: u32,
    },
    DistancesCombined {
        model_error: f64,
    },
    PaperAlone,
    NotYetShot {
        kind: Probe,
    },
    RestDirectionDisputed,
    RestDirectionSeen {
        mm_per_mm: f64,
        chance: f64,
    },
    CamDirectionDisputed,
    SpineLabelsDisputed,
}

#[uniffi::remote(Record)]
pub struct Verdict {
    pub call: Call,
    pub splits: Vec<SplitReading>,
    pub response: Response,
    pub predicted: Predicted,
    pub predictions: Vec<Predicted>,
    pub options: Vec<Choice>,
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
pub struct Coefficient {
    pub value: f64,
    pub sd: f64,
    pub p: f64,
}

#[uniffi::remote(Record)]
pub struct WalkBack {
    pub beside_mm: Coefficient,
    pub slant_mm_per_m: Coefficient,
    pub bend_mm_per_m2: Option<Coefficient>,
    pub near_m: f64,
    pub far_m: f64,
    pub meaning: WalkBackMeaning,
}

#[uniffi::remote(Record)]
pub struct ArrowHabit {
    pub arrow: i32,
    pub kind: ArrowKind,
    pub trials: u32,
    pub away: PointMm,
    pub sd_x_mm: f64,
    pub sd_y_mm: f64,
    pub p: f64,
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
    Fit,
    Keep,
    ShootMore,
    AdjustFirst,
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
