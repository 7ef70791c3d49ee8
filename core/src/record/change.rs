//! What was changed on a bow besides its spacers.

use serde::{Deserialize, Serialize};

use super::{Field, FieldError};

/// A change of the set-up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ChangeKind {
    /// A new bow string.
    NewString,
    /// New cables or yokes.
    NewCables,
    /// Other arrows, points or vanes.
    NewArrows,
    /// Another rest.
    NewRest,
    /// Draw weight or draw length altered.
    DrawChanged,
    /// Cam timing or lean adjusted (cable or yoke twists).
    CamsAdjusted,
    /// The same rest moved sideways; the value is its new place, mm, positive right.
    RestMoved,
    /// The nocking point moved; the value is its new height, mm, positive up.
    NockMoved,
    /// Spacers that are no matched pair were found inside: what was shot before is no evidence.
    MixedPairFound,
}

impl ChangeKind {
    /// Whether the bow's own fault must be learned anew afterwards. Moving the rest or the nocking
    /// point does not: its place is part of the evidence.
    pub const fn starts_epoch(self) -> bool {
        !matches!(self, Self::RestMoved | Self::NockMoved)
    }

    /// The field its value is checked as, where it needs one.
    pub const fn value_field(self) -> Option<Field> {
        match self {
            Self::RestMoved => Some(Field::RestPlace),
            Self::NockMoved => Some(Field::NockPlace),
            _ => None,
        }
    }
}

/// One recorded change.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SetupChange {
    /// What was changed.
    pub kind: ChangeKind,
    /// The new place, mm, for [`ChangeKind::RestMoved`] and [`ChangeKind::NockMoved`].
    pub value_mm: Option<f64>,
    /// What was done.
    pub note: String,
    /// When, epoch ms.
    pub at_ms: i64,
}

impl SetupChange {
    /// Passes a change that carries the value its kind needs, and no other.
    ///
    /// # Errors
    /// [`FieldError`] of the value's field.
    pub fn check(&self) -> Result<(), FieldError> {
        match (self.kind.value_field(), self.value_mm) {
            (Some(field), Some(value)) => field.check(value),
            (Some(field), None) => Err(FieldError::Empty { field }),
            (None, _) => Ok(()),
        }
    }
}
