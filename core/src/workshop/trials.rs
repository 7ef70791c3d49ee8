//! Trials: saving them, leaving an arrow out with a reason, putting them right and striking them.

use super::bows::refuse_during_swap;
use super::sheet::trial_splits;
use super::{Answer, Workshop, WorkshopError};
use crate::record::{
    Exclusion, Field, FieldError, Trial, TrialDraft, TrialLine, arrows_csv, trials_csv,
};
use crate::store::{self, ShotOn, Transaction};

impl Workshop {
    /// Saves a trial with what is fitted and set at this moment.
    ///
    /// # Errors
    /// [`WorkshopError::Field`] for an empty trial or a number out of range,
    /// [`WorkshopError::NoFitting`], [`WorkshopError::SwapOpen`] while the bow is in pieces.
    pub fn save_trial(&mut self, bow_id: i64, shot: &TrialDraft, now_ms: i64) -> Answer<Trial> {
        shot.check()?;
        self.store.write(|tx| {
            store::touch_bow(tx, bow_id, now_ms)?;
            refuse_during_swap(tx, bow_id)?;
            let fitted = store::fitted(tx, bow_id)?;
            let fitted = fitted.ok_or(WorkshopError::NoFitting { bow_id })?;
            let on = ShotOn {
                bow_id,
                fitting_id: fitted.id,
                entered: store::as_entered(&store::recorded_changes(tx, bow_id)?),
            };
            let id = store::insert_trial(tx, on, shot, now_ms)?;
            Ok(store::trial(tx, id)?)
        })
    }

    /// Every trial of a bow, struck ones too, oldest first.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn trials(&self, bow_id: i64) -> Answer<Vec<Trial>> {
        Ok(store::trials(self.store.reader(), bow_id)?)
    }

    /// Every arrow of a bow as CSV: see [`crate::record::arrows_csv`].
    ///
    /// # Errors
    /// No such bow, or the file cannot be read.
    pub fn arrows_csv(&self, bow_id: i64) -> Answer<String> {
        let reader = self.store.reader();
        let bow = store::bow(reader, bow_id)?;
        let trials = store::trials(reader, bow_id)?;
        Ok(arrows_csv(&bow.details.name, &trials))
    }

    /// Every trial of a bow as CSV, struck ones too: see [`crate::record::trials_csv`].
    ///
    /// # Errors
    /// No such bow, or the file cannot be read.
    pub fn trials_csv(&self, bow_id: i64) -> Answer<String> {
        let reader = self.store.reader();
        let bow = store::bow(reader, bow_id)?;
        let trials = store::trials(reader, bow_id)?;
        let setups = store::arrows_of(reader, bow_id)?;
        let splits = trial_splits(&trials);
        let lines = trials.iter().map(|trial| {
            let of_trial = splits.iter().filter(|(shot, _)| shot.id == trial.id);
            let setup = setups
                .iter()
                .find(|one| Some(one.id) == trial.shot.arrow_setup_id);
            TrialLine {
                trial,
                arrows: setup.map_or("", |record| &record.name),
                splits: of_trial.map(|(_, split)| *split).collect(),
            }
        });
        Ok(trials_csv(&bow.details.name, &lines.collect::<Vec<_>>()))
    }

    /// One trial.
    ///
    /// # Errors
    /// No such trial.
    pub fn trial(&self, trial_id: i64) -> Answer<Trial> {
        Ok(store::trial(self.store.reader(), trial_id)?)
    }

    /// Leaves an arrow out with a reason, or takes it in again; the mark itself stays on record.
    ///
    /// # Errors
    /// [`WorkshopError::Field`] where the trial has no such arrow.
    pub fn exclude_impact(
        &mut self,
        trial_id: i64,
        index: u32,
        reason: Option<Exclusion>,
    ) -> Answer<Trial> {
        self.rewrite(trial_id, |shot| {
            numbered(&mut shot.impacts, index)?.excluded = reason;
            Ok(())
        })
    }

    /// Leaves a tear out with a reason, or takes it in again.
    ///
    /// # Errors
    /// [`WorkshopError::Field`] where the trial has no such tear.
    pub fn exclude_tear(
        &mut self,
        trial_id: i64,
        index: u32,
        reason: Option<Exclusion>,
    ) -> Answer<Trial> {
        self.rewrite(trial_id, |shot| {
            numbered(&mut shot.tears, index)?.excluded = reason;
            Ok(())
        })
    }

    /// Puts right what a trial says was shot, and with which bow. On another bow it counts as shot
    /// with what that one carried at the time. When it was shot stays. Undone by correcting it back.
    ///
    /// # Errors
    /// As [`Workshop::save_trial`]; [`WorkshopError::NoFitting`] where nothing was recorded as fitted
    /// in the other bow by then.
    pub fn correct_trial(
        &mut self,
        trial_id: i64,
        bow_id: i64,
        shot: &TrialDraft,
    ) -> Answer<Trial> {
        shot.check()?;
        self.store.write(|tx| {
            let before = store::trial(tx, trial_id)?;
            if before.bow_id != bow_id {
                store::move_trial(tx, trial_id, then(tx, bow_id, before.at_ms)?)?;
            }
            store::correct_trial(tx, trial_id, shot)?;
            Ok(store::trial(tx, trial_id)?)
        })
    }

    /// Strikes a trial from the record, or takes it in again: it stays on file and counts for nothing.
    ///
    /// # Errors
    /// No such trial.
    pub fn strike_trial(&mut self, trial_id: i64, struck: bool, now_ms: i64) -> Answer<Trial> {
        self.tell_time(now_ms);
        self.store.write(|tx| {
            store::trial(tx, trial_id)?;
            store::strike_trial(tx, trial_id, struck.then_some(now_ms))?;
            Ok(store::trial(tx, trial_id)?)
        })
    }

    fn rewrite(
        &mut self,
        trial_id: i64,
        change: impl FnOnce(&mut TrialDraft) -> Answer<()>,
    ) -> Answer<Trial> {
        self.store.write(|tx| {
            let mut trial = store::trial(tx, trial_id)?;
            change(&mut trial.shot)?;
            store::correct_trial(tx, trial_id, &trial.shot)?;
            Ok(trial)
        })
    }
}

/// What a bow carried and how it stood at a time.
fn then(tx: &Transaction, bow_id: i64, at_ms: i64) -> Answer<ShotOn> {
    store::bow(tx, bow_id)?;
    let entries = store::fittings(tx, bow_id)?;
    let then = entries.iter().rfind(|entry| entry.at_ms <= at_ms);
    let mut changes = store::recorded_changes(tx, bow_id)?;
    changes.retain(|change| change.entered.at_ms <= at_ms);
    Ok(ShotOn {
        bow_id,
        fitting_id: then.ok_or(WorkshopError::NoFitting { bow_id })?.id,
        entered: store::as_entered(&changes),
    })
}

/// An arrow of those a trial has, by its number from 0.
fn numbered<T>(arrows: &mut [T], index: u32) -> Result<&mut T, FieldError> {
    let count = arrows.len();
    let arrow = arrows.get_mut(index as usize);
    arrow.ok_or(FieldError::OutOfRange {
        field: Field::ArrowNumber,
        value: f64::from(index),
        low: 0.0,
        high: count as f64 - 1.0,
    })
}
