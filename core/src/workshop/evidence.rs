//! From stored trials to what a verdict is computed from.

use std::collections::HashMap;

use crate::evidence::{FaceAccuracy, Shot, TrialEvidence};
use crate::frame::{ArrowKind, Cov2};
use crate::group::Impact;
use crate::record::{
    FittingRecord, SetupChange, SetupState, Surface, Trial, TrialDraft, TrialImpact,
};
use crate::spacer::{AxleGeometry, Kit};

/// What of a bow's record its trials are read with.
pub(super) struct Background {
    /// The kits its trials were shot with.
    pub(super) kits: HashMap<i64, Kit>,
    /// Which of them is its kit now.
    pub(super) kit_now: i64,
    pub(super) geometry: AxleGeometry,
    pub(super) entries: Vec<FittingRecord>,
    pub(super) changes: Vec<SetupChange>,
}

impl Background {
    /// Whether something else than the record was found inside on the very entry a trial was shot on,
    /// and stayed unknown: then nobody knows what the bow carried.
    fn was_unknown(&self, trial: &Trial) -> bool {
        let found = self.changes.iter().enumerate();
        let mut found = found.filter(|(_, change)| change.kind.voids_fitting());
        found.any(|(index, change)| {
            let before = SetupState::after(self.changes.get(..index).unwrap_or_default());
            let replaced = self
                .entries
                .iter()
                .any(|entry| entry.id > trial.fitting_id && entry.at_ms <= change.at_ms);
            before.epoch == trial.setup.epoch && !replaced
        })
    }
}

/// One trial as evidence. A fitting of another kit counts by its offset; what was shot on an
/// unknown pair counts for nothing.
pub(super) fn evidence(trial: &Trial, behind: &Background) -> TrialEvidence {
    let entry = FittingRecord::corrected(&behind.entries, trial.fitting_id);
    let kit_id = entry.map_or(behind.kit_now, |entry| entry.kit_id);
    let known = !behind.was_unknown(trial);
    let fitted = (known && kit_id == behind.kit_now).then(|| trial.fitting.clone());
    let other_kit = behind
        .kits
        .get(&kit_id)
        .filter(|_| known && fitted.is_none());
    let offset_mm = other_kit.and_then(|kit| {
        let arrangement = kit.arrangement(&trial.fitting, &behind.geometry).ok()?;
        Some(arrangement.offset_mm)
    });
    TrialEvidence {
        fitted,
        offset_mm,
        ..as_shot(trial)
    }
}

/// One trial of another bow as evidence for this one: its kit is its own, so it counts by its offset.
pub(super) fn kin(trial: &Trial, behind: &Background) -> TrialEvidence {
    let own = evidence(trial, behind);
    let kit = behind.kits.get(&behind.kit_now);
    let arrangement = own.fitted.as_ref().zip(kit).and_then(|(fitted, kit)| {
        let arrangement = kit.arrangement(fitted, &behind.geometry);
        arrangement.ok()
    });
    TrialEvidence {
        fitted: None,
        offset_mm: arrangement
            .map(|arrangement| arrangement.offset_mm)
            .or(own.offset_mm),
        ..own
    }
}

/// A trial by what was shot and how the bow was set, whatever was fitted: what splits are read from.
pub(super) fn as_shot(trial: &Trial) -> TrialEvidence {
    TrialEvidence {
        id: trial.id,
        fitted: None,
        offset_mm: None,
        rest_mm: trial.setup.rest_mm,
        nock_mm: trial.setup.nock_mm,
        epoch: trial.setup.epoch,
        shooter: Some(trial.shot.shooter.trim().to_owned()).filter(|label| !label.is_empty()),
        shot: shot(&trial.shot),
    }
}

fn shot(draft: &TrialDraft) -> Shot {
    match draft.surface {
        Surface::Face => Shot::Face {
            distance_m: draft.distance_m,
            impacts: impacts(draft),
            reading: reading(draft),
        },
        Surface::Paper => Shot::Paper {
            paper_m: draft.distance_m,
            tears: draft
                .tears
                .iter()
                .filter(|tear| tear.excluded.is_none() && tear.kind == ArrowKind::Fletched)
                .map(|tear| tear.tear)
                .collect(),
        },
    }
}

/// Every impact, in its own place of the list, with its own uncertainty.
pub(super) fn impacts(draft: &TrialDraft) -> Vec<Impact> {
    draft.impacts.iter().map(impact).collect()
}

fn impact(mark: &TrialImpact) -> Impact {
    Impact {
        kind: mark.kind,
        point: mark.at,
        cov: Cov2::round(mark.sd_mm),
        arrow: mark.arrow_number,
        excluded: mark.excluded.map(|reason| format!("{reason:?}")),
    }
}

/// The plane's own uncertainty. Impacts typed in have none: what their scale is off, their
/// measuring tape was off.
fn reading(draft: &TrialDraft) -> FaceAccuracy {
    let usual = FaceAccuracy::default();
    draft.plane.as_ref().map_or(usual, |plane| FaceAccuracy {
        sd_mm: plane.residual_mm.max(usual.sd_mm),
        scale_sd: plane.scale_sd,
        turn_sd_rad: plane.turn_sd_rad,
    })
}
