//! What the workshop remembers.

use shimwright::evidence::{Probe, RememberedSwap};
use shimwright::record::{
    Bow, BowDetails, ChangeKind, ChangeRecord, Field, FittingReason, FittingRecord, Hand,
    KitRecord, PairOnShelf, Reopened, SetupChange, SetupCheck, SetupState, Shelf, SwapProgress,
};
use shimwright::spacer::{Fitting, KitDraft, PairCount};
use shimwright::swap::Swap;
use shimwright::verdict::{CheckItem, CheckState, MakerRange, RestRoom};

#[uniffi::remote(Enum)]
pub enum Hand {
    Right,
    Left,
}

#[uniffi::remote(Record)]
pub struct BowDetails {
    pub name: String,
    pub owner: String,
    pub family: String,
    pub hand: Hand,
    pub axle_to_axle_mm: f64,
    pub brace_height_mm: Option<f64>,
    pub draw_weight_n: Option<f64>,
    pub draw_length_mm: Option<f64>,
    pub top_weight: f64,
    pub cam_note: String,
    pub kit_id: Option<i64>,
    pub priority: Vec<Probe>,
    pub tolerance_mm: Option<f64>,
    pub tolerance_distance_m: Option<f64>,
    pub rest_room: Option<RestRoom>,
    pub remembered: Vec<RememberedSwap>,
    pub notes: String,
}

#[uniffi::remote(Record)]
pub struct RestRoom {
    pub left: f64,
    pub right: f64,
}

#[uniffi::remote(Record)]
pub struct RememberedSwap {
    pub from: Fitting,
    pub to: Fitting,
    pub moved_mm: f64,
    pub sd_mm: f64,
    pub distance_m: f64,
}

#[uniffi::remote(Record)]
pub struct Bow {
    pub id: i64,
    pub details: BowDetails,
    pub added_ms: i64,
    pub used_ms: i64,
    pub archived_ms: Option<i64>,
    pub maker: Vec<MakerRange>,
}

#[uniffi::remote(Enum)]
pub enum ChangeKind {
    NewString,
    NewCables,
    NewArrows,
    NewRest,
    DrawChanged,
    CamsAdjusted,
    RestMoved,
    NockMoved,
    MixedPairFound,
    PairUnknown,
    SideConfirmed,
}

#[uniffi::remote(Record)]
pub struct SetupChange {
    pub kind: ChangeKind,
    pub value_mm: Option<f64>,
    pub note: String,
    pub at_ms: i64,
}

#[uniffi::remote(Record)]
pub struct ChangeRecord {
    pub id: i64,
    pub bow_id: i64,
    pub change: SetupChange,
    pub struck: bool,
}

#[uniffi::remote(Record)]
pub struct SetupState {
    pub rest_mm: f64,
    pub nock_mm: f64,
    pub epoch: i64,
}

#[uniffi::remote(Record)]
pub struct SetupCheck {
    pub item: CheckItem,
    pub state: CheckState,
    pub measured: Option<f64>,
    pub note: String,
    pub at_ms: Option<i64>,
    #[uniffi(default = None)]
    pub reopened: Option<Reopened>,
}

#[uniffi::remote(Enum)]
pub enum Field {
    Name,
    Label,
    AxleToAxle,
    BraceHeight,
    DrawWeight,
    DrawLength,
    TopWeight,
    RestPlace,
    NockPlace,
    RestRoom,
    RememberedMove,
    RememberedDoubt,
    CheckValue,
    FaceDistance,
    PaperDistance,
    ImpactPlace,
    PlaceSd,
    TearLength,
    ArrowNumber,
    PairSets,
    Tolerance,
    ToleranceDistance,
    TiltLimit,
    LensK1,
    ArrowFigure,
}

#[uniffi::remote(Enum)]
pub enum FittingReason {
    TakenIn,
    Verdict,
    OwnChoice,
    PutBack,
    FoundInside,
}

#[uniffi::remote(Record)]
pub struct FittingRecord {
    pub id: i64,
    pub bow_id: i64,
    pub kit_id: i64,
    pub fitting: Fitting,
    pub reason: FittingReason,
    pub verdict_id: Option<i64>,
    pub corrects_id: Option<i64>,
    pub at_ms: i64,
}

#[uniffi::remote(Record)]
pub struct KitRecord {
    pub id: i64,
    pub kit: KitDraft,
    pub owned: Vec<PairCount>,
    pub archived_ms: Option<i64>,
}

#[uniffi::remote(Record)]
pub struct PairOnShelf {
    pub pair: String,
    pub owned: u32,
    pub fitted: u32,
    pub on_shelf: u32,
}

#[uniffi::remote(Record)]
pub struct Shelf {
    pub pairs: Vec<PairOnShelf>,
}

#[uniffi::remote(Record)]
pub struct SwapProgress {
    pub bow_id: i64,
    pub swap: Swap,
    pub reason: FittingReason,
    pub verdict_id: Option<i64>,
    pub started_ms: i64,
    pub touched_ms: i64,
}
