//! Why a verdict says what it says.

use shimwright::evidence::Probe;
use shimwright::frame::ArrowKind;
use shimwright::verdict::{CheckItem, Direction, NextLook, OutOfRange, Reason};
use shimwright::walkback::WalkBackMeaning;

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
    TrialOutvoted {
        trial: i64,
    },
    SplitIsReal {
        kind: Probe,
        x_mm: f64,
        sd_mm: f64,
        plus_minus_mm: f64,
        p: f64,
        distance_m: Option<f64>,
    },
    SplitMayBeScatter {
        kind: Probe,
        x_mm: f64,
        sd_mm: f64,
        plus_minus_mm: f64,
        p: f64,
        distance_m: Option<f64>,
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
        least: f64,
        most: f64,
    },
    AnswersTheOtherWay {
        chance: f64,
    },
    DirectionOpen {
        wrong_way_chance: f64,
    },
    StepPays {
        now: f64,
        after: f64,
        minutes: f64,
    },
    TearsTeach,
    RestBeforePress,
    PutBack,
    NothingPays {
        kind: Option<Probe>,
        best_mm: f64,
        chance: f64,
    },
    StepsCoarse {
        left_mm: f64,
        right_mm: f64,
    },
    KitEnds {
        remaining_mm: f64,
    },
    LookNext {
        look: NextLook,
    },
    MayBeInside {
        chance: f64,
    },
    HeadsAlone,
    FamilyKnown {
        relatives: u32,
    },
    SwapRemembered,
    SwapMadeItWorse {
        before_mm: f64,
        after_mm: f64,
    },
    CamsApart {
        tilt_mm: f64,
        limit_mm: f64,
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
        found: Option<OutOfRange>,
    },
    VerticalFirst {
        kind: Option<Probe>,
        y_mm: f64,
        sd_mm: f64,
        direction: Direction,
    },
    VerticalExplained {
        kind: Probe,
        y_mm: f64,
        left_mm: Option<f64>,
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
    OppositeSigns {
        tear_mm: f64,
        bare_mm: f64,
    },
    OppositeHeights {
        tear_mm: f64,
        bare_mm: f64,
    },
    HeadsApart {
        heads_mm: f64,
        bare_mm: f64,
    },
    HeadsMovedApart {
        heads_mm: f64,
        bare_mm: f64,
    },
    HeadsOffHeight {
        y_mm: f64,
    },
    HeightStays {
        kind: Probe,
        y_mm: f64,
        sd_mm: f64,
    },
    ShootersDiffer {
        kind: Probe,
        x_mm: f64,
        plus_minus_mm: f64,
        distance_m: f64,
    },
    Crept {
        kind: Probe,
        rounds: u32,
        in_height: bool,
        from_mm: f64,
        to_mm: f64,
    },
    BareScatter {
        ratio: f64,
    },
    HeadsScatter {
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
    FirstIsIn {
        first: Probe,
        other: Probe,
    },
    NotShotSince {
        kind: Probe,
    },
    RestDirectionDisputed,
    RestDirectionSeen {
        mm_per_mm: f64,
        chance: f64,
    },
    SpineLabelsDisputed,
}

#[uniffi::remote(Enum)]
pub enum NextLook {
    Heads,
    CentreShot,
    CableOrYoke,
    Timing,
    Spine,
    Grip,
    AnotherKit,
}
