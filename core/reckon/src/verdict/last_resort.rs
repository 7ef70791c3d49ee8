//! What is done before a bow is given up on which no step pays.

use crate::evidence::Probe;

use super::deliberation::{
    Deliberation, arrows_at, farthest, inside, is_shown, not_yet_shot_first,
};
use super::held_back::{chance_after, costs_what_is_in, gains_little, once_more};
use super::limits::{ENOUGH, FEWEST, LIKELY, SETTLED, WORTH_A_TRY, WORTH_A_TURN};
use super::seen::aims::{Aim, USUAL_PAPER_M};
use super::steps::next::NextStep;
use super::steps::rests::was_there;
use super::steps::trim;
use super::{Arrows, Call};

/// A bow less likely inside than this is given up on few arrows too: three more would not bring it back. Chosen by hand.
const HOPELESS: f64 = 0.001;

/// Nothing pays: a bow that may be inside tolerance is shot once more, up to a limit; where that leaves it
/// open, what makes it likelier inside is done although it costs more than it saves, or the rest is tried that never was; else the
/// spacers cannot do it.
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
    let mut steps = deliberation.steps.iter();
    let step = steps.find(|step| is_tried_at_last(deliberation, aim, &step.call, rest.is_none()));
    let step = step.or(rest);
    step.map_or_else(|| left(deliberation, aim, chance), |step| step.call.clone())
}

/// Whether a step that costs more than it saves is done before a bow is given up: a move of the rest that makes it likelier
/// inside; a press job of a bow whose rest was tried and that is farther out than the job costs, that makes it much likelier so.
fn is_tried_at_last(deliberation: &Deliberation, aim: &Aim, call: &Call, rest_tried: bool) -> bool {
    let now = inside(deliberation);
    let Some(after) = chance_after(deliberation, call) else {
        return false;
    };
    if matches!(call, Call::Trim { .. }) {
        return after >= now + WORTH_A_TURN;
    }
    let off_mm = aim
        .predicted(&deliberation.belief, deliberation.belief.now.offset_mm)
        .x_mm
        .abs();
    let affordable = deliberation.case.settings.press_mm(2) < off_mm;
    let spoils = costs_what_is_in(deliberation, call) || gains_little(deliberation, call, now);
    affordable && rest_tried && after >= now + WORTH_A_TRY && !spoils
}

/// What is left to do where nothing is to be moved: a bow that is more likely in than out is shot with what is asked for
/// first, if it never was; one that may be in, however unlikely, is not given up on the first few arrows.
fn left(deliberation: &Deliberation, aim: &Aim, chance: f64) -> Call {
    let few = arrows_at(&deliberation.belief, aim) < ENOUGH;
    match not_yet_shot_first(deliberation) {
        Some(probe) if chance >= LIKELY => first_round(deliberation, probe),
        _ if few && chance >= HOPELESS => Call::ShootMore {
            arrows: Arrows::round(aim.probe, FEWEST, aim.distance_m),
        },
        _ => Call::SpacersCannot,
    }
}

/// A move of the rest where it never moved and a probe is more likely out than in, or hardly more likely in and surely beside: nobody
/// gives a bow up before its rest was tried.
fn untried_rest<'d>(deliberation: &'d Deliberation) -> Option<&'d NextStep> {
    let belief = &deliberation.belief;
    let (aim, chance) = farthest(deliberation)?;
    let beside = is_shown(belief, aim) && chance < SETTLED && trim::rest_is_new(belief);
    let open = chance < LIKELY || beside;
    let untried = open && !trim::rest_response(belief).shown;
    let is_move = |step: &&NextStep| matches!(&step.call, Call::Trim { trim, .. } if !was_there(belief, belief.now.rest_mm + trim.move_mm));
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
