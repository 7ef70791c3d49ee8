//! Why more arrows are shot.

use crate::evidence::Probe;
use crate::frame::ArrowKind;
use crate::verdict::deliberation::{
    Deliberation, arrows, heads_alone, inside, is_settled, left_behind, not_yet_shot_first,
    stuck_height, wanted,
};
use crate::verdict::held_back::scattered;
use crate::verdict::limits::{FEWEST, WORTH_A_TRY};
use crate::verdict::seen::splits::stands;
use crate::verdict::steps::next::NextStep;
use crate::verdict::{Arrows, Call, Reason};

use super::shown::of_stop;

/// Half a millimetre rounds to one: less is no saving to speak of.
const WORTH_SAYING_MM: f64 = 0.5;

/// What a round of arrows is asked for.
pub(crate) fn of_more(deliberation: &Deliberation, asked: &Arrows) -> Vec<Reason> {
    if deliberation.belief.seen.is_empty() {
        return vec![Reason::NothingShot];
    }
    if let Some(few) = of_too_few(deliberation) {
        return few;
    }
    let settled = is_settled(deliberation);
    if let Some(height) = stuck_height(deliberation).filter(|_| settled) {
        return vec![height];
    }
    let may_be = Reason::MayBeInside {
        chance: inside(deliberation),
    };
    let first = not_yet_shot_first(deliberation).filter(|probe| asked.of(*probe) > 0);
    if let Some(kind) = first {
        let so_far = of_stop(deliberation).filter(|_| settled).unwrap_or(may_be);
        return vec![so_far, Reason::NotYetShot { kind }];
    }
    let behind = left_behind(deliberation).filter(|probe| settled && asked.of(*probe) > 0);
    if let Some(kind) = behind {
        let so_far = of_stop(deliberation);
        return so_far
            .into_iter()
            .chain([Reason::NotShotSince { kind }])
            .collect();
    }
    let scattered = scattered(deliberation).filter(|(aim, _)| settled && asked.of(aim.probe) > 0);
    if let Some((aim, ratio)) = scattered {
        return vec![may_be, of_scatter(aim.probe, ratio)];
    }
    let shoots = |step: &&NextStep| matches!(step.call, Call::ShootMore { .. });
    let step = deliberation.steps.iter().find(shoots);
    let saving_mm = step.map_or(0.0, |step| deliberation.stay_mm - step.loss_mm);
    if saving_mm >= WORTH_SAYING_MM {
        vec![Reason::MoreArrowsPay {
            saving_mm,
            arrows: asked.bare + asked.broadhead + asked.fletched + asked.paper,
        }]
    } else if inside(deliberation) >= WORTH_A_TRY {
        vec![may_be]
    } else {
        // What was shot says why by itself.
        Vec::new()
    }
}

/// How many times as far as field points a probe scatters.
fn of_scatter(probe: Probe, ratio: f64) -> Reason {
    match probe {
        Probe::Broadhead => Reason::HeadsScatter { ratio },
        Probe::Bare | Probe::Paper => Reason::BareScatter { ratio },
    }
}

/// Where the bow as it stands was shot with too few of a kind.
fn of_too_few(deliberation: &Deliberation) -> Option<Vec<Reason>> {
    let (kind, (have, have_reference)) = wanted(deliberation);
    if have.min(have_reference) >= FEWEST {
        return None;
    }
    let few = Reason::TooFewArrows {
        kind,
        have: have.max(shot_in_all(deliberation, kind.arrow())),
        have_reference: have_reference.max(shot_in_all(deliberation, ArrowKind::Fletched)),
        need: FEWEST,
    };
    let heads = kind == Probe::Bare && heads_alone(deliberation) && have == 0;
    let shot_heads = arrows(&deliberation.belief, Probe::Broadhead).0 > 0;
    let alone = (heads && shot_heads).then_some(Reason::HeadsAlone);
    Some(alone.into_iter().chain([few]).collect())
}

/// Arrows of a kind that whoever shoots now shot at faces with the bow as it stands, also such as have nothing to be held
/// against.
fn shot_in_all(deliberation: &Deliberation, kind: ArrowKind) -> u32 {
    let belief = &deliberation.belief;
    let own = belief
        .seen
        .iter()
        .filter(|seen| seen.trial.shooter == belief.now.shooter && stands(belief, seen));
    own.filter_map(|seen| seen.group(kind))
        .map(|group| group.n)
        .sum()
}
