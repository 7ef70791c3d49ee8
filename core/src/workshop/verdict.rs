//! The verdict on a bow, from everything on record.

use std::collections::HashMap;

use super::evidence::{Background, evidence, kin};
use super::{Answer, Workshop, WorkshopError};
use crate::evidence::Relative;
use crate::record::{Bow, FittingRecord, KitRecord, SetupState, Trial, VerdictGiven};
use crate::spacer::Kit;
use crate::store::{self, NewVerdict};
use crate::verdict::{BowState, Case, CheckState, Checked, decide};

impl Workshop {
    /// What to do next with a bow, and why. The verdict is kept with the trials it used.
    ///
    /// # Errors
    /// [`WorkshopError::NoKit`], [`WorkshopError::NoFitting`], [`WorkshopError::SwapOpen`],
    /// [`WorkshopError::Verdict`]. Thin evidence is no error: the verdict then says so.
    pub fn give_verdict(&mut self, bow_id: i64, now_ms: i64) -> Answer<VerdictGiven> {
        if store::swap(self.store.reader(), bow_id)?.is_some() {
            return Err(WorkshopError::SwapOpen { bow_id });
        }
        let fitted = self.fitted(bow_id)?;
        let fitted = fitted.ok_or(WorkshopError::NoFitting { bow_id })?;
        let mut trials = self.trials(bow_id)?;
        trials.retain(Trial::counts);
        let case = self.case(bow_id, &fitted, &trials)?;
        let arrows = trials
            .iter()
            .rev()
            .find_map(|trial| trial.shot.arrow_setup_id);
        let verdict = decide(&case, self.transfer(arrows)?)?;
        self.store.write(|tx| {
            let new = NewVerdict {
                bow_id,
                fitting_id: fitted.id,
                trial_ids: trials.iter().map(|trial| trial.id).collect(),
                verdict: &verdict,
            };
            let id = store::append_verdict(tx, new, now_ms)?;
            store::touch_bow(tx, bow_id, now_ms)?;
            Ok(store::verdict(tx, id)?)
        })
    }

    /// A verdict that was given.
    ///
    /// # Errors
    /// No such verdict.
    pub fn verdict(&self, verdict_id: i64) -> Answer<VerdictGiven> {
        Ok(store::verdict(self.store.reader(), verdict_id)?)
    }

    /// The newest verdict on a bow.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn last_verdict(&self, bow_id: i64) -> Answer<Option<VerdictGiven>> {
        Ok(store::last_verdict(self.store.reader(), bow_id)?)
    }

    fn case(&self, bow_id: i64, fitted: &FittingRecord, trials: &[Trial]) -> Answer<Case> {
        let reader = self.store.reader();
        let bow = store::bow(reader, bow_id)?;
        let kit_id = bow.details.kit_id.ok_or(WorkshopError::NoKit { bow_id })?;
        let record = store::kit(reader, kit_id)?;
        let kits = kits(store::kits(reader)?)?;
        let behind = self.background(&bow, kit_id, kits.clone())?;
        let setup = SetupState::after(&behind.changes);
        let stock = Some(self.stock_of(&record, bow_id, &fitted.fitting)?);
        let now = BowState {
            axle_to_axle_mm: bow.details.axle_to_axle_mm,
            top_weight: bow.details.top_weight,
            fitted: fitted.fitting.clone(),
            rest_mm: Some(setup.rest_mm),
            nock_mm: Some(setup.nock_mm),
            epoch: Some(setup.epoch),
        };
        let mut settings = bow.details.wishes(&self.settings()?);
        settings.rest_room_mm = bow.details.room_left(setup.rest_mm);
        Ok(Case {
            stock,
            trials: trials
                .iter()
                .map(|trial| evidence(trial, &behind))
                .collect(),
            checks: self.pending_checks(bow_id)?,
            relatives: self.relatives(&bow, &kits)?,
            remembered: bow.details.remembered.clone(),
            ..Case::new(Kit::new(record.kit.clone())?, now, settings)
        })
    }

    fn background(&self, bow: &Bow, kit_now: i64, kits: HashMap<i64, Kit>) -> Answer<Background> {
        let reader = self.store.reader();
        Ok(Background {
            kits,
            kit_now,
            geometry: bow.details.geometry(),
            entries: store::fittings(reader, bow.id)?,
            changes: store::changes(reader, bow.id)?,
        })
    }

    /// The other bows of its family that have been shot.
    fn relatives(&self, bow: &Bow, kits: &HashMap<i64, Kit>) -> Answer<Vec<Relative>> {
        let reader = self.store.reader();
        let mut relatives = Vec::new();
        for other in store::bows(reader)? {
            if other.id == bow.id || !other.details.is_kin_of(&bow.details) {
                continue;
            }
            let Some(kit_id) = other.details.kit_id else {
                continue;
            };
            let behind = self.background(&other, kit_id, kits.clone())?;
            let trials = self.trials(other.id)?;
            let trials: Vec<_> = trials.iter().map(|trial| kin(trial, &behind)).collect();
            if !trials.is_empty() {
                relatives.push(Relative { trials });
            }
        }
        Ok(relatives)
    }

    fn pending_checks(&self, bow_id: i64) -> Answer<Vec<Checked>> {
        let maker = store::bow(self.store.reader(), bow_id)?.maker;
        let checks = self.checks(bow_id)?.into_iter();
        let pending =
            checks.filter(|check| check.state != CheckState::Ok && check.item.bears_on_split());
        Ok(pending.map(|check| check.judged(&maker)).collect())
    }
}

fn kits(records: Vec<KitRecord>) -> Answer<HashMap<i64, Kit>> {
    let checked = |record: KitRecord| Ok((record.id, Kit::new(record.kit)?));
    records.into_iter().map(checked).collect()
}
