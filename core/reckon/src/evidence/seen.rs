//! Trials whose setting is known, in one canonical order.

use std::cmp::Ordering;

use crate::frame::{ArrowKind, PointMm};
use crate::group::{Group, Impact};

use super::{Shot, TrialEvidence};

const KINDS: [ArrowKind; 3] = [ArrowKind::Fletched, ArrowKind::Bare, ArrowKind::Broadhead];

/// A trial with the nock-plane offset it was shot at.
#[derive(Debug, Clone)]
pub(crate) struct Seen<'a> {
    pub(crate) trial: &'a TrialEvidence,
    pub(crate) offset_mm: f64,
    /// Its first impact in canonical order, (x, y).
    first: Option<(f64, f64)>,
    groups: Vec<Group>,
    tears: Vec<PointMm>,
}

impl<'a> Seen<'a> {
    /// Sums depend on their order by a rounding step. Arrows are therefore added in an order that
    /// neither the caller's list nor an exchange of left and right can change.
    pub(crate) fn new(trial: &'a TrialEvidence, offset_mm: f64) -> Self {
        let (mut impacts, mut tears) = (Vec::new(), Vec::new());
        match &trial.shot {
            Shot::Face { impacts: shot, .. } => impacts.extend(shot.iter().cloned()),
            Shot::Paper { tears: shot, .. } => {
                tears.extend(shot);
            }
        }
        impacts.sort_by(|a: &Impact, b: &Impact| {
            let key = |impact: &Impact| (impact.point.x_mm, impact.point.y_mm);
            a.kind
                .cmp(&b.kind)
                .then_with(|| upright_first(key(a), key(b)))
        });
        tears.sort_by(|a: &PointMm, b| upright_first((a.x_mm, a.y_mm), (b.x_mm, b.y_mm)));
        Self {
            trial,
            offset_mm,
            first: impacts
                .first()
                .map(|impact| (impact.point.x_mm, impact.point.y_mm)),
            groups: KINDS
                .into_iter()
                .filter_map(|kind| Group::of(kind, &impacts).ok())
                .collect(),
            tears,
        }
    }

    /// The group of one kind, if any of it counts.
    pub(crate) fn group(&self, kind: ArrowKind) -> Option<&Group> {
        self.groups.iter().find(|group| group.kind == kind)
    }

    /// Every group of the trial.
    pub(crate) fn groups(&self) -> &[Group] {
        &self.groups
    }

    /// Its tears in canonical order, mm.
    pub(crate) fn tears(&self) -> &[PointMm] {
        &self.tears
    }
}

fn upright_first(a: (f64, f64), b: (f64, f64)) -> Ordering {
    a.1.total_cmp(&b.1)
        .then_with(|| a.0.abs().total_cmp(&b.0.abs()))
}

/// Puts trials in an order that neither the caller's list nor an exchange of left and right can
/// change: by epoch and number, then by what was shot.
pub(crate) fn canonical(seen: &mut [Seen]) {
    seen.sort_by(|a, b| {
        let key = |seen: &Seen| (seen.trial.epoch, seen.trial.id);
        key(a).cmp(&key(b)).then_with(|| by_content(a, b))
    });
}

fn by_content(a: &Seen, b: &Seen) -> Ordering {
    let key = |seen: &Seen| {
        let distance_m = match &seen.trial.shot {
            Shot::Face { distance_m, .. } => *distance_m,
            Shot::Paper { paper_m, .. } => -*paper_m,
        };
        let first = seen
            .first
            .or(seen.tears.first().map(|tear| (tear.x_mm, tear.y_mm)))
            .unwrap_or_default();
        [
            distance_m,
            seen.trial.nock_mm,
            seen.trial.rest_mm.abs(),
            seen.offset_mm.abs(),
            first.1,
            first.0.abs(),
        ]
    };
    let (a, b) = (key(a), key(b));
    a.iter()
        .zip(&b)
        .map(|(x, y)| x.total_cmp(y))
        .find(|order| order.is_ne())
        .unwrap_or(Ordering::Equal)
}
