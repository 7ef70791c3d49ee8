//! The guided swap.

use shimwright::frame::Side;
use shimwright::spacer::{Axle, Fitting, Seat};
use shimwright::swap::{
    AxleState, Bench, Caution, Found, Purpose, Spacers, Step, StepKind, Swap, SwapEvent,
};

#[uniffi::remote(Enum)]
pub enum Spacers {
    In { seat: Seat },
    OutUnchecked { recorded: Seat },
    Out,
}

#[uniffi::remote(Record)]
pub struct AxleState {
    pub spacers: Spacers,
    pub axle_in: bool,
    pub screw_in: bool,
}

#[uniffi::remote(Record)]
pub struct Bench {
    pub pressed: bool,
    pub top: AxleState,
    pub bottom: AxleState,
}

#[uniffi::remote(Enum)]
pub enum StepKind {
    PutArrowsAway,
    InspectForDamage,
    ReadInstructions,
    LayOutPieces,
    PhotographPaths,
    PressEvenly,
    TakeOutScrew,
    SupportCam,
    PushAxleOut,
    TakeSpacersOut,
    ConfirmFound,
    SetSpacers,
    AxleHome,
    ScrewSnug,
    SpinAndSidePlay,
    CheckTracks,
    ReleasePress,
    PartialDraw,
    FirstShot,
}

#[uniffi::remote(Enum)]
pub enum Caution {
    NeverLooseWithoutArrow,
    DamageStops,
    MakerInstructionsFirst,
    QualifiedTechnician,
    RightPress,
    EyesAndFingers,
    UnevenTips,
    UnevenEnds,
    NoForce,
    CamDrops,
    HoldTwists,
    BindingStops,
    OnePairOnly,
    OffTrackStops,
    SafeDirection,
    NoBroadheads,
}

#[uniffi::remote(Record)]
pub struct Step {
    pub kind: StepKind,
    pub axle: Option<Axle>,
    pub seat: Option<Seat>,
    pub cautions: Vec<Caution>,
    pub after: Bench,
}

#[uniffi::remote(Enum)]
pub enum Purpose {
    Fit,
    PutBack,
    CloseUp,
}

#[uniffi::remote(Record)]
pub struct Swap {
    pub origin: Fitting,
    pub target: Fitting,
    pub purpose: Purpose,
    pub start: Bench,
    pub confirmed: u32,
}

#[uniffi::remote(Enum)]
pub enum Found {
    AsRecorded,
    Seat { seat: Seat },
    Pieces { left_mm: f64, right_mm: f64 },
    MixedPair { left_mm: f64, right_mm: f64 },
    OnePiece { side: Side, thickness_mm: f64 },
    ThickSide { thick: Side, note: String },
}

#[uniffi::remote(Enum)]
pub enum SwapEvent {
    GoOn,
    Finished {
        fitting: Fitting,
    },
    Mismatch {
        axle: Axle,
        recorded: Seat,
        found: Seat,
        corrected: Fitting,
    },
    MixedPair {
        axle: Axle,
        left_mm: f64,
        right_mm: f64,
    },
    PairUnknown {
        axle: Axle,
        thick: Side,
        as_recorded: bool,
        note: String,
    },
}
