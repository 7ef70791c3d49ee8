//! From stored trials to what a verdict is computed from.

use std::collections::HashMap;

use crate::evidence::{Reading, Shot, TrialEvidence};
use crate::frame::{ArrowKind, Cov2};
use crate::group::Impact;
use crate::record::{FittingRecord, Surface, Trial, TrialDraft, TrialImpact};
use crate::spacer::{AxleGeometry, Kit};

/// The kits that a bow's trials were shot with, and which of them is its kit now.
pub(super) struct Kits {
    pub(super) by_id: HashMap<i64, Kit>,
    pub(super) now: i64,
    pub(super) geometry: AxleGeometry,
}

/// One trial as evidence. A fitting of another kit counts by its offset.
pub(super) fn evidence(trial: &Trial, entries: &[FittingRecord], kits: &Kits) -> TrialEvidence {
    let entry = FittingRecord::corrected(entries, trial.fitting_id);
    let kit_id = entry.map_or(kits.now, |entry| entry.kit_id);
    let fitted = (kit_id == kits.now).then(|| trial.fitting.clone());
    let offset_mm = match (&fitted, kits.by_id.get(&kit_id)) {
        (None, Some(kit)) => kit
            .arrangement(&trial.fitting, &kits.geometry)
            .ok()
            .map(|arrangement| arrangement.offset_mm),
        _ => None,
    };
    TrialEvidence {
        id: trial.id,
        fitted,
        offset_mm,
        rest_mm: trial.setup.rest_mm,
        nock_mm: trial.setup.nock_mm,
        epoch: trial.setup.epoch,
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
pub(super) fn reading(draft: &TrialDraft) -> Reading {
    let usual = Reading::default();
    draft.plane.as_ref().map_or(usual, |plane| Reading {
        sd_mm: plane.residual_mm.max(usual.sd_mm),
        scale_sd: plane.scale_sd,
    })
}
