//! What must be right on a bow before any tuning.

use std::fmt;

use serde::{Deserialize, Serialize};

/// The set-up checks, in the order the trade does them: what can hurt someone first, then what
/// everything after it depends on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CheckItem {
    /// Limbs, limb pockets and cams without cracks, splinters or dents.
    LimbDamage,
    /// String and cables without frayed or broken strands, servings tight.
    StringAndCables,
    /// Axle-to-axle distance as the bow maker states.
    AxleToAxle,
    /// Brace height as the bow maker states.
    BraceHeight,
    /// Both limb bolts turned alike, within the maker's limit; draw weight as wanted.
    LimbBoltsEven,
    /// Cams reach their stops together.
    CamTiming,
    /// Cam lean as intended at rest and at full draw.
    CamLean,
    /// The peep turns true to the eye at full draw, its string neither twisted nor slipped.
    PeepTrue,
    /// Nocks fit the string alike and turn freely, without pinch from the loop.
    NockFit,
    /// Rest tight, dropping in time, touching nothing.
    RestSound,
    /// Centre shot: over the rest's hole in the riser, sideways on the line of the string.
    CentreShot,
    /// Nocking point near level, loop tight.
    NockingPoint,
    /// Shafts straight, of one mass and of one spine that suits the bow.
    ArrowSpine,
    /// Neither cables nor rest nor riser touch the vanes.
    VaneClearance,
    /// Broadheads mounted true and of the field points' mass.
    BroadheadsTrue,
    /// Grip, anchor and draw length settled.
    ShooterSettled,
    /// The sight set to where field points land now. The last of all: no split depends on it.
    SightSet,
}

/// What a check's measured value is counted in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MeasuredUnit {
    /// Millimetres.
    Millimetre,
    /// Newtons.
    Newton,
}

/// Its key, as a case names it.
impl fmt::Display for CheckItem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.serialize(f)
    }
}

impl CheckItem {
    /// Every check, in trade order.
    pub const ALL: [Self; 17] = [
        Self::LimbDamage,
        Self::StringAndCables,
        Self::AxleToAxle,
        Self::BraceHeight,
        Self::LimbBoltsEven,
        Self::CamTiming,
        Self::CamLean,
        Self::PeepTrue,
        Self::NockFit,
        Self::RestSound,
        Self::CentreShot,
        Self::NockingPoint,
        Self::ArrowSpine,
        Self::VaneClearance,
        Self::BroadheadsTrue,
        Self::ShooterSettled,
        Self::SightSet,
    ];

    /// The unit of the value that goes with the check, where there is one.
    pub const fn unit(self) -> Option<MeasuredUnit> {
        match self {
            Self::AxleToAxle
            | Self::BraceHeight
            | Self::CamTiming
            | Self::CamLean
            | Self::CentreShot
            | Self::NockingPoint => Some(MeasuredUnit::Millimetre),
            Self::LimbBoltsEven => Some(MeasuredUnit::Newton),
            _ => None,
        }
    }

    /// Whether shooting or pressing the bow is unsafe while this check is failed.
    pub const fn is_safety(self) -> bool {
        matches!(self, Self::LimbDamage | Self::StringAndCables)
    }

    /// Whether a split can come of it. Where the sight points moves probe and reference alike.
    pub const fn bears_on_split(self) -> bool {
        !matches!(self, Self::SightSet)
    }

    /// What must be looked at again once the bow was pressed and its spacers changed (common
    /// practice, no source): all that a cam carries with it when it moves, and the sight, because
    /// the field points moved too.
    pub const AFTER_A_SWAP: [Self; 8] = [
        Self::AxleToAxle,
        Self::BraceHeight,
        Self::CamTiming,
        Self::CamLean,
        Self::PeepTrue,
        Self::CentreShot,
        Self::VaneClearance,
        Self::SightSet,
    ];
}

/// Shots after which string, cables and cams have settled in a bow that was pressed (common
/// practice, no source): figures measured sooner may still drift.
pub const SETTLING_SHOTS: u32 = 20;

/// How a check stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CheckState {
    /// Not looked at yet, or to be looked at again.
    Open,
    /// Looked at and right.
    Ok,
    /// Looked at and wrong, or measured outside what the bow maker states.
    Failed,
}
