//! Set-up checks and set-up changes.

use super::{Answer, Workshop};
use crate::record::{
    Bow, ChangeRecord, Field, FieldError, Reopened, SetupChange, SetupCheck, SetupState,
};
use crate::store::{self, StoreError, Transaction};
use crate::verdict::{CheckItem, CheckState, MakerRange};

impl Workshop {
    /// Every check of a bow in trade order, unanswered ones as open, measured ones held against what
    /// the bow maker states.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn checks(&self, bow_id: i64) -> Answer<Vec<SetupCheck>> {
        let reader = self.store.reader();
        let answered = store::checks(reader, bow_id)?;
        let maker = store::bow(reader, bow_id)?.maker;
        let of = |item| {
            let found = answered.iter().find(|check| check.item == item);
            let found = found
                .cloned()
                .unwrap_or_else(|| SetupCheck::unanswered(item));
            found.held_against(&maker)
        };
        Ok(CheckItem::ALL.into_iter().map(of).collect())
    }

    /// Records the answer to one check.
    ///
    /// # Errors
    /// [`super::WorkshopError::Field`] for a value out of range; no such bow.
    pub fn answer_check(&mut self, bow_id: i64, check: &SetupCheck, now_ms: i64) -> Answer<()> {
        check.check()?;
        self.store.write(|tx| {
            store::touch_bow(tx, bow_id, now_ms)?;
            Ok(store::append_check(tx, bow_id, check, now_ms)?)
        })
    }

    /// Enters what the bow maker states for a measured check, in place of what was entered before; a
    /// range without ends takes it out.
    ///
    /// # Errors
    /// [`super::WorkshopError::Field`] for an end out of range or a low end above the high one; no
    /// such bow.
    pub fn save_maker_range(
        &mut self,
        bow_id: i64,
        range: &MakerRange,
        now_ms: i64,
    ) -> Answer<Bow> {
        check_range(range)?;
        self.store.write(|tx| {
            let mut maker = store::bow(tx, bow_id)?.maker;
            maker.retain(|stated| stated.item != range.item);
            if range.low.or(range.high).is_some() {
                maker.push(*range);
            }
            store::save_maker(tx, bow_id, &maker, now_ms)?;
            store::touch_bow(tx, bow_id, now_ms)?;
            Ok(store::bow(tx, bow_id)?)
        })
    }

    /// Answers every open check with "right": the technician has looked at all of them.
    ///
    /// # Errors
    /// No such bow.
    pub fn pass_open_checks(&mut self, bow_id: i64, now_ms: i64) -> Answer<Vec<SetupCheck>> {
        let checks = self.checks(bow_id)?.into_iter();
        let open = checks.filter(|check| check.state == CheckState::Open);
        self.store.write(|tx| {
            store::touch_bow(tx, bow_id, now_ms)?;
            for check in open {
                let passed = SetupCheck {
                    state: CheckState::Ok,
                    reopened: None,
                    ..check
                };
                store::append_check(tx, bow_id, &passed, now_ms)?;
            }
            Ok::<_, super::WorkshopError>(())
        })?;
        self.checks(bow_id)
    }

    /// Records a change of the set-up and opens the checks it calls into question.
    ///
    /// # Errors
    /// [`super::WorkshopError::Field`] where a moved rest or nocking point comes without its place.
    pub fn record_change(&mut self, bow_id: i64, change: &SetupChange) -> Answer<ChangeRecord> {
        change.check()?;
        self.store.write(|tx| {
            store::touch_bow(tx, bow_id, change.at_ms)?;
            let id = store::append_change(tx, bow_id, change)?;
            let by = Reopened::Change { kind: change.kind };
            for &item in change.kind.reopens() {
                let open = SetupCheck::reopened(item, by);
                store::append_check(tx, bow_id, &open, change.at_ms)?;
            }
            Ok(store::change(tx, id)?)
        })
    }

    /// A change of the set-up as it stands on record.
    ///
    /// # Errors
    /// No such change.
    pub fn change(&self, change_id: i64) -> Answer<ChangeRecord> {
        Ok(store::change(self.store.reader(), change_id)?)
    }

    /// Where rest and nocking point stood before a change, as everything before it stands on record.
    ///
    /// # Errors
    /// No such change.
    pub fn setup_before(&self, change_id: i64) -> Answer<SetupState> {
        let reader = self.store.reader();
        let bow_id = store::change(reader, change_id)?.bow_id;
        let recorded = store::recorded_changes(reader, bow_id)?;
        let records = recorded.iter().map(|entry| &entry.record);
        let earlier = records.take_while(|record| record.id != change_id);
        let counted = earlier.filter(|record| !record.struck);
        Ok(SetupState::after(counted.map(|record| &record.change)))
    }

    /// Puts right what was entered as changed; when it was done stays. What was shot since counts as shot
    /// so. Undone by correcting it back.
    ///
    /// # Errors
    /// As [`Workshop::record_change`]; no such change.
    pub fn correct_change(
        &mut self,
        change_id: i64,
        right: &SetupChange,
        now_ms: i64,
    ) -> Answer<ChangeRecord> {
        right.check()?;
        self.revise(change_id, now_ms, |record| {
            let at_ms = record.change.at_ms;
            record.change = SetupChange {
                at_ms,
                ..right.clone()
            };
        })
    }

    /// Strikes a change that was entered by mistake, or takes it in again: it stays on file, and what was
    /// shot since counts as if it had never been made. Checks that it opened stay open.
    ///
    /// # Errors
    /// No such change.
    pub fn strike_change(
        &mut self,
        change_id: i64,
        struck: bool,
        now_ms: i64,
    ) -> Answer<ChangeRecord> {
        self.revise(change_id, now_ms, |record| record.struck = struck)
    }

    fn revise(
        &mut self,
        change_id: i64,
        now_ms: i64,
        revised: impl FnOnce(&mut ChangeRecord),
    ) -> Answer<ChangeRecord> {
        self.store.write(|tx| {
            let known = store::change(tx, change_id)?;
            let mut record = known.clone();
            revised(&mut record);
            if record == known {
                return Ok(known);
            }
            store::touch_bow(tx, record.bow_id, now_ms)?;
            store::append_correction(tx, &record, now_ms)?;
            Ok(store::change(tx, change_id)?)
        })
    }
}

/// Opens what must be looked at again after a bow was pressed. What had failed stays failed: a swap
/// mends none of it.
pub(super) fn reopen_after_swap(
    tx: &Transaction,
    bow_id: i64,
    now_ms: i64,
) -> Result<(), StoreError> {
    let maker = store::bow(tx, bow_id)?.maker;
    let answered = store::checks(tx, bow_id)?.into_iter();
    let failed: Vec<CheckItem> = answered
        .map(|check| check.held_against(&maker))
        .filter(|check| check.state == CheckState::Failed)
        .map(|check| check.item)
        .collect();
    for item in CheckItem::AFTER_A_SWAP {
        if !failed.contains(&item) {
            let open = SetupCheck::reopened(item, Reopened::Swap);
            store::append_check(tx, bow_id, &open, now_ms)?;
        }
    }
    Ok(())
}

fn check_range(range: &MakerRange) -> Result<(), FieldError> {
    let field = Field::CheckValue;
    for end in [range.low, range.high] {
        field.check_given(end)?;
    }
    match (range.check(), range.low, range.high) {
        (Ok(()), ..) => Ok(()),
        (Err(_), Some(low), Some(value)) => Err(FieldError::OutOfRange {
            field,
            value,
            low,
            high: field.range().1,
        }),
        (Err(_), ..) => Err(FieldError::Empty { field }),
    }
}
