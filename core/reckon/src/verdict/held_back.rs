//! What holds a step back: a round that comes before it, a probe that it would take out.

use crate::evidence::priors::REST_SD;
use crate::evidence::{Belief, Probe};

use super::deliberation::{
    Deliberation, ENOUGH, FEWEST, arrows, arrows_at, farthest, is_shown, is_wide,
};
use super::seen::aims::{Aim, LIKELY_INSIDE, SETTLED, chance_inside};
use super::seen::spine;
use super::steps::next::{MAY_BE_INSIDE, NextStep};
use super::steps::rests::WORTH_A_TRY;
use super::steps::trim;
use super::{Call, Knob};

/// Arrows of each kind after which a bow that is more likely in than out is not shot again only to be sure:
/// three times the fewest. At [`ENOUGH`] one bow in four was given up that was inside
/// (`tests/virtual-bows`, 2,000 bows; 12 would cost 3 minutes a bow more). After as many a split that is out as it was shot, where
/// all else says in, is only told.
pub(crate) const SURE: u32 = 9;

/// The same where wide groups leave it open whether there is a split at all and nothing was tried, or whether the bow is in: six
/// times the fewest.
pub(crate) const WIDE: u32 = 18;

/// A bow on which something was tried and that is inside this likely is shot once more before it is given up. Chosen by hand.
const HARDLY_OUT: f64 = 0.3;

/// With fewer than [`ENOUGH`] arrows of each kind a bow that may be inside this likely is shot again before it is pressed or given
/// up, after a press job too: three more cost ten minutes, another press job forty.
const THIN: f64 = 0.1;

/// A rest that has shown how it answers goes before the press where it takes out this share of what is left. Chosen by hand.
const HELPS_SHARE: f64 = 0.4;
/// One that was not tried, where a usual answer would take out this share. Chosen by hand.
const TRIED_SHARE: f64 = 0.25;

/// A bow that is more likely in than out is pressed only to become likelier so by this much: 76 in 100 had been pressed for
/// 95. Chosen by hand.
const PRESSED_FOR: f64 = 0.3;

/// Arrows of each kind to shoot once more, only to be sure. Where the bow is more likely in than out, twice
/// as many at once: three and three more would leave it open. What may be scatter of a few arrows is shot again, however
/// unlikely the bow is inside, and longer what lies out beside another probe that is in.
pub(crate) fn once_more(deliberation: &Deliberation, aim: &Aim, chance: f64) -> Option<u32> {
    let belief = &deliberation.belief;
    let (own, other) = arrows(belief, aim.probe);
    if chance >= LIKELY_INSIDE {
        return (own.min(other) < SURE).then_some(2 * FEWEST);
    }
    let (likely, scatter) = (may_be_inside_at(belief), !is_shown(belief, aim));
    let mut settling = deliberation.aims.iter().filter(|aim| aim.settles);
    let another_in = settling.any(|aim| chance_inside(belief, aim) >= SETTLED);
    let enough = if trim::is_untried(belief) && scatter {
        WIDE
    } else if another_in {
        SURE
    } else {
        ENOUGH
    };
    let thin = is_thin(deliberation, aim, chance) || is_too_wide(deliberation, aim);
    let may_be = chance >= likely || scatter || thin;
    (may_be && arrows_at(belief, aim) < enough).then_some(FEWEST)
}

/// Whether a bow was shot with few arrows as it stands, and may be inside.
fn is_thin(deliberation: &Deliberation, aim: &Aim, chance: f64) -> bool {
    let belief = &deliberation.belief;
    chance >= THIN && arrows_at(belief, aim) < ENOUGH
}

/// Whether few arrows in wide groups are all that speaks for a press job.
fn is_too_wide(deliberation: &Deliberation, aim: &Aim) -> bool {
    is_wide(deliberation, aim) && arrows_at(&deliberation.belief, aim) < ENOUGH
}

/// From which chance a bow may be inside: the less, the less was tried on it.
fn may_be_inside_at(belief: &Belief) -> f64 {
    if trim::is_untried(belief) {
        MAY_BE_INSIDE
    } else {
        HARDLY_OUT
    }
}

/// A probe whose few arrows seem to scatter too far, and how many times as far as field points: a mean of such is in by luck.
pub(crate) fn scattered<'d>(deliberation: &'d Deliberation) -> Option<(&'d Aim, f64)> {
    let Deliberation { belief, habits, .. } = deliberation;
    let aims = deliberation.aims.iter();
    let mut few = aims
        .filter(|aim| aim.settles && aim.probe != Probe::Paper && arrows_at(belief, aim) < SURE);
    few.find_map(|aim| Some((aim, spine::may_scatter(belief, aim.probe, habits)?)))
}

/// Whether a swap or a trim makes a bow less likely inside that is more likely in than out, or that may be
/// inside and was hardly shot where it counts, or acts on what may be scatter of such a bow where nothing was tried; or a swap
/// presses one that is more likely in than out and was hardly shot or gains little, or one whose rest was not tried, or costs a
/// probe that is in more than it gains. What it would teach is no reason to a technician: such a bow is shot once more first.
pub(crate) fn spoils(deliberation: &Deliberation, call: &Call) -> bool {
    let Some((aim, chance)) = farthest(deliberation) else {
        return false;
    };
    let less = chance_after(deliberation, call).is_some_and(|after| after < chance);
    let open = once_more(deliberation, aim, chance).is_some();
    let belief = &deliberation.belief;
    let scatter = trim::is_untried(belief) && !is_shown(belief, aim);
    let likely = chance >= LIKELY_INSIDE;
    let swap = matches!(call, Call::Fit { .. });
    less && (likely || scatter)
        || open && (less || scatter || likely && swap)
        || swap && (is_thin(deliberation, aim, chance) || is_too_wide(deliberation, aim))
        || swap && rest_goes_first(deliberation)
        || gains_little(deliberation, call, chance)
        || costs_what_is_in(deliberation, call)
}

/// Whether a press job makes a bow that is more likely in than out hardly likelier so.
pub(crate) fn gains_little(deliberation: &Deliberation, call: &Call, chance: f64) -> bool {
    let swap = matches!(call, Call::Fit { .. });
    let after = chance_after(deliberation, call);
    let little = after.is_some_and(|after| after < chance + PRESSED_FOR);
    swap && chance >= LIKELY_INSIDE && little
}

/// Whether a bow that was not pressed since the last change of parts has a rest that was not tried and may go to the side that common practice teaches, or
/// one that has surely shown that it takes out what is left, or some of it: it is moved in minutes.
fn rest_goes_first(deliberation: &Deliberation) -> bool {
    let belief = &deliberation.belief;
    let Some(aim) = deliberation.aims.first() else {
        return false;
    };
    let left_mm = aim.predicted(belief, belief.now.offset_mm).x_mm / aim.predictive.gain;
    let is_tried = |step: &NextStep| match &step.call {
        Call::Trim { trim, .. } => {
            let usual_mm = trim.move_mm.abs() * REST_SD;
            trim.move_mm * left_mm < 0.0 && usual_mm >= TRIED_SHARE * left_mm.abs()
        }
        _ => false,
    };
    let response = trim::rest_response(belief);
    let helps = |step: &NextStep| match &step.call {
        Call::Trim { trim, .. } => {
            let back_mm = -trim.move_mm * response.mm_per_mm * left_mm.signum();
            response.chance >= trim::SHOWN && back_mm >= HELPS_SHARE * left_mm.abs()
        }
        _ => false,
    };
    let mut steps = deliberation.steps.iter();
    let first = if response.shown {
        steps.any(helps)
    } else {
        steps.any(is_tried)
    };
    !trim::is_swapped_since(belief) && first
}

/// Whether what is more likely out than in becomes more likely in than out, and much likelier.
pub(crate) fn likely_cures(now: f64, after: f64) -> bool {
    after >= LIKELY_INSIDE && after >= now + PRESSED_FOR
}

/// Whether a call is a swap that makes another probe that is inside tolerance less likely so by more than the one it
/// is for becomes likelier, or by so much that a bow would be pressed for it; not where it cures the one and leaves the other
/// more likely in than out.
pub(crate) fn costs_what_is_in(deliberation: &Deliberation, call: &Call) -> bool {
    if !matches!(call, Call::Fit { .. }) {
        return false;
    }
    let belief = &deliberation.belief;
    let offset_mm = deliberation.offset_after(call);
    let after = |aim: &Aim| aim.predicted(belief, offset_mm).within_tolerance;
    let gain = |aim: &Aim| after(aim) - chance_inside(belief, aim);
    let mut settling = deliberation.aims.iter().filter(|aim| aim.settles);
    let Some(lead) = settling.next() else {
        return false;
    };
    let most = gain(lead).clamp(0.0, WORTH_A_TRY);
    let cured = likely_cures(chance_inside(belief, lead), after(lead));
    settling.any(|aim| {
        let kept = cured && after(aim) >= LIKELY_INSIDE;
        chance_inside(belief, aim) >= SETTLED && -gain(aim) > most && !kept
    })
}

/// Chance to be inside tolerance of every probe that settles the bow, after a swap or a move of the rest.
pub(crate) fn chance_after(deliberation: &Deliberation, call: &Call) -> Option<f64> {
    let belief = &deliberation.belief;
    let now = &belief.now;
    let (rest_mm, offset_mm) = match call {
        Call::Fit { .. } => (now.rest_mm, deliberation.offset_after(call)),
        Call::Trim {
            knob: Knob::Rest,
            trim,
            ..
        } => (now.rest_mm + trim.move_mm, now.offset_mm),
        _ => return None,
    };
    let aims = deliberation.aims.iter().filter(|aim| aim.settles);
    let chances = aims.map(|aim| {
        aim.predicted_at(belief, rest_mm, offset_mm)
            .within_tolerance
    });
    chances.min_by(f64::total_cmp)
}
