//! The decision: what comes first, whether the work is done, and which next step is worth most.

use crate::evidence::{Belief, Probe};
use crate::flight::TransferTable;
use crate::scatter::ArrowHabit;

use super::aims::{Aim, aims};
use super::first::adjust_first;
use super::intake::{Intake, intake};
use super::next::{Step, steps};
use super::options::Fittings;
use super::splits::{as_it_stands, splits};
use super::suspect::{Apart, apart};
use super::{
    Adjustment, Alternative, Arrows, Call, Case, Choice, Knob, Predicted, Reason, Response,
    Verdict, VerdictError, explain, signs, suspect, trim,
};

/// Arrows of each kind (tears, for paper) below which nothing is moved.
pub(crate) const FEWEST: u32 = 3;
/// A bow this likely to be within tolerance of every probe is settled.
const SETTLED: f64 = 0.8;
/// Arrows of each kind after which a bow that may be inside tolerance is not shot again to be sure.
const ENOUGH: u32 = 6;
/// Where nothing was tried yet, a bow inside tolerance more likely than this gets another round
/// before it is given up (`tests/virtual-bows`: else one far-off bow in ten never sees the press).
const MAY_BE_INSIDE: f64 = 0.2;
/// The same once spacers or rest were moved.
const LIKELY_INSIDE: f64 = 0.5;
/// A height inside tolerance less likely than this is worth a turn of the nocking point.
const HEIGHT_INSIDE: f64 = 0.5;
/// Alternatives that are named.
const NAMED: usize = 3;

/// What has been worked out on the way to a call.
pub(crate) struct Deliberation<'a> {
    pub(crate) case: &'a Case,
    pub(crate) belief: Belief<'a>,
    pub(crate) aims: Vec<Aim>,
    pub(crate) options: Vec<Choice>,
    /// Every next step worth weighing, best first; what is expected of leaving it all as it is.
    pub(crate) steps: Vec<Step>,
    pub(crate) stay_mm: f64,
    /// Top cam's offset minus the bottom cam's, as the bow stands, mm.
    pub(crate) tilt_mm: f64,
    pub(crate) left_out: Vec<Reason>,
    /// Arrows that stand apart with the bow as it stands.
    pub(crate) apart: Vec<Apart<'a>>,
    /// Numbered arrows that keep landing apart.
    pub(crate) habits: Vec<ArrowHabit>,
    pub(crate) response: Response,
}

/// The verdict on a case.
///
/// # Errors
/// [`VerdictError`] for a figure outside its range, a fitting the kit does not have, or an empty
/// priority. Thin evidence is no error: it gives an honest verdict.
pub fn decide(case: &Case, transfer: &TransferTable) -> Result<Verdict, VerdictError> {
    let deliberation = deliberate(case, transfer)?;
    let call = call(&deliberation);
    let reasons = explain::reasons(&deliberation, &call)?;
    Ok(deliberation.verdict(call, reasons))
}

fn deliberate<'a>(
    case: &'a Case,
    transfer: &'a TransferTable,
) -> Result<Deliberation<'a>, VerdictError> {
    let Intake {
        known,
        tilt_mm,
        left_out,
    } = intake(case)?;
    let mut belief = Belief::new(known.clone(), transfer, false);
    // Contact is said, not averaged: paper then shows something of its own.
    if suspect::contact(&belief).is_some() {
        belief = Belief::new(known, transfer, true);
    }
    let aims = aims(&belief, &case.settings);
    let fittings = Fittings::of(case, true)?;
    let (options, steps, stay_mm) = steps(case, &belief, &aims, &fittings);
    Ok(Deliberation {
        response: response(case, &belief),
        habits: signs::habits(&belief),
        apart: apart(&belief),
        case,
        belief,
        aims,
        options,
        steps,
        stay_mm,
        tilt_mm,
        left_out,
    })
}

fn response(case: &Case, belief: &Belief) -> Response {
    let grid = &belief.sideways.response;
    Response {
        mm_per_mm: grid.mean(),
        sd: grid.sd(),
        wrong_way_chance: grid.wrong_way(),
        seen_on_this_bow: trim::swap_shown(belief),
        relatives: case.relatives.len() as u32,
    }
}

fn call(deliberation: &Deliberation) -> Call {
    if let Some(what) = adjust_first(deliberation) {
        return Call::AdjustFirst { what };
    }
    if let Some(arrows) = too_few(deliberation) {
        return Call::ShootMore { arrows };
    }
    if is_settled(deliberation) {
        return height(deliberation).unwrap_or(Call::Stop);
    }
    if let Some(back) = undo(deliberation) {
        return back;
    }
    match deliberation.steps.first() {
        Some(best) if best.loss_mm < deliberation.stay_mm => best.call.clone(),
        _ => last_resort(deliberation),
    }
}

/// More arrows where the bow as it stands has not been shot with enough of each kind.
fn too_few(deliberation: &Deliberation) -> Option<Arrows> {
    let Deliberation { belief, case, .. } = deliberation;
    let probe = wanted(deliberation);
    let (have, references) = arrows(belief, probe);
    if have.min(references) >= FEWEST {
        return None;
    }
    let distance_m = match deliberation.aims.first() {
        Some(aim) if probe == Probe::Paper => aim.distance_m,
        _ => case.settings.tolerance_distance_m,
    };
    // A probe and its reference are shot together: one face, one light, one shooter.
    Some(round(probe, FEWEST, distance_m))
}

/// The probe that must be shot before anything is moved: the first aim, or, where only paper was
/// shot although the user wants faces, the first face probe of the priority. Broadheads alone do
/// not tell the bow from its heads: bare shafts come before a move.
pub(crate) fn wanted(deliberation: &Deliberation) -> Probe {
    let priority = &deliberation.case.settings.priority;
    let first = deliberation.aims.first();
    let first = first.map_or(Probe::Bare, |aim| aim.probe);
    let face = priority.iter().find(|probe| **probe != Probe::Paper);
    match (first, face) {
        (Probe::Paper, None) => Probe::Paper,
        (Probe::Paper, Some(face)) if !priority.contains(&Probe::Bare) => *face,
        (Probe::Paper, Some(_)) => Probe::Bare,
        (Probe::Broadhead, _) if heads_alone(deliberation) => Probe::Bare,
        (first, _) => first,
    }
}

/// Whether broadheads were shot, or would be, and bare shafts never; a bow whose broadheads agree
/// needs no bare shafts.
pub(crate) fn heads_alone(deliberation: &Deliberation) -> bool {
    let Deliberation { belief, case, .. } = deliberation;
    let of = |probe| {
        belief
            .observations
            .iter()
            .any(|observation| observation.split.probe == probe)
    };
    let agree = of(Probe::Broadhead) && is_settled(deliberation);
    let wished = case.settings.priority.contains(&Probe::Bare) || of(Probe::Broadhead);
    !of(Probe::Bare) && wished && !agree
}

/// Probe arrows and reference arrows shot with the bow as it stands.
pub(crate) fn arrows(belief: &Belief, probe: Probe) -> (u32, u32) {
    belief
        .observations
        .iter()
        .filter(|one| one.split.probe == probe && as_it_stands(belief, one))
        .fold((0, 0), |sum, one| {
            (sum.0 + one.split.n_probe, sum.1 + one.split.n_reference)
        })
}

/// A round of `each` arrows of a probe, with as many fletched ones beside them.
pub(crate) fn round(probe: Probe, each: u32, distance_m: f64) -> Arrows {
    let of = |kind: Probe| if probe == kind { each } else { 0 };
    Arrows {
        bare: of(Probe::Bare),
        broadhead: of(Probe::Broadhead),
        paper: of(Probe::Paper),
        fletched: each - of(Probe::Paper),
        distance_m,
    }
}

/// Whether every probe that counts is inside tolerance, four chances in five.
fn is_settled(deliberation: &Deliberation) -> bool {
    inside(deliberation) >= SETTLED
}

/// Chance to be inside tolerance of the probe that is least likely to be.
pub(crate) fn inside(deliberation: &Deliberation) -> f64 {
    let belief = &deliberation.belief;
    let aims = deliberation.aims.iter().filter(|aim| aim.settles);
    let chances = aims.map(|aim| {
        let mixture = belief.sideways.mixture(&aim.outlook, belief.now.offset_mm);
        mixture.within(aim.tolerance_mm)
    });
    chances.fold(1.0, f64::min)
}

/// A move of the nocking point, where sideways all is well and the height more likely is not.
fn height(deliberation: &Deliberation) -> Option<Call> {
    let belief = &deliberation.belief;
    let aim = deliberation.aims.first()?;
    let upright = belief.vertical(aim.probe, aim.distance_m);
    if upright.within(aim.tolerance_mm) >= HEIGHT_INSIDE {
        return None;
    }
    let (trim, _) = trim::nock(belief, aim, aim.probe)?;
    Some(Call::Trim {
        knob: Knob::Nock,
        trim,
        put_back: false,
        arrows: round(aim.probe, FEWEST, aim.distance_m),
    })
}

/// The rest's best move, where its last one made things worse and this one goes the other way: what
/// can be put back is put right before the bow goes to the press.
fn undo(deliberation: &Deliberation) -> Option<Call> {
    let aim = deliberation.aims.first()?;
    let back_mm = trim::worsened_by(&deliberation.belief, aim)?;
    let of_rest = deliberation.steps.iter().find_map(|step| match &step.call {
        Call::Trim { trim, .. } => Some((step, trim.move_mm)),
        _ => None,
    });
    let (step, move_mm) = of_rest?;
    (move_mm * back_mm < 0.0).then(|| step.call.clone())
}

/// Nothing pays: a bow that may be inside tolerance is shot once more, up to a limit; else the
/// spacers cannot do it. A bow on which nothing was tried yet is given up later than one on which
/// something was.
fn last_resort(deliberation: &Deliberation) -> Call {
    let belief = &deliberation.belief;
    let Some(aim) = deliberation.aims.first() else {
        return Call::SpacersCannot;
    };
    let (own, other) = arrows(belief, aim.probe);
    let hope = if trim::is_untried(belief) {
        MAY_BE_INSIDE
    } else {
        LIKELY_INSIDE
    };
    if inside(deliberation) >= hope && own.min(other) < ENOUGH {
        Call::ShootMore {
            arrows: round(aim.probe, FEWEST, aim.distance_m),
        }
    } else {
        Call::SpacersCannot
    }
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

    fn offset_after(&self, call: &Call) -> f64 {
        let Call::Fit { fitting, .. } = call else {
            return self.belief.now.offset_mm;
        };
        let found = self.options.iter().find(|one| one.fitting == *fitting);
        found.map_or(self.belief.now.offset_mm, |option| option.offset_mm)
    }

    /// The next best steps of other kinds than the call, each against the best one.
    fn alternatives(&self, call: &Call) -> Vec<Alternative> {
        let settled = matches!(call, Call::Stop | Call::AdjustFirst { .. });
        let decided = settled || too_few(self).is_some();
        let Some(best) = self.steps.first().filter(|_| !decided) else {
            return Vec::new();
        };
        let best_mm = best.loss_mm.min(self.stay_mm);
        let mut seen = vec![std::mem::discriminant(call)];
        let mut found = Vec::new();
        for step in &self.steps {
            let kind = std::mem::discriminant(&step.call);
            if !seen.contains(&kind) && found.len() < NAMED {
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

impl Adjustment {
    /// Arrows that are shot once it is put right, where they are part of it.
    pub fn arrows(&self) -> Option<Arrows> {
        match self {
            Self::ConfirmSwap { arrows, .. } => Some(*arrows),
            _ => None,
        }
    }
}
