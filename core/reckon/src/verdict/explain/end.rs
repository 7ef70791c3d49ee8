//! What is said where nothing pays.

use crate::evidence::{Probe, SAME_MM};
use crate::verdict::deliberation::{
    Deliberation, farthest, is_far_out, is_shown, out_as_shot, stuck_height,
};
use crate::verdict::first::adjust::{heads_stay_apart, heads_stay_off_height};
use crate::verdict::limits::{LIKELY, SETTLED};
use crate::verdict::seen::aims::chance_inside;
use crate::verdict::seen::heads::heads_apart;
use crate::verdict::steps::options::Fittings;
use crate::verdict::steps::trim;
use crate::verdict::{Aim, NextLook, Predicted, Reason, VerdictError};

/// Nothing pays: the best that is left, whether the kit ends, and where to look next; of a bow that is more
/// likely in than out its chance, and no other places to look.
pub(crate) fn of_end(
    deliberation: &Deliberation,
    reasons: &mut Vec<Reason>,
) -> Result<(), VerdictError> {
    let Some((aim, chance)) = farthest(deliberation) else {
        return Ok(());
    };
    let belief = &deliberation.belief;
    let Some(best_offset_mm) = best_offset_mm(deliberation) else {
        return Ok(());
    };
    let best = worst_at(deliberation, best_offset_mm);
    let stays = (best_offset_mm - belief.now.offset_mm).abs() <= SAME_MM;
    let heads_height = heads_stay_off_height(deliberation).filter(|_| chance >= LIKELY);
    let height = heads_height.map(|y_mm| Reason::HeadsOffHeight { y_mm });
    let height = height.or_else(|| stuck_height(deliberation));
    let well = chance >= LIKELY && (out_as_shot(deliberation).is_some() || height.is_some());
    let apart = heads_stay_apart(deliberation);
    // Then all is well where it counts and sideways, or no place of the cams brings both in: nothing is left to weigh.
    let elsewhere = well || apart.is_some();
    if !elsewhere {
        reasons.extend(first_is_in(deliberation, aim));
    }
    reasons.extend(height.filter(|_| well));
    reasons.extend(apart.map(|both| heads_apart(&both)));
    let likely = chance >= LIKELY && !elsewhere;
    if likely {
        reasons.push(Reason::MayBeInside { chance });
    }
    if !elsewhere && !stays {
        reasons.push(Reason::NothingPays {
            kind: Some(best.kind),
            best_mm: best.x_mm,
            chance: best.within_tolerance,
        });
    }
    let [ends, reaches] = kit_ends(deliberation, aim, &best)?;
    if ends {
        reasons.push(Reason::KitEnds {
            remaining_mm: best.x_mm,
        });
    }
    if likely {
        return Ok(());
    }
    reasons.extend(steps_coarse(deliberation, aim).filter(|_| !elsewhere));
    let looks = NextLook::ALL.into_iter();
    let far_out = is_far_out(deliberation);
    // What may be scatter is the shooter's before it is the bow's.
    let scatter = !is_shown(belief, aim) && !elsewhere && heads_height.is_none();
    let bears = |look: &NextLook| match look {
        _ if scatter => *look == NextLook::Grip,
        NextLook::Heads => {
            aim.probe == Probe::Broadhead || apart.is_some() || heads_height.is_some()
        }
        NextLook::CentreShot => far_out,
        NextLook::AnotherKit => reaches && !far_out,
        // Sideways all is well, and nothing of the bow moves the heads alone.
        _ => heads_height.is_none(),
    };
    reasons.extend(looks.filter(bears).map(|look| Reason::LookNext { look }));
    Ok(())
}

/// Where what is asked for first is in and another probe is not: then the work is done but for that one.
fn first_is_in(deliberation: &Deliberation, aim: &Aim) -> Option<Reason> {
    let belief = &deliberation.belief;
    let first = deliberation.case.settings.priority.first().copied()?;
    let mut settling = deliberation.aims.iter().filter(|aim| aim.settles);
    let lead = settling.find(|one| one.probe == first)?;
    let out = aim.probe != first && chance_inside(belief, aim) < LIKELY;
    let so = out && chance_inside(belief, lead) >= SETTLED;
    so.then_some(Reason::FirstIsIn {
        first,
        other: aim.probe,
    })
}

/// The offset at which the least is expected to be left for the probe that is then worst, mm.
fn best_offset_mm(deliberation: &Deliberation) -> Option<f64> {
    let left_mm = |offset_mm: f64| {
        let aims = deliberation.aims.iter().filter(|aim| aim.settles);
        let left = aims.map(|aim| aim.left_mm(&deliberation.belief, offset_mm));
        left.fold(0.0, f64::max)
    };
    let options = deliberation.options.iter();
    let after = options.map(|one| (one.offset_mm, left_mm(one.offset_mm)));
    let best = after.min_by(|a, b| a.1.total_cmp(&b.1));
    best.map(|(offset_mm, _)| offset_mm)
}

/// Whether every fitting of the kit leaves the split on one side, out of tolerance, and whether one twice as wide would bring
/// it in then, as the bow answers. Steps that lead from one side straight to the other are coarse, which is no end; nor is
/// it one where the cams were moved and nothing came of it.
fn kit_ends(
    deliberation: &Deliberation,
    aim: &Aim,
    best: &Predicted,
) -> Result<[bool; 2], VerdictError> {
    let belief = &deliberation.belief;
    // A better fitting whose pieces are not at hand is named beside this.
    let kit_mm = Fittings::of(deliberation.case, false)?.offsets_mm;
    let beyond = |offset_mm: &f64| {
        let one = worst_at(deliberation, *offset_mm);
        one.x_mm.abs() > aim.tolerance_mm && one.x_mm * best.x_mm > 0.0
    };
    let answers = trim::swap_shown(belief) || !trim::is_swapped(belief);
    let ends = answers && kit_mm.iter().all(beyond);
    let most_mm = kit_mm.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let least_mm = kit_mm.iter().copied().fold(f64::INFINITY, f64::min);
    let answer = belief.sideways.response.mean() * aim.predictive.gain;
    let as_wide_mm = (answer * (most_mm - least_mm)).abs();
    let reaches = best.x_mm.abs() - aim.tolerance_mm < as_wide_mm;
    Ok([ends, ends && reaches])
}

/// Where a bow has shown how it answers, and every fitting leaves it out, on one side or on the other: the nearest of both sides.
fn steps_coarse(deliberation: &Deliberation, aim: &Aim) -> Option<Reason> {
    let belief = &deliberation.belief;
    if !trim::swap_shown(belief) {
        return None;
    }
    let options = deliberation.options.iter();
    let left_by: Vec<f64> = options
        .map(|one| aim.predicted(belief, one.offset_mm).x_mm)
        .collect();
    let left_mm = left_by
        .iter()
        .copied()
        .filter(|x_mm| *x_mm < 0.0)
        .max_by(f64::total_cmp)?;
    let right_mm = left_by
        .iter()
        .copied()
        .filter(|x_mm| *x_mm > 0.0)
        .min_by(f64::total_cmp)?;
    let out = left_mm.abs().min(right_mm) > aim.tolerance_mm;
    out.then_some(Reason::StepsCoarse { left_mm, right_mm })
}

/// What is expected with the cams at an offset for the probe that is then least likely to be inside tolerance.
fn worst_at(deliberation: &Deliberation, offset_mm: f64) -> Predicted {
    let aims = deliberation.aims.iter().filter(|aim| aim.settles);
    let after = aims.map(|aim| aim.predicted(&deliberation.belief, offset_mm));
    let chance = |one: &Predicted| one.within_tolerance;
    let worst = after.min_by(|a, b| chance(a).total_cmp(&chance(b)));
    worst.unwrap_or_else(Predicted::unknown)
}
