//! What the evidence shows besides what the call rests on.

use crate::evidence::Probe;
use crate::evidence::priors::MODEL_ERROR_PER_DOUBLING;
use crate::frame::ArrowKind;
use crate::scatter::ArrowHabit;
use crate::verdict::Reason;
use crate::verdict::deliberation::{Deliberation, stuck_height};
use crate::verdict::first::{adjust, contact};
use crate::verdict::seen::{self, signs, spine};
use crate::walkback::WalkBack;

use super::shooters;

/// A habit of a numbered arrow is remarked on where chance alone would show it less often than this: with a dozen arrows in
/// several rounds one in twenty is chance.
const HABIT_TOLD_P: f64 = 0.01;

/// Remarks on the evidence, the arrows first; what was already said is not said again.
pub(crate) fn remarks(deliberation: &Deliberation, reasons: &mut Vec<Reason>) {
    let settings = &deliberation.case.settings;
    let contact = contact::suspected(&deliberation.belief, settings);
    let in_height = contact::suspected_in_height(deliberation);
    let contact = contact.into_iter().chain(in_height);
    let height = stuck_height(deliberation);
    let spine = spine::scatter(&deliberation.belief, Probe::Bare, &deliberation.habits);
    let spine = spine.map(|ratio| Reason::BareScatter { ratio });
    let heads = adjust::heads_scatter(deliberation).map(|ratio| Reason::HeadsScatter { ratio });
    let first = height
        .into_iter()
        .chain(contact.map(|one| one.reason()))
        .chain(spine)
        .chain(heads);
    say(reasons, first.chain(of_arrows(deliberation)));
    reasons.extend(
        signs::walk_back(&deliberation.belief)
            .as_ref()
            .map(of_walk_back),
    );
    reasons.extend(shooters::apart(&deliberation.belief));
    of_family(deliberation, reasons);
    of_gravity(deliberation, reasons);
    of_trials(deliberation, reasons);
    say(reasons, not_yet_shot(deliberation));
}

/// Adds what was not said yet.
fn say(reasons: &mut Vec<Reason>, more: impl IntoIterator<Item = Reason>) {
    for reason in more {
        if !reasons.contains(&reason) {
            reasons.push(reason);
        }
    }
}

fn of_arrows(deliberation: &Deliberation) -> Vec<Reason> {
    let outliers = deliberation
        .outliers
        .iter()
        .map(|outlier| Reason::ArrowApart {
            trial: outlier.trial,
            kind: outlier.kind,
            index: outlier.index,
        });
    let habits = deliberation.habits.iter();
    let habits = habits.filter(|habit| habit.p < HABIT_TOLD_P);
    habits.map(of_habit).chain(outliers).collect()
}

pub(crate) fn of_habit(habit: &ArrowHabit) -> Reason {
    Reason::ArrowHabit {
        arrow: habit.arrow,
        kind: habit.kind,
        trials: habit.trials,
        x_mm: habit.away.x_mm,
        y_mm: habit.away.y_mm,
        p: habit.p,
    }
}

fn of_walk_back(read: &WalkBack) -> Reason {
    Reason::WalkBackShows {
        meaning: read.meaning,
        slant_mm_per_m: read.slant_mm_per_m.value,
        sd_mm_per_m: read.slant_mm_per_m.sd,
        near_m: read.near_m,
        far_m: read.far_m,
    }
}

fn of_family(deliberation: &Deliberation, reasons: &mut Vec<Reason>) {
    let relatives = deliberation.response.relatives;
    if relatives > 0 && !deliberation.response.seen_on_this_bow {
        reasons.push(Reason::FamilyKnown { relatives });
    }
    if deliberation.remembered {
        reasons.push(Reason::SwapRemembered);
    }
}

/// What gravity and drag explain of a height that is outside of what counts, with them or without.
fn of_gravity(deliberation: &Deliberation, reasons: &mut Vec<Reason>) {
    let Deliberation { belief, aims, .. } = deliberation;
    let faces = aims.iter().filter(|aim| aim.probe != Probe::Paper);
    for aim in faces.filter(|aim| seen::aims::shot(belief, aim.probe)) {
        let y_mm = belief.explained_y_mm(aim.probe, aim.distance_m);
        let left_mm = belief.vertical(aim.probe, aim.distance_m).mean();
        let out = |mm: f64| mm.abs() > aim.tolerance_mm;
        let counts = out(left_mm + y_mm) || out(left_mm) && belief.knows_arrow();
        if y_mm.abs() >= 1.0 && counts {
            reasons.push(Reason::VerticalExplained {
                kind: aim.probe,
                y_mm,
                left_mm: Some(left_mm),
            });
        }
    }
}

fn of_trials(deliberation: &Deliberation, reasons: &mut Vec<Reason>) {
    let belief = &deliberation.belief;
    let older = belief
        .seen
        .iter()
        .filter(|seen| seen.trial.epoch != belief.now.epoch)
        .count();
    if older > 0 {
        reasons.push(Reason::OlderEpochs {
            trials: older as u32,
        });
    }
    let far = |a: f64| {
        belief
            .observations
            .iter()
            .any(|one| (one.split.distance_m - a).abs() > 0.5)
    };
    if belief
        .observations
        .first()
        .is_some_and(|one| far(one.split.distance_m))
    {
        reasons.push(Reason::DistancesCombined {
            model_error: MODEL_ERROR_PER_DOUBLING,
        });
    }
    let faces = deliberation.case.settings.priority.iter();
    let faces = faces.filter(|probe| **probe != Probe::Paper).count();
    if faces > 0
        && !belief.observations.is_empty()
        && belief
            .observations
            .iter()
            .all(|one| one.split.probe == Probe::Paper)
    {
        reasons.push(Reason::PaperAlone);
    }
    for seen in &belief.seen {
        let lonely = !seen.groups().is_empty() && seen.group(ArrowKind::Fletched).is_none();
        if lonely {
            reasons.push(Reason::NoReference {
                trial: seen.trial.id,
            });
        }
    }
}

/// Broadheads that the user asks about and nobody has shot.
pub(crate) fn not_yet_shot(deliberation: &Deliberation) -> Option<Reason> {
    let Deliberation {
        belief, case, aims, ..
    } = deliberation;
    let shot =
        |probe: Probe| aims.iter().any(|aim| aim.probe == probe) && !belief.observations.is_empty();
    let mut asked = case.settings.priority.iter().copied();
    let unshot = asked.find(|probe| *probe == Probe::Broadhead && !shot(*probe));
    unshot.map(|kind| Reason::NotYetShot { kind })
}
