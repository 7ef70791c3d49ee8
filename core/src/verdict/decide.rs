//! The decision: what comes first, whether a fitting pays, whether more arrows pay.

use crate::evidence::{Belief, Probe};
use crate::flight::TransferTable;
use crate::scatter::ArrowHabit;
use crate::spacer::Fitting;

use super::aims::{Aim, aims};
use super::ballot::Ballot;
use super::first::adjust_first;
use super::intake::{Intake, intake};
use super::signs;
use super::splits::{as_it_stands, splits};
use super::suspect::{Apart, apart};
use super::worth::{Proposal, best_proposal};
use super::{
    Call, Case, Choice, Predicted, Reason, Response, Verdict, VerdictError, explain, trim,
};

/// Arrows of each kind (tears, for paper) below which nothing is swapped.
pub(crate) const FEWEST: u32 = 3;
/// A bow this likely to be within tolerance is left alone (from the table of virtual bows).
const GOOD_ENOUGH: f64 = 0.8;
/// Offsets closer than this do not make a before/after pair, mm.
const PAIR_APART_MM: f64 = 0.05;

/// What has been worked out on the way to a call.
pub(crate) struct Deliberation<'a> {
    pub(crate) case: &'a Case,
    pub(crate) belief: Belief<'a>,
    pub(crate) aims: Vec<Aim>,
    pub(crate) ballot: Ballot,
    pub(crate) left_out: Vec<Reason>,
    /// Arrows that stand apart with the bow as it stands.
    pub(crate) apart: Vec<Apart<'a>>,
    /// Numbered arrows that keep landing apart.
    pub(crate) habits: Vec<ArrowHabit>,
    pub(crate) proposal: Option<Proposal>,
    pub(crate) response: Response,
}

/// The verdict on a case.
///
/// # Errors
/// [`VerdictError`] for a figure outside its range, a fitting the kit does not have, or an empty
/// priority. Thin evidence is no error: it gives an honest verdict.
pub fn decide(case: &Case, transfer: &TransferTable) -> Result<Verdict, VerdictError> {
    let Intake {
        seen,
        now,
        left_out,
    } = intake(case)?;
    let belief = Belief::new(seen, now, transfer);
    let aims = aims(&belief, &case.settings);
    let ballot = Ballot::new(case, &belief, &aims, true)?;
    let response = response(&belief);
    let habits = signs::habits(&belief);
    let apart = apart(&belief);
    let mut deliberation = Deliberation {
        apart,
        habits,
        case,
        belief,
        aims,
        ballot,
        left_out,
        proposal: None,
        response,
    };
    let call = call(&mut deliberation);
    let reasons = explain::reasons(&deliberation, &call)?;
    Ok(deliberation.verdict(call, reasons))
}

fn response(belief: &Belief) -> Response {
    let grid = &belief.sideways.response;
    Response {
        mm_per_mm: grid.mean(),
        sd: grid.sd(),
        wrong_way_chance: grid.wrong_way(),
        seen_on_this_bow: trim::varied(belief, |trial| belief.seen[trial].offset_mm, PAIR_APART_MM),
    }
}

fn call(deliberation: &mut Deliberation) -> Call {
    if let Some(what) = adjust_first(deliberation) {
        return Call::AdjustFirst { what };
    }
    if let Some(more) = too_few(deliberation) {
        return more;
    }
    let Some(best) = deliberation.ballot.options.first() else {
        return keep(deliberation);
    };
    if best.axles_opened == 0 || good_enough(deliberation) {
        return keep_or_more(deliberation);
    }
    let fitting = best.fitting.clone();
    fit_or_more(deliberation, fitting)
}

/// More arrows where the bow as it stands has not been shot with enough of each kind.
fn too_few(deliberation: &Deliberation) -> Option<Call> {
    let Deliberation { belief, case, .. } = deliberation;
    let probe = wanted(deliberation);
    let (have, references) = arrows(belief, probe);
    let missing = |have: u32| FEWEST.saturating_sub(have);
    if missing(have) == 0 && missing(references) == 0 {
        return None;
    }
    // A probe and its reference are shot together: one face, one light, one shooter.
    let each = missing(have).max(missing(references)).max(1);
    Some(shoot(
        probe,
        each,
        each,
        case.settings.tolerance_distance_m,
        deliberation,
    ))
}

/// The probe that must be shot before anything is swapped: the first aim, or, where only paper was
/// shot although the user wants faces, the first face probe of the priority.
pub(crate) fn wanted(deliberation: &Deliberation) -> Probe {
    let first = deliberation
        .aims
        .first()
        .map_or(Probe::Bare, |aim| aim.probe);
    let face = deliberation
        .case
        .settings
        .priority
        .iter()
        .copied()
        .find(|probe| *probe != Probe::Paper);
    match (first, face) {
        // Bare shafts answer more than broadheads and harm nothing: they come first from nothing.
        (Probe::Paper, Some(_)) if deliberation.case.settings.priority.contains(&Probe::Bare) => {
            Probe::Bare
        }
        (Probe::Paper, Some(face)) => face,
        (Probe::Broadhead, _)
            if unshot(deliberation)
                && deliberation.case.settings.priority.contains(&Probe::Bare) =>
        {
            Probe::Bare
        }
        (first, _) => first,
    }
}

fn unshot(deliberation: &Deliberation) -> bool {
    !deliberation
        .belief
        .observations
        .iter()
        .any(|observation| observation.probe != Probe::Paper)
}

/// Probe arrows and reference arrows shot with the bow as it stands.
pub(crate) fn arrows(belief: &Belief, probe: Probe) -> (u32, u32) {
    belief
        .observations
        .iter()
        .filter(|observation| observation.probe == probe && as_it_stands(belief, observation))
        .fold((0, 0), |sum, one| {
            (sum.0 + one.probe_arrows, sum.1 + one.reference_arrows)
        })
}

fn shoot(
    probe: Probe,
    own: u32,
    fletched: u32,
    distance_m: f64,
    deliberation: &Deliberation,
) -> Call {
    let of = |kind: Probe| if probe == kind { own } else { 0 };
    Call::ShootMore {
        bare: of(Probe::Bare),
        broadhead: of(Probe::Broadhead),
        paper: of(Probe::Paper),
        fletched: if probe == Probe::Paper { 0 } else { fletched },
        distance_m: match deliberation.aims.first() {
            Some(aim) if probe == Probe::Paper => aim.distance_m,
            _ => distance_m,
        },
    }
}

fn good_enough(deliberation: &Deliberation) -> bool {
    let offset_mm = deliberation.belief.now.offset_mm;
    deliberation.aims.iter().all(|aim| {
        let mixture = deliberation
            .belief
            .sideways
            .mixture(&aim.outlook, offset_mm);
        mixture.within(aim.tolerance_mm) >= GOOD_ENOUGH
    })
}

fn keep_or_more(deliberation: &mut Deliberation) -> Call {
    if good_enough(deliberation) {
        return keep(deliberation);
    }
    more(deliberation).unwrap_or_else(|| keep(deliberation))
}

fn fit_or_more(deliberation: &mut Deliberation, fitting: Fitting) -> Call {
    more(deliberation).unwrap_or(Call::Fit { fitting })
}

fn more(deliberation: &mut Deliberation) -> Option<Call> {
    let Deliberation {
        belief,
        aims,
        ballot,
        case,
        ..
    } = &*deliberation;
    let proposal = best_proposal(belief, aims, ballot, &case.settings)?;
    deliberation.proposal = Some(proposal);
    let each = proposal.arrows_each;
    Some(shoot(
        proposal.probe,
        each,
        each,
        proposal.distance_m,
        deliberation,
    ))
}

fn keep(deliberation: &Deliberation) -> Call {
    let belief = &deliberation.belief;
    let first = deliberation.aims.first();
    Call::Keep {
        rest: first.and_then(|aim| trim::rest(belief, aim)),
        nock: first.and_then(|aim| trim::nock(belief, aim.probe, aim.distance_m, aim.outlook.gain)),
    }
}

impl Deliberation<'_> {
    fn verdict(self, call: Call, reasons: Vec<Reason>) -> Verdict {
        let offset_mm = match &call {
            Call::Fit { fitting } => self.offset_of(fitting),
            _ => self.belief.now.offset_mm,
        };
        let predictions: Vec<Predicted> = self
            .aims
            .iter()
            .map(|aim| aim.predicted(&self.belief, offset_mm))
            .collect();
        Verdict {
            call,
            splits: splits(&self.belief),
            response: self.response,
            predicted: predictions
                .first()
                .copied()
                .unwrap_or_else(Predicted::unknown),
            predictions,
            options: self.ballot.options,
            reasons,
        }
    }

    fn offset_of(&self, fitting: &Fitting) -> f64 {
        let found = self
            .ballot
            .options
            .iter()
            .find(|option: &&Choice| option.fitting == *fitting);
        found.map_or(self.belief.now.offset_mm, |option| option.offset_mm)
    }
}
