//! What was changed on a bow besides its spacers.

use serde::{Deserialize, Serialize};

use super::{Field, FieldError};
use crate::verdict::CheckItem;

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
    /// The thick piece was found on the other side than recorded and its pair stayed unknown: what
    /// was shot before is no evidence.
    PairUnknown,
    /// The thick piece was found on the recorded side, without a look at its pair.
    SideConfirmed,
}

impl ChangeKind {
    /// Whether the bow's own fault must be learned anew afterwards. Moving the rest or the nocking
    /// point does not: its place is part of the evidence.
    pub const fn starts_epoch(self) -> bool {
        !matches!(
            self,
            Self::RestMoved | Self::NockMoved | Self::SideConfirmed
        )
    }

    /// Whether it says that the bow carried something else than its record: then nobody knows what
    /// the trials before it were shot on.
    pub const fn voids_fitting(self) -> bool {
        matches!(self, Self::MixedPairFound | Self::PairUnknown)
    }

    /// The checks that must be looked at again afterwards.
    pub const fn reopens(self) -> &'static [CheckItem] {
        use CheckItem as C;
        match self {
            Self::NewString => &[
                C::BraceHeight,
                C::CamTiming,
                C::PeepTrue,
                C::NockFit,
                C::NockingPoint,
                C::SightSet,
            ],
            Self::NewCables => &[C::AxleToAxle, C::BraceHeight, C::CamTiming, C::CamLean],
            Self::CamsAdjusted => &[C::CamTiming, C::CamLean],
            Self::DrawChanged => &[C::LimbBoltsEven, C::CamTiming, C::NockingPoint, C::SightSet],
            Self::NewRest | Self::RestMoved => {
                &[C::RestSound, C::CentreShot, C::VaneClearance, C::SightSet]
            }
            Self::NewArrows => &[
                C::ArrowSpine,
                C::NockFit,
                C::VaneClearance,
                C::BroadheadsTrue,
            ],
            Self::NockMoved => &[C::NockingPoint, C::VaneClearance, C::SightSet],
            Self::MixedPairFound | Self::PairUnknown | Self::SideConfirmed => &[],
        }
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

/// A change as it stands on record.
#[derive(Debug, Clone, PartialEq)]
pub struct ChangeRecord {
    /// Row id.
    pub id: i64,
    /// The bow.
    pub bow_id: i64,
    /// What was changed, and when, as it was last put right.
    pub change: SetupChange,
    /// Whether it was entered by mistake: nothing was changed, and it counts for nothing.
    pub struck: bool,
}

/// Where rest and nocking point stand, and which epoch it is.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SetupState {
    /// Sideways place of the rest, mm, positive right, from where it stood when its record starts.
    pub rest_mm: f64,
    /// Height of the nocking point, mm, positive up, from where it stood when its record starts.
    pub nock_mm: f64,
    /// Counts up with every change after which the bow's fault must be learned anew.
    pub epoch: i64,
}

impl SetupState {
    /// The state after these changes, oldest first. A new rest or string starts its place at 0.
    pub fn after<'a>(changes: impl IntoIterator<Item = &'a SetupChange>) -> Self {
        changes.into_iter().fold(Self::default(), Self::changed)
    }

    fn changed(mut self, change: &SetupChange) -> Self {
        match change.kind {
            ChangeKind::RestMoved => self.rest_mm = change.value_mm.unwrap_or(self.rest_mm),
            ChangeKind::NockMoved => self.nock_mm = change.value_mm.unwrap_or(self.nock_mm),
            ChangeKind::NewRest => self.rest_mm = 0.0,
            ChangeKind::NewString => self.nock_mm = 0.0,
            _ => {}
        }
        self.epoch += i64::from(change.kind.starts_epoch());
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn change(kind: ChangeKind, value_mm: Option<f64>) -> SetupChange {
        SetupChange {
            kind,
            value_mm,
            note: String::new(),
            at_ms: 1,
        }
    }

    #[test]
    fn a_moved_rest_keeps_the_epoch_and_a_new_one_starts_another_at_zero() {
        let moved = change(ChangeKind::RestMoved, Some(1.5));
        let state = SetupState::after(std::slice::from_ref(&moved));
        assert_eq!(
            (state.rest_mm.to_bits(), state.epoch),
            (1.5_f64.to_bits(), 0)
        );
        let state = SetupState::after(&[moved, change(ChangeKind::NewRest, None)]);
        assert_eq!(
            (state.rest_mm.to_bits(), state.epoch),
            (0.0_f64.to_bits(), 1)
        );
    }

    #[test]
    fn a_move_without_its_place_is_refused() {
        let refused = change(ChangeKind::NockMoved, None).check();
        assert_eq!(
            refused,
            Err(FieldError::Empty {
                field: Field::NockPlace
            })
        );
        assert!(change(ChangeKind::NewString, None).check().is_ok());
    }
}
