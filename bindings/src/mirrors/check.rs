//! Set-up checks.

use shimwright::verdict::{CheckItem, CheckState, MeasuredUnit};

#[uniffi::remote(Enum)]
pub enum CheckItem {
    LimbDamage,
    StringAndCables,
    AxleToAxle,
    BraceHeight,
    LimbBoltsEven,
    CamTiming,
    CamLean,
    NockFit,
    RestSound,
    CentreShot,
    NockingPoint,
    ArrowSpine,
    VaneClearance,
    BroadheadsTrue,
    ShooterSettled,
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
