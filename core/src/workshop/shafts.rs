//! What a bow's shafts show over all its trials: numbered arrows that keep landing apart, and the
//! walk-back.

use super::evidence::impacts;
use super::history::groups;
use super::{Answer, Workshop};
use crate::frame::ArrowKind;
use crate::group::{Group, Impact};
use crate::record::{SetupState, Surface, Trial};
use crate::scatter::{ArrowHabit, PooledScatter, arrow_habits};
use crate::store;
use crate::walkback::{self, WalkBack};

impl Workshop {
    /// How each numbered arrow lands against the others of its groups, over the trials since arrows,
    /// string or cables were last changed; the most suspicious first. Empty until an arrow was part
    /// of two groups.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn arrow_habits(&self, bow_id: i64) -> Answer<Vec<ArrowHabit>> {
        let (now, faces) = self.faces(bow_id)?;
        let of_now = faces
            .iter()
            .filter(|trial| trial.setup.epoch == now.epoch)
            .map(|trial| (impacts(&trial.shot), trial.shot.distance_m));
        let shot: Vec<(Vec<Impact>, f64)> = of_now.collect();
        let given: Vec<(&[Impact], f64)> = shot.iter().map(|(all, d)| (&all[..], *d)).collect();
        Ok(arrow_habits(&given, &scatter(&faces)))
    }

    /// How the fletched groups move sideways with distance, as the bow is fitted and set now, taking
    /// every one as aimed at x = 0 of its face. None until two distances were shot.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn walk_back(&self, bow_id: i64) -> Answer<Option<WalkBack>> {
        let (now, faces) = self.faces(bow_id)?;
        let fitted = self.fitted(bow_id)?.map(|entry| entry.fitting);
        let standing = faces
            .iter()
            .filter(|trial| trial.setup == now && Some(&trial.fitting) == fitted.as_ref());
        let fletched: Vec<(Group, f64)> = standing
            .flat_map(|trial| {
                let of_trial = groups(&trial.shot).into_iter();
                of_trial.map(|group| (group, trial.shot.distance_m))
            })
            .filter(|(group, _)| group.kind == ArrowKind::Fletched)
            .collect();
        Ok(walkback::read(&fletched, &scatter(&faces)).ok())
    }

    /// The set-up now, and every trial shot at a face that counts.
    fn faces(&self, bow_id: i64) -> Answer<(SetupState, Vec<Trial>)> {
        let changes = store::changes(self.store.reader(), bow_id)?;
        let mut trials = self.trials(bow_id)?;
        trials.retain(|trial| trial.counts() && trial.shot.surface == Surface::Face);
        Ok((SetupState::after(&changes), trials))
    }
}

fn scatter(faces: &[Trial]) -> PooledScatter {
    let all: Vec<(Group, f64)> = faces
        .iter()
        .flat_map(|trial| {
            let of_trial = groups(&trial.shot).into_iter();
            of_trial.map(|group| (group, trial.shot.distance_m))
        })
        .collect();
    PooledScatter::pooled(all.iter().map(|(group, distance_m)| (group, *distance_m)))
}
