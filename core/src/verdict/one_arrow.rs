//! One arrow that makes the picture.

use crate::frame::ArrowKind;
use crate::group::{Group, Impact};

use super::deliberation::Deliberation;
use super::outliers::{Outlier, standing_faces};
use super::{Adjustment, Aim};

/// A single arrow makes the picture where it moves the split by this share of the tolerance. Chosen by
/// hand; not tuned.
const MOVES_SHARE: f64 = 0.5;

/// Where arrows of a bad habit landed in the trials of the bow as it stands, the latest first.
fn habitual<'a>(deliberation: &Deliberation<'a>) -> Vec<Outlier<'a>> {
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
                });
            }
        }
    }
    found
}

/// An arrow that makes the picture, one that stands apart in its group or one that keeps doing so:
/// without it the split is another.
pub(crate) fn arrow(deliberation: &Deliberation) -> Option<Adjustment> {
    let aim = deliberation.aims.first()?;
    let habitual = habitual(deliberation);
    let mut suspects = deliberation.outliers.iter().chain(&habitual);
    let guilty = suspects.find(|outlier| makes_the_picture(outlier, aim))?;
    let impact = guilty.impacts.get(guilty.index as usize)?;
    Some(Adjustment::Arrow {
        trial: guilty.trial,
        arrow_kind: guilty.kind,
        index: guilty.index,
        arrow: impact.arrow,
    })
}

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
    match (split_mm(outlier.impacts, aim), split_mm(&without, aim)) {
        (Some(with), Some(without)) => (with - without).abs() > MOVES_SHARE * aim.tolerance_mm,
        _ => false,
    }
}

fn split_mm(impacts: &[Impact], aim: &Aim) -> Option<f64> {
    let centre = |kind| Group::of(kind, impacts).ok().map(|group| group.centre.x_mm);
    Some(centre(aim.probe.arrow())? - centre(ArrowKind::Fletched)?)
}
