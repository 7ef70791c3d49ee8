//! The next steps that are weighed in one table: fittings, places of the rest, rounds of arrows.

use crate::evidence::Belief;
use crate::verdict::limits::{FEWEST, LIKELY, MAY_BE, WORTH_A_TRY};
use crate::verdict::seen::aims::{chance_inside, least_likely};
use crate::verdict::{Aim, Arrows, Call, Case, Choice};

use super::options::Fittings;
use super::rests::{allowed_rests, best_trim};
use super::trim;
use super::weigh::Table;

/// Values closer than this share of the tolerance (1 mm of 25) are alike: then the cheaper, reversible thing comes first.
/// Chosen by hand; `tests/virtual-bows` measures what it costs.
const ALIKE: f64 = 0.04;
/// Values closer than this are the same but for rounding, mm.
const SAME_MM: f64 = 1e-6;

/// One next step.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct NextStep {
    pub(crate) call: Call,
    /// What is expected to be left in the end plus the price of the work, mm.
    pub(crate) loss_mm: f64,
}

/// All that was weighed.
pub(crate) struct Weighed {
    /// Every fitting, best first.
    pub(crate) choices: Vec<Choice>,
    /// Every next step, best first.
    pub(crate) steps: Vec<NextStep>,
    /// The loss of leaving it all as it is, mm.
    pub(crate) stay_mm: f64,
}

/// Weighs every fitting and every next step.
pub(crate) fn weigh(case: &Case, belief: &Belief, aims: &[Aim], fittings: &Fittings) -> Weighed {
    let rests_mm = aims
        .first()
        .map(|aim| allowed_rests(case, belief, aims, aim))
        .unwrap_or_default();
    let table = Table::new(
        belief,
        aims,
        &case.settings,
        &fittings.offsets_mm,
        &rests_mm,
    );
    let choices = fittings.choices(case, belief, aims, &table);
    let stay_mm = table.loss_mm(0, belief.now.offset_mm);
    let alike_mm = ALIKE * case.settings.tolerance_mm;
    let swaps = choices.iter().filter(|choice| choice.axles_opened > 0);
    let pays = |choice: &&Choice| aims.first().is_some_and(|aim| is_fair(belief, aim, choice));
    let swap = best_swap(belief, swaps.filter(pays), stay_mm).map(|choice| NextStep {
        call: Call::Fit {
            fitting: choice.fitting.clone(),
            experiment: !trim::swap_shown(belief),
        },
        loss_mm: choice.loss_mm,
    });
    let mut steps: Vec<NextStep> = swap.into_iter().collect();
    steps.extend(
        best_trim(case, belief, aims, &table).map(|(call, loss_mm)| NextStep { call, loss_mm }),
    );
    // Where there is nothing to try, arrows can only show that all is well.
    let may_be_inside = least_likely(belief, aims).is_none_or(|(_, chance)| chance >= MAY_BE);
    let of_use = may_be_inside || !steps.is_empty();
    steps.extend(another_round(case, belief, aims, &table).filter(|_| of_use));
    steps.sort_by(|a, b| a.loss_mm.total_cmp(&b.loss_mm));
    prefer_acting(&mut steps, alike_mm);
    prefer_reversible(&mut steps, alike_mm);
    Weighed {
        choices,
        steps,
        stay_mm,
    }
}

/// Whether a swap is worth a press job whatever it would teach: it takes the split nearer, may well halve it, and is seen on the
/// target, or cures a bow that has shown how it answers.
fn is_fair(belief: &Belief, aim: &Aim, choice: &Choice) -> bool {
    let offset_mm = choice.offset_mm;
    let seen = seen_on_target(belief, aim, offset_mm) >= LIKELY;
    let cures = || trim::swap_shown(belief) && cures(belief, aim, offset_mm);
    !is_farther(belief, aim, offset_mm)
        && halved(belief, aim, offset_mm) >= MAY_BE
        && (seen || cures())
}

/// The best of swaps, best first: of a bow that has shown how it answers the likeliest to end inside, if it pays, for there is
/// nothing to be learned.
fn best_swap<'c>(
    belief: &Belief,
    mut swaps: impl Iterator<Item = &'c Choice>,
    stay_mm: f64,
) -> Option<&'c Choice> {
    let first = swaps.next()?;
    if !trim::swap_shown(belief) {
        return Some(first);
    }
    let paying = swaps.take_while(|other| other.loss_mm < stay_mm);
    Some(paying.fold(first, |best, other| {
        if other.within_tolerance > best.within_tolerance {
            other
        } else {
            best
        }
    }))
}

/// Chance that a swap brings the first aim inside tolerance, or at least halves it.
pub(crate) fn halved(belief: &Belief, aim: &Aim, offset_mm: f64) -> f64 {
    let split = |offset_mm| belief.sideways.mixture(&aim.predictive, offset_mm);
    let now_mm = split(belief.now.offset_mm).mean().abs();
    split(offset_mm).within(aim.tolerance_mm.max(0.5 * now_mm))
}

/// Whether a swap is expected to leave the first aim farther out than it is: nobody presses a bow that is 45 mm right for one that
/// is expected 92 mm left, whatever a weak answer would make of it.
fn is_farther(belief: &Belief, aim: &Aim, offset_mm: f64) -> bool {
    let off_mm = |offset_mm| {
        belief
            .sideways
            .mixture(&aim.predictive, offset_mm)
            .mean()
            .abs()
    };
    off_mm(offset_mm) > off_mm(belief.now.offset_mm) + SAME_MM
}

/// Whether a swap is likely to bring a bow inside tolerance that is out.
fn cures(belief: &Belief, aim: &Aim, offset_mm: f64) -> bool {
    let after = aim.predicted(belief, offset_mm).within_tolerance;
    after >= LIKELY && after >= chance_inside(belief, aim) + WORTH_A_TRY
}

/// Chance that a swap moves the split back by more than what costs nothing on the target.
fn seen_on_target(belief: &Belief, aim: &Aim, offset_mm: f64) -> f64 {
    let (predictive, response) = (&aim.predictive, &belief.sideways.response);
    let now_mm = belief
        .sideways
        .mixture(predictive, belief.now.offset_mm)
        .mean();
    let back = |at: f64| predictive.mean(at, belief.now.offset_mm) - predictive.mean(at, offset_mm);
    let each = response.values.iter().zip(&response.weights);
    let seen = each.filter(|(at, _)| back(**at) * now_mm.signum() > aim.loss.flat_mm);
    seen.map(|(_, weight)| weight).sum()
}

/// As many arrows again, where they count.
fn another_round(case: &Case, belief: &Belief, aims: &[Aim], table: &Table) -> Option<NextStep> {
    let aim = aims.first()?;
    Some(NextStep {
        call: Call::ShootMore {
            arrows: Arrows::round(aim.probe, FEWEST, aim.distance_m),
        },
        loss_mm: table.after_shooting(belief) + case.settings.round_mm(2 * FEWEST),
    })
}

/// Of a round of arrows and a move that are alike the move goes first: it is followed by a round too.
fn prefer_acting(steps: &mut [NextStep], alike_mm: f64) {
    let is_round = |step: &NextStep| matches!(step.call, Call::ShootMore { .. });
    if steps.len() > 1 && is_round(&steps[0]) && steps[1].loss_mm - steps[0].loss_mm < alike_mm {
        steps.swap(0, 1);
    }
}

/// Of a swap and a trim that are alike the trim goes first: it is cheap and can be put back.
fn prefer_reversible(steps: &mut [NextStep], alike_mm: f64) {
    let trim = steps
        .iter()
        .position(|step| matches!(step.call, Call::Trim { .. }));
    if let (Some(trim), Some(first)) = (trim, steps.first()) {
        let swap_first = matches!(first.call, Call::Fit { .. });
        if swap_first && steps[trim].loss_mm - first.loss_mm < alike_mm {
            steps[..=trim].rotate_right(1);
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::evidence::Probe;
    use crate::frame::Side;
    use crate::spacer::{Fitting, Seat};
    use crate::verdict::{Knob, Trim};

    use super::*;

    fn step(call: Call, loss_mm: f64) -> NextStep {
        NextStep { call, loss_mm }
    }

    fn swap() -> Call {
        let seat = Seat {
            pair: "C".into(),
            thick: Side::Right,
        };
        let fitting = Fitting {
            top: seat.clone(),
            bottom: seat,
        };
        Call::Fit {
            fitting,
            experiment: true,
        }
    }

    fn trim() -> Call {
        let trim = Trim {
            move_mm: -0.4,
            sd_mm: 0.2,
            direction_chance: 0.7,
        };
        Call::Trim {
            knob: Knob::Rest,
            trim,
            put_back: false,
            arrows: Arrows::round(Probe::Bare, FEWEST, 18.288),
        }
    }

    /// The rest goes before the press where both are worth the same, and not where the swap is worth more.
    #[test]
    fn of_a_swap_and_a_trim_that_are_alike_the_trim_goes_first() {
        for (behind_mm, first) in [(0.4, trim()), (0.99, trim()), (1.01, swap()), (9.0, swap())] {
            let mut steps = [step(swap(), 20.0), step(trim(), 20.0 + behind_mm)];
            prefer_reversible(&mut steps, 1.0);
            assert_eq!(steps[0].call, first, "{behind_mm}");
        }
    }
}
