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

/// The same with what its first entry said: what was shot after it was recorded as shot so.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct EnteredChange {
    /// As it stands now.
    pub(crate) record: ChangeRecord,
    /// As it was first entered.
    pub(crate) entered: SetupChange,
    /// Logical time of its entry.
    pub(crate) born: i64,
}

impl EnteredChange {
    /// Takes what a later entry says of it; when it was done stays.
    pub(crate) fn put_right(&mut self, later: ChangeRecord) {
        let at_ms = self.record.change.at_ms;
        self.record.change = SetupChange {
            at_ms,
            ..later.change
        };
        self.record.struck = later.struck;
    }

    /// Whether it began an epoch when it was entered and does so no more.
    fn begins_no_more(&self) -> bool {
        let begins = !self.record.struck && self.record.change.kind.starts_epoch();
        self.entered.kind.starts_epoch() && !begins
    }
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
    pub fn after(changes: &[SetupChange]) -> Self {
        changes.iter().fold(Self::default(), Self::changed)
    }

    /// The state after these changes, oldest first, as each was first entered.
    pub(crate) fn entered<'a>(changes: impl IntoIterator<Item = &'a EnteredChange>) -> Self {
        let entered = changes.into_iter().map(|change| &change.entered);
        entered.fold(Self::default(), Self::changed)
    }

    /// The state that was recorded with something shot at the logical time `born`, now that the changes of its
    /// bow, oldest first, were put right. What does not follow from the changes before it was recorded apart, on
    /// a phone that did not know them all: of that each part stays as it is, less the epochs that never began.
    pub(crate) fn put_right(self, changes: &[EnteredChange], born: i64) -> Self {
        let before = changes.iter().filter(|change| change.born < born);
        let was = Self::entered(before.clone());
        let counted = before.map(|change| &change.record).filter(|it| !it.struck);
        let is = counted
            .map(|it| &it.change)
            .fold(Self::default(), Self::changed);
        let begun = changes.iter().filter(|it| it.entered.kind.starts_epoch());
        let begun = begun.take(usize::try_from(self.epoch).unwrap_or(0));
        let apart = self.epoch - begun.filter(|it| it.begins_no_more()).count() as i64;
        // What follows from the entries is the very figure that was entered, not one near it.
        let follows = |own: f64, was: f64| own.to_bits() == was.to_bits();
        let place = |own: f64, was: f64, is: f64| if follows(own, was) { is } else { own };
        Self {
            rest_mm: place(self.rest_mm, was.rest_mm, is.rest_mm),
            nock_mm: place(self.nock_mm, was.nock_mm, is.nock_mm),
            epoch: if self.epoch == was.epoch {
                is.epoch
            } else {
                apart
            },
        }
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
