//! The decision: what comes first, whether the work is done, and which next step is worth most.

use crate::evidence::{Belief, Probe, SAME_M};
use crate::flight::TransferTable;
use crate::split::Split;

use super::deliberation::{
    Deliberation, arrows_at, farthest, is_far_out, is_level_since, is_settled, is_shot_enough,
    is_wide, left_behind, low_or_high, not_yet_shot_first, wanted,
};
use super::explain::reasons;
use super::first::adjust::{adjust_first, heads_stay_apart, heads_stay_off_height};
use super::first::suspect::Sifted;
use super::first::{suspect, swapped};
use super::held_back::{scattered, spoils};
use super::intake::{Intake, intake};
use super::last_resort::{first_round, last_resort};
use super::limits::{ENOUGH, FEWEST, MOST, PLENTY};
use super::seen::aims::{Aim, aims};
use super::seen::outliers::outliers;
use super::seen::signs;
use super::seen::splits::{splits, standing};
use super::steps::next::{halved, weigh};
use super::steps::options::Fittings;
use super::steps::trim;
use super::{
    Alternative, Arrows, Call, Case, Knob, Predicted, Reason, Response, Verdict, VerdictError,
};

/// Distances so near to where a split counts are as good as there, doublings: half as far again, 20 yd for 30. The flight
/// model errs by a seventh there.
const NEAR_DOUBLINGS: f64 = 0.6;

/// So likely must a fitting be to halve what is far out, for the cams to be to blame. Chosen by hand.
const MAY_HALVE: f64 = 0.2;

/// The verdict on a case.
///
/// # Errors
/// [`VerdictError`] for a figure outside its range, a fitting the kit does not have, or an empty
/// priority. Thin evidence is no error: it gives an honest verdict.
pub fn decide(case: &Case, transfer: &TransferTable) -> Result<Verdict, VerdictError> {
    let deliberation = deliberate(case, transfer)?;
    let call = call(&deliberation);
    let reasons = reasons::reasons(&deliberation, &call)?;
    Ok(deliberation.verdict(call, reasons))
}

fn deliberate<'a>(
    case: &'a Case,
    transfer: &'a TransferTable,
) -> Result<Deliberation<'a>, VerdictError> {
    let Intake {
        known,
        tilt_mm,
        mut left_out,
    } = intake(case)?;
    let relatives = known.relatives_that_swapped();
    let Sifted {
        belief,
        outvoted,
        crept,
        remembered,
    } = suspect::without_misfits(&known, transfer, &case.settings);
    let outvoted = outvoted.into_iter();
    left_out.extend(outvoted.map(|trial| Reason::TrialOutvoted { trial }));
    let aims = aims(&belief, &case.settings);
    let fittings = Fittings::of(case, true)?;
    let weighed = weigh(case, &belief, &aims, &fittings);
    let mut deliberation = Deliberation {
        response: response(relatives, &belief),
        habits: signs::habits(&belief),
        outliers: outliers(&belief),
        case,
        belief,
        aims,
        options: weighed.choices,
        steps: weighed.steps,
        stay_mm: weighed.stay_mm,
        tilt_mm,
        left_out,
        crept: crept.map(|crept| crept.reason()),
        remembered,
    };
    // Until the pieces were looked at, a swap that made it worse shows nothing.
    if swapped::confirm(&deliberation).is_some() {
        deliberation.response.seen_on_this_bow = false;
    }
    Ok(deliberation)
}

fn response(relatives: u32, belief: &Belief) -> Response {
    let grid = &belief.sideways.response;
    Response {
        mm_per_mm: grid.mean(),
        sd: grid.sd(),
        wrong_way_chance: grid.wrong_way(),
        seen_on_this_bow: trim::swap_shown(belief),
        relatives,
    }
}

fn call(deliberation: &Deliberation) -> Call {
    let call = call_on_what_was_shot(deliberation);
    let waits = matches!(call, Call::ShootMore { .. } | Call::AdjustFirst { .. });
    match unseen(deliberation).filter(|_| !waits) {
        Some(arrows) => Call::ShootMore { arrows },
        None => call,
    }
}

fn call_on_what_was_shot(deliberation: &Deliberation) -> Call {
    if let Some(what) = adjust_first(deliberation) {
        return Call::AdjustFirst { what };
    }
    if let Some(arrows) = too_few(deliberation) {
        return Call::ShootMore { arrows };
    }
    if heads_stay_apart(deliberation).is_some() {
        return Call::SpacersCannot;
    }
    if is_settled(deliberation) {
        return in_doubt_as_shot(deliberation).unwrap_or_else(|| settled(deliberation));
    }
    if let Some(back) = undo(deliberation) {
        return back;
    }
    if is_far_out(deliberation) && !may_halve(deliberation) {
        return Call::SpacersCannot;
    }
    let steps = deliberation.steps.iter();
    let mut paying = steps.filter(|step| step.loss_mm < deliberation.stay_mm);
    match paying.find(|step| !spoils(deliberation, &step.call)) {
        Some(best) => best.call.clone(),
        None => last_resort(deliberation),
    }
}

/// More arrows where the bow as it stands has not been shot with enough of each kind.
fn too_few(deliberation: &Deliberation) -> Option<Arrows> {
    let case = deliberation.case;
    let (probe, (have, references)) = wanted(deliberation);
    if have.min(references) >= FEWEST {
        return None;
    }
    let distance_m = match deliberation.aims.first() {
        Some(aim) if probe == Probe::Paper => aim.distance_m,
        _ => case.settings.tolerance_distance_m,
    };
    // A probe and its reference are shot together: one face, one light, one shooter.
    Some(Arrows::round(probe, FEWEST, distance_m))
}

/// Arrows of the probe that decides, where that rests on the flight model alone: it was not shot near where it counts.
fn unseen(deliberation: &Deliberation) -> Option<Arrows> {
    let (aim, _) = farthest(deliberation)?;
    let near = |split: &Split| {
        let doublings = (split.distance_m / aim.distance_m).log2().abs();
        doublings <= NEAR_DOUBLINGS && split.n_probe.min(split.n_reference) >= FEWEST
    };
    let seen = standing(&deliberation.belief, aim.probe).iter().any(near);
    let face = aim.probe != Probe::Paper;
    (face && !seen).then(|| Arrows::round(aim.probe, FEWEST, aim.distance_m))
}

/// Whether a fitting of the kit may bring the bow inside tolerance, or halve what it is off.
fn may_halve(deliberation: &Deliberation) -> bool {
    let Some((aim, _)) = farthest(deliberation) else {
        return false;
    };
    let mut options = deliberation.options.iter();
    options.any(|one| halved(&deliberation.belief, aim, one.offset_mm) >= MAY_HALVE)
}

/// Where all that is known says that the bow is inside, and the few arrows shot with it as it stands, where it counts or
/// farther away, say that it is not: as many again.
fn in_doubt_as_shot(deliberation: &Deliberation) -> Option<Call> {
    let settings = &deliberation.case.settings;
    let few = |aim: &&Aim| aim.settles && !is_shot_enough(deliberation, aim.probe);
    let mut settling = deliberation.aims.iter().filter(few);
    let split = settling.find_map(|aim| {
        // Where it counts the arrows leave all open, and only what bows usually do says that it is in.
        let open = is_wide(deliberation, aim) && arrows_at(&deliberation.belief, aim) < MOST;
        let doubted = |one: &Split| {
            let beyond_m = one.distance_m - aim.distance_m;
            let few = one.n_probe.min(one.n_reference) < PLENTY;
            let out = one.offset.x_mm.abs() > settings.allowed_mm(one.probe, one.distance_m);
            beyond_m > -SAME_M && few && out || open && beyond_m.abs() < SAME_M
        };
        let splits = standing(&deliberation.belief, aim.probe);
        splits.into_iter().find(doubted)
    })?;
    let arrows = Arrows::round(split.probe, FEWEST, split.distance_m);
    Some(Call::ShootMore { arrows })
}

/// Where all that was shot is in sideways: the height, then what is asked for first, if it was not shot; only then is the bow
/// settled.
fn settled(deliberation: &Deliberation) -> Call {
    let call = height(deliberation);
    match not_yet_shot_first(deliberation).or_else(|| left_behind(deliberation)) {
        Some(probe) if call == Call::Stop => first_round(deliberation, probe),
        None if call == Call::Stop => once_more_if_scattered(deliberation).unwrap_or(call),
        _ => call,
    }
}

/// Another round of a probe that seems to scatter too far.
fn once_more_if_scattered(deliberation: &Deliberation) -> Option<Call> {
    let (aim, _) = scattered(deliberation)?;
    let arrows = Arrows::round(aim.probe, FEWEST, aim.distance_m);
    Some(Call::ShootMore { arrows })
}

/// Where sideways all is well: a move of the nocking point if the height more likely is not, and with enough arrows (one that
/// surely is not comes first of all); no other one where that is scatter; one that it was moved for in vain is shot once more, and then
/// is another's affair, as is one of the heads alone.
fn height(deliberation: &Deliberation) -> Call {
    if heads_stay_off_height(deliberation).is_some() {
        return Call::SpacersCannot;
    }
    let Some(aim) = low_or_high(deliberation) else {
        return Call::Stop;
    };
    let arrows = Arrows::round(aim.probe, FEWEST, aim.distance_m);
    let scatter = is_level_since(&deliberation.belief, aim.probe);
    let enough = if scatter { PLENTY } else { ENOUGH };
    let few =
        arrows_at(&deliberation.belief, &aim) < enough && !is_shot_enough(deliberation, aim.probe);
    match trim::nock(&deliberation.belief, &aim) {
        _ if scatter && !few => Call::Stop,
        Some(_) if few => Call::ShootMore { arrows },
        Some(trim) => Call::Trim {
            knob: Knob::Nock,
            trim,
            put_back: false,
            arrows,
        },
        None if !trim::nock_is_dead(&deliberation.belief, &aim) => Call::Stop,
        None if few => Call::ShootMore { arrows },
        None => Call::SpacersCannot,
    }
}

/// The rest's best move, where its last one made things worse and this one goes the other way: what
/// can be put back is put right before the bow goes to the press.
fn undo(deliberation: &Deliberation) -> Option<Call> {
    let aim = deliberation.aims.first()?;
    let back_mm = trim::worsened_by(&deliberation.belief, aim)?.move_mm;
    let of_rest = deliberation.steps.iter().find_map(|step| match &step.call {
        Call::Trim { trim, .. } => Some((step, trim.move_mm)),
        _ => None,
    });
    let (step, move_mm) = of_rest?;
    (move_mm * back_mm < 0.0).then(|| step.call.clone())
}

impl Deliberation<'_> {
    fn verdict(self, call: Call, reasons: Vec<Reason>) -> Verdict {
        let belief = &self.belief;
        let rest_mm = match &call {
            Call::Trim {
                knob: Knob::Rest,
                trim,
                ..
            } => belief.now.rest_mm + trim.move_mm,
            _ => belief.now.rest_mm,
        };
        let offset_mm = self.offset_after(&call);
        let predictions: Vec<Predicted> = self
            .aims
            .iter()
            .map(|aim| aim.predicted_at(belief, rest_mm, offset_mm))
            .collect();
        let as_it_is = self
            .aims
            .first()
            .map(|aim| aim.predicted(belief, belief.now.offset_mm));
        Verdict {
            splits: splits(belief),
            response: self.response,
            predicted: predictions
                .first()
                .copied()
                .unwrap_or_else(Predicted::unknown),
            as_it_is: as_it_is.unwrap_or_else(Predicted::unknown),
            predictions,
            alternatives: self.alternatives(&call),
            options: self.options,
            reasons,
            call,
        }
    }

    /// The next best steps of other kinds than the call, each against the best one.
    fn alternatives(&self, call: &Call) -> Vec<Alternative> {
        let settled = is_settled(self) || matches!(call, Call::AdjustFirst { .. });
        let decided = settled || too_few(self).is_some();
        let Some(best) = self.steps.first().filter(|_| !decided) else {
            return Vec::new();
        };
        let best_mm = best.loss_mm.min(self.stay_mm);
        let mut seen = vec![std::mem::discriminant(call)];
        let mut found = Vec::new();
        for step in &self.steps {
            let kind = std::mem::discriminant(&step.call);
            if !seen.contains(&kind) {
                seen.push(kind);
                found.push(Alternative {
                    call: step.call.clone(),
                    behind_mm: (step.loss_mm - best_mm).max(0.0),
                });
            }
        }
        found
    }
}
