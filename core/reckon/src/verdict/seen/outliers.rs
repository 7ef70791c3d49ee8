//! Arrows that stand apart in their group.

use crate::evidence::{Belief, Seen, Shot};
use crate::flier::{Flier, flier};
use crate::frame::{ArrowKind, PointMm};
use crate::group::{Group, Impact};

use super::splits::as_it_stands;

/// An arrow that stands apart in a trial of the bow as it stands.
#[derive(Debug, Clone)]
pub(crate) struct Outlier<'a> {
    pub(crate) trial: i64,
    pub(crate) kind: ArrowKind,
    /// Its place in the trial's list, from 0.
    pub(crate) index: u32,
    pub(crate) impacts: &'a [Impact],
    pub(crate) distance_m: f64,
    /// Whether it stands so far apart that nobody would take it for one of the group.
    pub(crate) wild: bool,
}

/// One sound group in a thousand has an arrow so far apart.
const WILD_P: f64 = 0.001;
/// And it lies so many times as far from the centre of the others of its group as the farthest of them: a group that is all over
/// has no wild arrow.
const WILD_TIMES: f64 = 3.0;

/// Every arrow that stands apart in the trials of the bow as it stands.
pub(crate) fn outliers<'a>(belief: &Belief<'a>) -> Vec<Outlier<'a>> {
    let mut found = Vec::new();
    for (trial, distance_m, impacts) in standing_faces(belief) {
        for kind in [ArrowKind::Fletched, ArrowKind::Bare, ArrowKind::Broadhead] {
            let others = others(belief, trial, kind);
            if let Ok(Some(flier)) = flier(kind, impacts, distance_m, &others) {
                found.push(Outlier {
                    trial,
                    kind,
                    index: flier.index,
                    impacts,
                    distance_m,
                    wild: flier.p < WILD_P && is_alone(impacts, &flier, kind),
                });
            }
        }
    }
    found
}

/// Whether all others of its group lie together.
fn is_alone(impacts: &[Impact], flier: &Flier, kind: ArrowKind) -> bool {
    let others = impacts.iter().enumerate().filter(|(index, impact)| {
        *index != flier.index as usize && impact.kind == kind && impact.counts()
    });
    let others: Vec<Impact> = others.map(|(_, impact)| impact.clone()).collect();
    let Ok(group) = Group::of(kind, &others) else {
        return false;
    };
    let away_mm = |point: PointMm| {
        (point - group.centre)
            .x_mm
            .hypot((point - group.centre).y_mm)
    };
    let farthest_mm = others
        .iter()
        .map(|one| away_mm(one.point))
        .fold(0.0, f64::max);
    flier.away.x_mm.hypot(flier.away.y_mm) > WILD_TIMES * farthest_mm
}

/// Every other group of whoever shot the trial, with its distance, m.
fn others<'b>(belief: &'b Belief, trial: i64, kind: ArrowKind) -> Vec<(&'b Group, f64)> {
    let own = belief.seen.iter().find(|seen| seen.trial.id == trial);
    let shooter = own.and_then(|seen| seen.trial.shooter.as_ref());
    let of_shooter = |seen: &&Seen| seen.trial.shooter.as_ref() == shooter;
    let mut found = Vec::new();
    for seen in belief.seen.iter().filter(of_shooter) {
        let Shot::Face { distance_m, .. } = seen.trial.shot else {
            continue;
        };
        let own = |group: &&Group| seen.trial.id != trial || group.kind != kind;
        found.extend(
            seen.groups()
                .iter()
                .filter(own)
                .map(|group| (group, distance_m)),
        );
    }
    found
}

/// Trial, distance, m, and impacts of every face shot with the bow as it stands, by whoever shoots it now where he shot any.
pub(crate) fn standing_faces<'a>(belief: &Belief<'a>) -> Vec<(i64, f64, &'a [Impact])> {
    let own = faces(belief, |seen| seen.trial.shooter == belief.now.shooter);
    if own.is_empty() {
        faces(belief, |_| true)
    } else {
        own
    }
}

fn faces<'a>(belief: &Belief<'a>, counts: impl Fn(&Seen) -> bool) -> Vec<(i64, f64, &'a [Impact])> {
    let mut faces = Vec::new();
    let mut looked_at = None;
    for observation in &belief.observations {
        let again = looked_at.replace(observation.trial) == Some(observation.trial);
        let seen = &belief.seen[observation.trial];
        if again || !as_it_stands(belief, observation) || !counts(seen) {
            continue;
        }
        let trial = seen.trial;
        if let Shot::Face {
            distance_m,
            impacts,
            ..
        } = &trial.shot
        {
            faces.push((trial.id, *distance_m, impacts.as_slice()));
        }
    }
    faces
}
