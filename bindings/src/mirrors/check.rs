//! Set-up checks.

use shimwright::record::{ChangeKind, Reopened};
use shimwright::verdict::{CheckItem, CheckState, MakerRange, MeasuredUnit};

#[uniffi::remote(Enum)]
pub enum CheckItem {
    LimbDamage,
    StringAndCables,
    AxleToAxle,
    BraceHeight,
    LimbBoltsEven,
    CamTiming,
    CamLean,
    PeepTrue,
    NockFit,
    RestSound,
    CentreShot,
    NockingPoint,
    ArrowSpine,
    VaneClearance,
    BroadheadsTrue,
    ShooterSettled,
    SightSet,
}

#[uniffi::remote(Enum)]
pub enum CheckState {
    Open,
    Ok,
    Failed,
}

#[uniffi::remote(Enum)]
pub enum MeasuredUnit {
    Millimetre,
    Newton,
}

#[uniffi::remote(Record)]
pub struct MakerRange {
    pub item: CheckItem,
    pub low: Option<f64>,
    pub high: Option<f64>,
}

#[uniffi::remote(Enum)]
pub enum Reopened {
    Swap,
    Change { kind: ChangeKind },
}
