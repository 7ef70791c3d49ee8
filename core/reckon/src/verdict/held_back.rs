//! What holds a step back: a round that comes before it, a probe that it would take out.

use crate::evidence::Probe;
use crate::evidence::priors::REST_SD;

use super::deliberation::{
    Deliberation, arrows, arrows_at, farthest, is_shot_enough, is_shown, is_wide,
};
use super::limits::{ENOUGH, FEWEST, LIKELY, MAY_BE, MOST, PLENTY, SETTLED, SURELY, WORTH_A_TRY};
use super::seen::aims::{Aim, chance_inside};
use super::seen::spine;
use super::steps::next::NextStep;
use super::steps::rests::LEAST_SHARE;
use super::steps::trim;
use super::{Call, Knob};

/// A bow that is more likely in than out is pressed only to become likelier so by this much: 76 in 100 had been pressed for
/// 95. Chosen by hand.
const PRESSED_FOR: f64 = 0.3;

/// Arrows of each kind to shoot once more, only to be sure. Where the bow is more likely in than out, or six were shot, twice
/// as many at once: three and three more would leave it open. What may be scatter of a few arrows, or of wide groups, is shot again
/// however unlikely the bow is inside.
pub(crate) fn once_more(deliberation: &Deliberation, aim: &Aim, chance: f64) -> Option<u32> {
    let belief = &deliberation.belief;
    if chance >= LIKELY {
        let (own, other) = arrows(belief, aim.probe);
        return (own.min(other) < PLENTY).then_some(2 * FEWEST);
    }
    let scatter = !is_shown(belief, aim);
    let enough = if scatter && trim::is_untried(belief) {
        MOST
    } else {
        ENOUGH
    };
    let may_be = scatter || chance >= MAY_BE || is_wide(deliberation, aim);
    let shot = arrows_at(belief, aim);
    let few = shot < enough && !is_shot_enough(deliberation, aim.probe);
    let each = if shot < ENOUGH { FEWEST } else { 2 * FEWEST };
    (may_be && few).then_some(each)
}

/// A probe whose few arrows seem to scatter too far, and how many times as far as field points: a mean of such is in by luck.
pub(crate) fn scattered<'d>(deliberation: &'d Deliberation) -> Option<(&'d Aim, f64)> {
    let Deliberation { belief, habits, .. } = deliberation;
    let aims = deliberation.aims.iter();
    let mut few = aims
        .filter(|aim| aim.settles && aim.probe != Probe::Paper && arrows_at(belief, aim) < PLENTY);
    few.find_map(|aim| Some((aim, spine::may_scatter(belief, aim.probe, habits)?)))
}

/// Whether a bow is to be shot once more before a call, that presses it, makes it less likely inside or acts on what may be scatter
/// where nothing was tried; or one is pressed whose rest goes first, for little, or at the cost of a probe that is in. What it would
/// teach is no reason to a technician.
pub(crate) fn spoils(deliberation: &Deliberation, call: &Call) -> bool {
    let Some((aim, chance)) = farthest(deliberation) else {
        return false;
    };
    let belief = &deliberation.belief;
    let scatter = trim::is_untried(belief) && !is_shown(belief, aim);
    let less = chance_after(deliberation, call).is_some_and(|after| after < chance);
    let swap = matches!(call, Call::Fit { .. });
    let round = matches!(call, Call::ShootMore { .. });
    let few = once_more(deliberation, aim, chance).is_some();
    let lead = deliberation.aims.first();
    let enough = lead.is_some_and(|lead| arrows_at(belief, lead) >= PLENTY);
    (swap || scatter || less) && few
        || (swap || round && !few) && rest_goes_first(deliberation)
        || round && !few && enough
        || gains_little(deliberation, call, chance)
        || costs_what_is_in(deliberation, call)
}

/// Whether a press job makes a bow that is more likely in than out hardly likelier so.
pub(crate) fn gains_little(deliberation: &Deliberation, call: &Call, chance: f64) -> bool {
    let swap = matches!(call, Call::Fit { .. });
    let after = chance_after(deliberation, call);
    let little = after.is_some_and(|after| after < chance + PRESSED_FOR);
    swap && chance >= LIKELY && little
}

/// Whether a bow that was not pressed since the last change of parts has a rest that takes out some of what is left, as it has
/// surely shown, or as usual where it was not tried and may go to the side that common practice teaches: it is moved in minutes.
fn rest_goes_first(deliberation: &Deliberation) -> bool {
    let belief = &deliberation.belief;
    let Some(aim) = deliberation.aims.first() else {
        return false;
    };
    let left_mm = aim.predicted(belief, belief.now.offset_mm).x_mm / aim.predictive.gain;
    let response = trim::rest_response(belief);
    let (answer, sure) = if response.shown {
        (response.mm_per_mm, response.chance >= SURELY)
    } else {
        (REST_SD, true)
    };
    let takes_out = |step: &NextStep| match &step.call {
        Call::Trim { trim, .. } => {
            let back_mm = -trim.move_mm * answer * left_mm.signum();
            back_mm >= LEAST_SHARE * left_mm.abs()
        }
        _ => false,
    };
    sure && !trim::is_swapped_since(belief) && deliberation.steps.iter().any(takes_out)
}

/// Whether what is more likely out than in becomes more likely in than out, and much likelier.
pub(crate) fn likely_cures(now: f64, after: f64) -> bool {
    after >= LIKELY && after >= now + PRESSED_FOR
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
        let kept = cured && after(aim) >= LIKELY;
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
