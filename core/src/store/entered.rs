//! A change as it was entered and as it stands: what was shot since was recorded as shot after the former, and counts as
//! shot after the latter.

use crate::record::{ChangeRecord, SetupChange, SetupState};

/// A change of the set-up with what its first entry said.
#[derive(Debug, Clone)]
pub(crate) struct EnteredChange {
    /// As it stands now.
    pub(crate) record: ChangeRecord,
    /// As it was first entered.
    pub(crate) entered: SetupChange,
    /// Logical time of its entry.
    pub(super) born: i64,
}

impl EnteredChange {
    /// Takes what a later entry says of it; when it was done stays.
    pub(super) fn put_right(&mut self, later: ChangeRecord) {
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

/// The state after these changes, oldest first, as each was first entered.
pub(crate) fn as_entered<'a>(changes: impl IntoIterator<Item = &'a EnteredChange>) -> SetupState {
    SetupState::after(changes.into_iter().map(|change| &change.entered))
}

/// The state that was recorded with something shot at the logical time `born`, now that the changes of its bow, oldest first,
/// were put right. What does not follow from the changes before it was recorded apart, on a phone that did not know them all:
/// of that each part stays as it is, less the epochs that never began.
pub(super) fn put_right(recorded: SetupState, changes: &[EnteredChange], born: i64) -> SetupState {
    let before = changes.iter().filter(|change| change.born < born);
    let was = as_entered(before.clone());
    let counted = before.map(|change| &change.record).filter(|it| !it.struck);
    let is = SetupState::after(counted.map(|it| &it.change));
    let begun = changes.iter().filter(|it| it.entered.kind.starts_epoch());
    let begun = begun.take(usize::try_from(recorded.epoch).unwrap_or(0));
    let never = begun.filter(|it| it.begins_no_more()).count() as i64;
    // What follows from the entries is the very figure that was entered, not one near it.
    let follows = |own: f64, was: f64| own.to_bits() == was.to_bits();
    let place = |own: f64, was: f64, is: f64| if follows(own, was) { is } else { own };
    SetupState {
        rest_mm: place(recorded.rest_mm, was.rest_mm, is.rest_mm),
        nock_mm: place(recorded.nock_mm, was.nock_mm, is.nock_mm),
        epoch: if recorded.epoch == was.epoch {
            is.epoch
        } else {
            recorded.epoch - never
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::ChangeKind;

    fn change(id: i64, kind: ChangeKind, value_mm: Option<f64>) -> EnteredChange {
        let entered = SetupChange {
            kind,
            value_mm,
            note: String::new(),
            at_ms: id,
        };
        EnteredChange {
            record: ChangeRecord {
                id,
                bow_id: 1,
                change: entered.clone(),
                struck: false,
            },
            entered,
            born: 10 * id,
        }
    }

    #[test]
    fn what_was_recorded_apart_keeps_its_place_and_loses_epochs_that_never_began() {
        let mut changes = [
            change(1, ChangeKind::NewString, None),
            change(2, ChangeKind::RestMoved, Some(0.8)),
            change(3, ChangeKind::NewCables, None),
        ];
        let own = as_entered(&changes);
        // On the phone that did not know of the rest's move, nor of the cables.
        let apart = SetupState {
            rest_mm: 0.3,
            nock_mm: 0.0,
            epoch: 1,
        };
        changes[0].record.struck = true;
        changes[1].record.change.value_mm = Some(-0.8);
        let right = put_right(own, &changes, 40);
        assert_eq!(
            (right.rest_mm.to_bits(), right.epoch),
            ((-0.8_f64).to_bits(), 1)
        );
        let right = put_right(apart, &changes, 40);
        assert_eq!(
            (right.rest_mm.to_bits(), right.epoch),
            (0.3_f64.to_bits(), 0)
        );
    }
}
