//! Trials: saving them and leaving an arrow out with a reason.

use super::bows::refuse_during_swap;
use super::{Answer, Workshop, WorkshopError};
use crate::record::{Exclusion, Field, FieldError, SetupState, Trial, TrialDraft};
use crate::store::{self, NewTrial};

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
            let new = NewTrial {
                bow_id,
                fitting_id: fitted.id,
                setup: SetupState::after(&store::changes(tx, bow_id)?),
                shot,
            };
            let id = store::insert_trial(tx, &new, now_ms)?;
            Ok(store::trial(tx, id)?)
        })
    }

    /// Every trial of a bow, oldest first.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn trials(&self, bow_id: i64) -> Answer<Vec<Trial>> {
        Ok(store::trials(self.store.reader(), bow_id)?)
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
        self.store.write(|tx| {
            let mut trial = store::trial(tx, trial_id)?;
            let missing = FieldError::OutOfRange {
                field: Field::ArrowNumber,
                value: f64::from(index),
                low: 0.0,
                high: trial.shot.impacts.len() as f64 - 1.0,
            };
            let impact = trial.shot.impacts.get_mut(index as usize);
            impact.ok_or(missing)?.excluded = reason;
            store::update_marks(tx, trial_id, &trial.shot)?;
            Ok(trial)
        })
    }
}
