//! What is said where nothing pays.

use crate::evidence::{Probe, SAME_MM};

use super::aims::LIKELY_INSIDE;
use super::deliberation::{
    Deliberation, farthest, is_far_out, is_shown, out_as_shot, stuck_height,
};
use super::first::{heads_stay_apart, heads_stay_off_height};
use super::heads::heads_apart;
use super::options::Fittings;
use super::{NextLook, Predicted, Reason, VerdictError, trim};

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
    let options = deliberation.options.iter();
    let after: Vec<(f64, f64)> = options
        .map(|one| {
            let aims = deliberation.aims.iter().filter(|aim| aim.settles);
            let left = aims.map(|aim| aim.left_mm(belief, one.offset_mm));
            (one.offset_mm, left.fold(0.0, f64::max))
        })
        .collect();
    let best = after.iter().min_by(|a, b| a.1.total_cmp(&b.1));
    let Some((best_offset_mm, _)) = best.copied() else {
        return Ok(());
    };
    let best = worst_at(deliberation, best_offset_mm);
    let stays = (best_offset_mm - belief.now.offset_mm).abs() <= SAME_MM;
    let heads_height = heads_stay_off_height(deliberation).filter(|_| chance >= LIKELY_INSIDE);
    let height = heads_height.map(|y_mm| Reason::HeadsOffHeight { y_mm });
    let height = height.or_else(|| stuck_height(deliberation));
    let well = chance >= LIKELY_INSIDE && (out_as_shot(deliberation).is_some() || height.is_some());
    let apart = heads_stay_apart(deliberation);
    // Then all is well where it counts and sideways, or no place of the cams brings both in: nothing is left to weigh.
    let elsewhere = well || apart.is_some();
    reasons.extend(height.filter(|_| well));
    reasons.extend(apart.map(|both| heads_apart(&both)));
    let likely = chance >= LIKELY_INSIDE && !elsewhere;
    if likely {
        reasons.push(Reason::MayBeInside { chance });
    }
    if !elsewhere && !stays {
        reasons.push(Reason::NothingPays {
            best_mm: best.x_mm,
            chance: best.within_tolerance,
        });
    }
    // Steps that lead from one side straight to the other are coarse; that is no end of the kit.
    let beyond = |one: &Predicted| one.x_mm.abs() > aim.tolerance_mm && one.x_mm * best.x_mm > 0.0;
    // A better fitting whose pieces are not at hand is named beside this.
    let kit = Fittings::of(deliberation.case, false)?.offsets_mm;
    // Nor where the cams were moved and nothing came of it: another kit would do no more.
    let answers = trim::swap_shown(belief) || !trim::is_swapped(belief);
    let ends = answers
        && kit
            .iter()
            .all(|offset_mm| beyond(&worst_at(deliberation, *offset_mm)));
    if ends {
        reasons.push(Reason::KitEnds {
            remaining_mm: best.x_mm,
        });
    }
    if likely {
        return Ok(());
    }
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
        NextLook::AnotherKit => ends && !far_out,
        // Sideways all is well, and nothing of the bow moves the heads alone.
        _ => heads_height.is_none(),
    };
    reasons.extend(looks.filter(bears).map(|look| Reason::LookNext { look }));
    Ok(())
}

/// What is expected with the cams at an offset for the probe that is then least likely to be inside tolerance.
fn worst_at(deliberation: &Deliberation, offset_mm: f64) -> Predicted {
    let aims = deliberation.aims.iter().filter(|aim| aim.settles);
    let after = aims.map(|aim| aim.predicted(&deliberation.belief, offset_mm));
    let chance = |one: &Predicted| one.within_tolerance;
    let worst = after.min_by(|a, b| chance(a).total_cmp(&chance(b)));
    worst.unwrap_or_else(Predicted::unknown)
}
