//! One arrow that makes the picture.

use crate::frame::{ArrowKind, PointMm};
use crate::group::{Group, Impact};
use crate::units::TWENTY_YARDS_M;
use crate::verdict::deliberation::{Deliberation, is_settled};
use crate::verdict::seen::outliers::{Outlier, standing_faces};
use crate::verdict::{Adjustment, Aim};

/// A single arrow makes the picture where it moves the split sideways by this share of the tolerance. Chosen by
/// hand; not tuned.
const MOVES_SHARE: f64 = 0.5;
/// An arrow without a number is shot again so often at most: one that is out each time is no accident.
const MOST_AGAIN: usize = 3;

/// Where arrows of a bad habit landed in the trials of the bow as it stands, the latest first: wild where they keep landing
/// farther from the others than what is allowed.
fn habitual<'a>(deliberation: &Deliberation<'a>, aim: &Aim) -> Vec<Outlier<'a>> {
    let allowed_mm = aim.tolerance_mm * TWENTY_YARDS_M / aim.distance_m;
    let faces = standing_faces(&deliberation.belief);
    let mut found = Vec::new();
    for habit in &deliberation.habits {
        for (trial, distance_m, impacts) in faces.iter().copied().rev() {
            let own = |impact: &Impact| {
                impact.counts() && impact.kind == habit.kind && impact.arrow == Some(habit.arrow)
            };
            if let Some(index) = impacts.iter().position(own) {
                found.push(Outlier {
                    trial,
                    kind: habit.kind,
                    index: index as u32,
                    impacts,
                    distance_m,
                    wild: habit.away.x_mm.hypot(habit.away.y_mm) > allowed_mm,
                });
            }
        }
    }
    found
}

/// An arrow that stands apart in its group, or keeps doing so: a wild one, or one that makes the picture, without which the
/// split is another.
pub(crate) fn arrow(deliberation: &Deliberation) -> Option<Adjustment> {
    let aim = deliberation.aims.first()?;
    let habitual = habitual(deliberation, aim);
    let mut suspects = deliberation.outliers.iter().chain(&habitual);
    let latest = standing_faces(&deliberation.belief)
        .last()
        .map(|face| face.0);
    // What is in whatever an older round shows is not held up by it.
    let settled = is_settled(deliberation);
    let guilty = suspects.find(|one| {
        let counts = !settled || Some(one.trial) == latest;
        counts && (one.wild || makes_the_picture(one, aim)) && !shot_enough(deliberation, one)
    })?;
    let impact = guilty.impacts.get(guilty.index as usize)?;
    Some(Adjustment::Arrow {
        trial: guilty.trial,
        arrow_kind: guilty.kind,
        index: guilty.index,
        arrow: impact.arrow,
        keeps: impact
            .arrow
            .is_some_and(|arrow| deliberation.habit(arrow, guilty.kind).is_some()),
    })
}

/// Whether arrows of its kind without a number were out so often, left out or not, that once more shows nothing new.
fn shot_enough(deliberation: &Deliberation, outlier: &Outlier) -> bool {
    let of_kind = |impact: &&Impact| impact.kind == outlier.kind && impact.arrow.is_none();
    let own = outlier.impacts.get(outlier.index as usize);
    let faces = standing_faces(&deliberation.belief);
    let left_out = faces.iter().flat_map(|face| face.2.iter().filter(of_kind));
    let left_out = left_out.filter(|impact| !impact.counts()).count();
    let others = deliberation.outliers.iter();
    let apart = others.filter(|other| other.kind == outlier.kind).count();
    own.is_some_and(|own| of_kind(&own)) && left_out + apart > MOST_AGAIN
}

/// Whether the split is another without it, sideways.
fn makes_the_picture(outlier: &Outlier, aim: &Aim) -> bool {
    if (outlier.distance_m - aim.distance_m).abs() > 1.0 {
        return false;
    }
    let without: Vec<Impact> = outlier
        .impacts
        .iter()
        .enumerate()
        .filter(|(index, _)| *index != outlier.index as usize)
        .map(|(_, impact)| impact.clone())
        .collect();
    match (split(outlier.impacts, aim), split(&without, aim)) {
        (Some(with), Some(without)) => {
            (with.x_mm - without.x_mm).abs() > MOVES_SHARE * aim.tolerance_mm
        }
        _ => false,
    }
}

fn split(impacts: &[Impact], aim: &Aim) -> Option<PointMm> {
    let centre = |kind| Group::of(kind, impacts).ok().map(|group| group.centre);
    Some(centre(aim.probe.arrow())? - centre(ArrowKind::Fletched)?)
}
