//! What the shafts themselves show beside the split: a numbered arrow that keeps landing apart, and
//! fletched groups that wander sideways with distance.

use super::splits::stands;
use crate::evidence::{Belief, Shot};
use crate::frame::ArrowKind;
use crate::group::{Group, Impact};
use crate::scatter::{ArrowHabit, arrow_habits};
use crate::walkback::{self, WalkBack, WalkBackMeaning};

/// Numbered arrows that keep landing apart from their groups, the most suspicious first. A change
/// of arrows starts a new epoch, so only the present one's trials speak of the present arrows.
pub(crate) fn habits(belief: &Belief) -> Vec<ArrowHabit> {
    let of_now = belief
        .seen
        .iter()
        .filter(|seen| seen.trial.epoch == belief.now.epoch);
    let faces: Vec<(&[Impact], f64)> = of_now
        .filter_map(|seen| match &seen.trial.shot {
            Shot::Face {
                distance_m,
                impacts,
                ..
            } => Some((impacts.as_slice(), *distance_m)),
            Shot::Paper { .. } => None,
        })
        .collect();
    let mut habits = arrow_habits(&faces);
    habits.retain(ArrowHabit::stands_apart);
    habits
}

/// A slant or a bend of the fletched groups over three distances or more of the bow as it stands.
/// Two distances cannot tell the one from the other, and what lies beside the line at every
/// distance says how it was aimed, not how the bow shoots.
pub(crate) fn walk_back(belief: &Belief) -> Option<WalkBack> {
    let standing = belief.seen.iter().filter(|seen| stands(belief, seen));
    let groups: Vec<(Group, f64)> = standing
        .filter_map(|seen| match seen.trial.shot {
            Shot::Face { distance_m, .. } => Some((*seen.group(ArrowKind::Fletched)?, distance_m)),
            Shot::Paper { .. } => None,
        })
        .collect();
    let read = walkback::read(&groups, belief.scatter_now()).ok()?;
    let says = matches!(
        read.meaning,
        WalkBackMeaning::Slant { .. } | WalkBackMeaning::Bend { .. }
    );
    (says && read.bend_mm_per_m2.is_some()).then_some(read)
}
