//! What is done before a bow is given up on which no step pays.

use crate::evidence::Probe;

use super::deliberation::{
    Deliberation, ENOUGH, FEWEST, arrows_at, farthest, inside, is_shown, not_yet_shot_first,
};
use super::held_back::{chance_after, costs_what_is_in, gains_little, likely_cures, once_more};
use super::seen::aims::{Aim, LIKELY_INSIDE, SETTLED, USUAL_PAPER_M};
use super::steps::next::NextStep;
use super::steps::rests::{WORTH_A_TRY, was_there, worth_a_turn};
use super::steps::trim;
use super::{Arrows, Call};

/// A bow less likely inside than this is given up on few arrows too: three more would not bring it back. Chosen by hand.
const HOPELESS: f64 = 0.001;

/// A bow less likely inside than this that surely lands beside has its rest tried before it is left. Chosen by hand.
const BESIDE: f64 = 0.75;

/// Nothing pays: a bow that may be inside tolerance is shot once more, up to a limit; where that leaves it
/// open, what is expected to settle it is done although it costs more than it saves, or what was never tried and
/// may; else the spacers cannot do it. A bow on which nothing was tried yet is given up later than one on
/// which something was.
pub(crate) fn last_resort(deliberation: &Deliberation) -> Call {
    let Some((aim, chance)) = farthest(deliberation) else {
        return Call::SpacersCannot;
    };
    if let Some(each) = once_more(deliberation, aim, chance) {
        return Call::ShootMore {
            arrows: Arrows::round(aim.probe, each, aim.distance_m),
        };
    }
    let rest = untried_rest(deliberation);
    let steps = deliberation.steps.iter();
    let mut steps = steps.filter(|step| {
        let call = &step.call;
        !costs_what_is_in(deliberation, call) && !gains_little(deliberation, call, chance)
    });
    let step = steps.find(|step| is_tried_at_last(deliberation, aim, &step.call, rest.is_none()));
    let step = step.or(rest);
    step.map_or_else(|| left(deliberation, aim, chance), |step| step.call.clone())
}

/// Whether a step that costs more than it saves is done before a bow is given up: what is expected to settle it; a move of
/// the rest that makes it likelier inside; the first press job of a bow whose rest was tried and that is farther out than the
/// job costs, and a later one that makes it much likelier so and more likely in than out.
fn is_tried_at_last(deliberation: &Deliberation, aim: &Aim, call: &Call, rest_tried: bool) -> bool {
    let belief = &deliberation.belief;
    let now = inside(deliberation);
    let Some(after) = chance_after(deliberation, call) else {
        return false;
    };
    let off_mm = aim.predicted(belief, belief.now.offset_mm).x_mm.abs();
    let affordable = deliberation.case.settings.press_mm(2) < off_mm;
    let tried = if matches!(call, Call::Trim { .. }) {
        after >= now + worth_a_turn(belief)
    } else {
        let first = rest_tried && !trim::is_swapped(belief) && after >= now + WORTH_A_TRY;
        affordable && (first || likely_cures(now, after))
    };
    tried || after >= SETTLED && after > now
}

/// What is left to do where nothing is to be moved: a bow that is more likely in than out is shot with what is asked for
/// first, if it never was; one that may be in, however unlikely, is not given up on the first few arrows.
fn left(deliberation: &Deliberation, aim: &Aim, chance: f64) -> Call {
    let few = arrows_at(&deliberation.belief, aim) < ENOUGH;
    match not_yet_shot_first(deliberation) {
        Some(probe) if chance >= LIKELY_INSIDE => first_round(deliberation, probe),
        _ if few && chance >= HOPELESS => Call::ShootMore {
            arrows: Arrows::round(aim.probe, FEWEST, aim.distance_m),
        },
        _ => Call::SpacersCannot,
    }
}

/// A move of the rest where it never moved and a probe is more likely out than in, or hardly more likely in and surely beside: nobody
/// gives a bow up before its rest was tried. What may be scatter is no reason to make it less likely inside.
fn untried_rest<'d>(deliberation: &'d Deliberation) -> Option<&'d NextStep> {
    let belief = &deliberation.belief;
    let (aim, chance) = farthest(deliberation)?;
    let shown = is_shown(belief, aim);
    let beside = shown && chance < BESIDE && trim::rest_is_new(belief);
    let open = chance < LIKELY_INSIDE || beside;
    let untried = open && !trim::rest_response(belief).shown;
    let is_move = |step: &&NextStep| {
        let after = chance_after(deliberation, &step.call).unwrap_or(0.0);
        let new = match &step.call {
            Call::Trim { trim, .. } => !was_there(belief, belief.now.rest_mm + trim.move_mm),
            _ => false,
        };
        new && (shown || after >= chance)
    };
    deliberation.steps.iter().find(is_move).filter(|_| untried)
}

/// The first arrows of a probe.
pub(crate) fn first_round(deliberation: &Deliberation, probe: Probe) -> Call {
    let distance_m = match probe {
        Probe::Paper => USUAL_PAPER_M,
        Probe::Bare | Probe::Broadhead => deliberation.case.settings.tolerance_distance_m,
    };
    let arrows = Arrows::round(probe, FEWEST, distance_m);
    Call::ShootMore { arrows }
}
