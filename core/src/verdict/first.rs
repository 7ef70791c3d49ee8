//! What must be put right before spacers.

use crate::evidence::Probe;

use super::decide::{Deliberation, FEWEST, arrows};
use super::{Adjustment, CheckState, suspect, trim};

/// A vertical fault this sure to be outside tolerance comes first.
const SURELY_VERTICAL: f64 = 0.8;

/// The first thing that must be put right, if any.
pub(crate) fn adjust_first(deliberation: &Deliberation) -> Option<Adjustment> {
    check(deliberation)
        .or_else(|| suspect::contradiction(&deliberation.belief))
        .or_else(|| suspect::arrow(deliberation))
        .or_else(|| suspect::spine(&deliberation.belief))
        .or_else(|| vertical(deliberation))
}

/// Failed checks before open ones, each in the order of the set-up list.
fn check(deliberation: &Deliberation) -> Option<Adjustment> {
    let of = |result| {
        let checks = deliberation
            .case
            .checks
            .iter()
            .filter(move |state| state.result == result);
        checks.map(|state| state.check).min()
    };
    of(CheckState::Failed)
        .map(|check| Adjustment::FailedCheck { check })
        .or_else(|| of(CheckState::Open).map(|check| Adjustment::OpenCheck { check }))
}

/// The vertical fault, where it is surely outside tolerance and larger than the sideways one.
fn vertical(deliberation: &Deliberation) -> Option<Adjustment> {
    let belief = &deliberation.belief;
    let aim = deliberation
        .aims
        .first()
        .filter(|aim| aim.probe != Probe::Paper)?;
    if arrows(belief, aim.probe).0 < FEWEST {
        return None;
    }
    let upright = belief.vertical(aim.probe, aim.distance_m);
    let sideways = belief.sideways.mixture(&aim.outlook, belief.now.offset_mm);
    let outside = 1.0 - upright.within(aim.tolerance_mm);
    (outside > SURELY_VERTICAL && upright.mean().abs() > sideways.mean().abs()).then(|| {
        Adjustment::NockingPoint {
            y_mm: upright.mean(),
            sd_mm: upright.sd(),
            trim: trim::nock(belief, aim.probe, aim.distance_m, aim.outlook.gain),
        }
    })
}
