//! What must be right on a bow before any tuning.

use serde::{Deserialize, Serialize};

use super::{Field, FieldError};

/// The set-up checks, in the order the trade does them: what can hurt someone first, then what
/// everything after it depends on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CheckItem {
    /// Limbs, limb pockets and cams without cracks, splinters or dents.
    LimbDamage,
    /// String and cables without frayed or broken strands, servings tight.
    StringAndCables,
    /// Axle-to-axle distance as the bow maker states it.
    AxleToAxle,
    /// Brace height as the bow maker states it.
    BraceHeight,
    /// Draw weight and length as wanted, limb bolts turned alike.
    DrawWeight,
    /// Both cams reach their stops together.
    CamTiming,
    /// Cam lean, at rest and at full draw.
    CamLean,
    /// The nock clips on and turns freely, without pinch from the loop.
    NockFit,
    /// The rest is tight, drops in time and clears the vanes.
    Rest,
    /// The arrow sits over the middle of the riser.
    CentreShot,
    /// Height of the nocking point.
    NockingPoint,
    /// Arrows straight, of one mass and of a spine that suits the bow.
    Arrows,
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

impl CheckItem {
    /// Every check, in trade order.
    pub const ALL: [Self; 12] = [
        Self::LimbDamage,
        Self::StringAndCables,
        Self::AxleToAxle,
        Self::BraceHeight,
        Self::DrawWeight,
        Self::CamTiming,
        Self::CamLean,
        Self::NockFit,
        Self::Rest,
        Self::CentreShot,
        Self::NockingPoint,
        Self::Arrows,
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
            Self::DrawWeight => Some(MeasuredUnit::Newton),
            _ => None,
        }
    }

    /// Whether shooting or pressing the bow is unsafe while this check is failed.
    pub const fn is_safety(self) -> bool {
        matches!(self, Self::LimbDamage | Self::StringAndCables)
    }
}

/// How a check stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CheckState {
    /// Not looked at yet, or to be looked at again.
    Open,
    /// Looked at and right.
    Ok,
    /// Looked at and wrong.
    Failed,
}

/// The latest answer to one check of one bow.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SetupCheck {
    /// Which check.
    pub item: CheckItem,
    /// How it stands.
    pub state: CheckState,
    /// What was measured, in [`CheckItem::unit`].
    pub measured: Option<f64>,
    /// What was seen.
    pub note: String,
    /// When, epoch ms; `None` where it was never answered.
    pub at_ms: Option<i64>,
}

impl SetupCheck {
    /// A check nobody has answered.
    pub fn unanswered(item: CheckItem) -> Self {
        Self {
            item,
            state: CheckState::Open,
            measured: None,
            note: String::new(),
            at_ms: None,
        }
    }

    /// Passes a check whose value can be stored.
    ///
    /// # Errors
    /// [`FieldError::OutOfRange`].
    pub fn check(&self) -> Result<(), FieldError> {
        Field::CheckValue.check_given(self.measured)
    }
}
