//! The next steps that are weighed in one table: fittings, places of the rest, rounds of arrows.

use crate::evidence::{Belief, Probe, SAME_M};

use super::aims::{SETTLED, chance_inside, least_likely};
use super::options::Fittings;
use super::weigh::{ROUND_EACH, RestsMm, Table};
use super::{Aim, Arrows, Call, Case, Choice, Knob, trim};

/// Numbers of arrows of each kind that are considered. Chosen by hand; `tests/virtual-bows` measures
/// what it costs.
const COUNTS: [u32; 3] = [6, 4, 3];
/// Values closer than this share of the tolerance (1 mm of 25) are alike: then the cheaper, reversible thing comes first.
/// Chosen by hand; `tests/virtual-bows` measures what it costs.
const ALIKE: f64 = 0.04;
/// A swap as an experiment must be this likely to halve the split: a bow is not pressed for what nobody
/// would see on the target, however much a response out of all proportion would make of it. Chosen by
/// hand; at twice as much one far-off bow in twenty never saw the press (`tests/virtual-bows`).
const FAIR: f64 = 0.1;
/// As likely as not: so likely must a swap be to move the split back by what is seen on the target.
const EVEN: f64 = 0.5;
/// So likely must a move of a rest that has shown how it answers be to take the split back by what is seen on the target: it
/// is moved in minutes. Chosen by hand; from 0 to .5 it makes no difference in `tests/virtual-bows`, but a rest that does not
/// answer had been moved for ever.
const REST_SEEN: f64 = 0.5;
/// Such a move takes out this share of what is left, more likely than not: less is a matter for the spacers. Chosen by hand.
const LEAST_SHARE: f64 = 0.25;
/// Where nothing was tried yet, a bow inside tolerance more likely than this gets another round
/// before it is given up (`tests/virtual-bows`: else one far-off bow in ten never sees the press).
pub(crate) const MAY_BE_INSIDE: f64 = 0.2;
/// A bow that is out is pressed once more for a fitting that will more likely than not bring it inside, and likelier by
/// [`WORTH_A_TRY`], also where that would hardly be seen on the target. Chosen by hand.
const LIKELY_CURE: f64 = 0.5;
/// Before a bow is given up that never saw the press, it is pressed for a fitting that is likelier to bring it inside by so
/// much, though that costs more than it saves: else one 26 mm right is given up that has a fitting for 9. Chosen by hand;
/// what else was asked of such a fitting changed nothing in `tests/virtual-bows` but bows given up with coarse kits.
pub(crate) const WORTH_A_TRY: f64 = 0.2;
/// The same of a move of the rest, which takes minutes. Chosen by hand; at half as much it was moved for ever, at twice as much
/// bows were given up whose rest had only been tried to one side.
pub(crate) const WORTH_A_TURN: f64 = 0.1;
/// Values closer than this are the same but for rounding, mm.
const SAME_MM: f64 = 1e-6;
/// Rests closer than this are one place, mm.
const SAME_PLACE_MM: f64 = 1e-6;

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
    let rests_mm = match aims.first() {
        Some(aim) => allowed_rests(case, belief, aims, aim),
        None => RestsMm::default(),
    };
    let table = Table::new(
        belief,
        aims,
        &case.settings,
        &fittings.offsets_mm,
        &rests_mm,
    );
    let choices = fittings.choices(case, belief, aims, &table);
    let stay_mm = table.loss_mm(0, belief.now.offset_mm);
    let experiment = !trim::swap_shown(belief);
    let worth_trying = |choice: &&Choice| {
        let aim = aims.first();
        let fair = |aim| {
            let likely = !experiment || halved(belief, aim, choice.offset_mm) >= FAIR;
            let seen = seen_on_target(belief, aim, choice.offset_mm) >= EVEN;
            likely && (seen || !experiment && cures(belief, aim, choice.offset_mm))
        };
        aim.is_some_and(fair)
    };
    let alike_mm = ALIKE * case.settings.tolerance_mm;
    let swaps = choices.iter().filter(|choice| choice.axles_opened > 0);
    let swaps = swaps.filter(worth_trying).collect::<Vec<_>>();
    let mut steps: Vec<NextStep> = best_swap(belief, &swaps, stay_mm, alike_mm)
        .map(|choice| NextStep {
            call: Call::Fit {
                fitting: choice.fitting.clone(),
                experiment,
            },
            loss_mm: choice.loss_mm,
        })
        .into_iter()
        .collect();
    steps.extend(best_trim(case, belief, aims, &table));
    // Where there is nothing to try, arrows can only show that all is well.
    let may_be_inside =
        least_likely(belief, aims).is_none_or(|(_, chance)| chance >= MAY_BE_INSIDE);
    let of_use = may_be_inside || !steps.is_empty();
    steps.extend(best_round(case, belief, aims, &table).filter(|_| of_use));
    steps.sort_by(|a, b| a.loss_mm.total_cmp(&b.loss_mm));
    prefer_acting(&mut steps, alike_mm);
    prefer_reversible(&mut steps, alike_mm);
    Weighed {
        choices,
        steps,
        stay_mm,
    }
}

/// Chance that a swap brings the first aim inside tolerance, or at least halves it.
pub(crate) fn halved(belief: &Belief, aim: &Aim, offset_mm: f64) -> f64 {
    let split = |offset_mm| belief.sideways.mixture(&aim.predictive, offset_mm);
    let now_mm = split(belief.now.offset_mm).mean().abs();
    split(offset_mm).within(aim.tolerance_mm.max(0.5 * now_mm))
}

/// Whether a swap is likely to bring a bow inside tolerance that is out.
fn cures(belief: &Belief, aim: &Aim, offset_mm: f64) -> bool {
    let after = aim.predicted(belief, offset_mm).within_tolerance;
    after >= LIKELY_CURE && after >= chance_inside(belief, aim) + WORTH_A_TRY
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

/// The best swap, of choices best first: a shorter one that is likelier to end inside, if it pays; of those that are alike the
/// one that goes least far.
fn best_swap<'c>(
    belief: &Belief,
    swaps: &[&'c Choice],
    stay_mm: f64,
    alike_mm: f64,
) -> Option<&'c Choice> {
    let far_mm = |choice: &Choice| (choice.offset_mm - belief.now.offset_mm).abs();
    let first = *swaps.first()?;
    let likelier = swaps.iter().copied().filter(|other| {
        let shorter = far_mm(other) < far_mm(first) - SAME_MM;
        shorter && other.within_tolerance > first.within_tolerance && other.loss_mm < stay_mm
    });
    let likeliest = likelier.max_by(|a, b| a.within_tolerance.total_cmp(&b.within_tolerance));
    let best = likeliest.unwrap_or(first);
    let alike = swaps.iter().copied().filter(|other| {
        (other.loss_mm - best.loss_mm).abs() < alike_mm && other.axles_opened == best.axles_opened
    });
    let nearer = |best, other| {
        if far_mm(other) < far_mm(best) - SAME_MM {
            other
        } else {
            best
        }
    };
    Some(alike.fold(best, nearer))
}

/// Places the rest may be moved to. One that has not shown how it answers goes where that may show, or to the end of its room, and
/// back only where its last move made it worse, clearly so if it went to and fro already; of one that has only such as will likely be seen on the target and make the bow likelier inside,
/// or much likelier. With the cams where they stand no later step goes where none may go now.
fn allowed_rests(case: &Case, belief: &Belief, aims: &[Aim], aim: &Aim) -> RestsMm {
    let places = trim::rest_places(belief, aim, &case.settings);
    let response = trim::rest_response(belief);
    let now_mm = belief.now.rest_mm;
    let left_mm = aim.predicted(belief, belief.now.offset_mm).x_mm / aim.predictive.gain;
    let seen_mm = (aim.loss.flat_mm / aim.predictive.gain.abs()).max(LEAST_SHARE * left_mm.abs());
    let least_now = least_at(belief, aims, now_mm);
    let worsened = trim::worsened_by(belief, aim);
    let room = case.settings.rest_room_mm;
    let is_end =
        |move_mm: f64| move_mm > room.right - SAME_PLACE_MM || -move_mm > room.left - SAME_PLACE_MM;
    let (allowed, after_a_swap) = places.into_iter().partition(|rest_mm| {
        let move_mm = rest_mm - now_mm;
        let was_here = is_among(&belief.former_rests_mm(), *rest_mm);
        let back = worsened.filter(|last| was_here && last.move_mm * move_mm < 0.0);
        if !response.shown {
            let shows = is_end(move_mm) || trim::may_show(move_mm, left_mm);
            let once = back.filter(|last| last.clearly || trim::rest_moves(belief) == 1);
            return once.is_some() || shows && !was_here;
        }
        let seen = response.chance_back(move_mm, left_mm, seen_mm) >= REST_SEEN;
        if seen && back.is_some_and(|last| last.clearly) {
            return true;
        }
        let much = least_at(belief, aims, *rest_mm) >= least_now.map(|now| now + WORTH_A_TURN);
        seen && is_likelier(belief, aims, *rest_mm) || much
    });
    RestsMm {
        allowed,
        after_a_swap,
    }
}

fn is_among(places_mm: &[f64], rest_mm: f64) -> bool {
    let mut places = places_mm.iter();
    places.any(|place| (place - rest_mm).abs() < SAME_PLACE_MM)
}

/// The best place of the rest.
fn best_trim(case: &Case, belief: &Belief, aims: &[Aim], table: &Table) -> Option<NextStep> {
    let aim = aims.first()?;
    let settings = &case.settings;
    let price_mm = settings.rest_mm() + settings.round_mm(2 * ROUND_EACH);
    let (rest_mm, left_mm) = places_of_rest(belief, aim, table).first().copied()?;
    Some(NextStep {
        call: Call::Trim {
            knob: Knob::Rest,
            trim: trim::rest(belief, aim, rest_mm),
            put_back: is_among(&belief.former_rests_mm(), rest_mm),
            arrows: Arrows::round(aim.probe, ROUND_EACH, aim.distance_m),
        },
        loss_mm: left_mm + price_mm,
    })
}

/// Places that the rest may be moved to now and what is then expected to be left, mm, best first. A rest that was never moved
/// goes to the side that common practice teaches, away from where the probe lands, wherever there is more room; to the other
/// where there is none. Nobody goes on the way that has just
/// made it clearly worse, unless the bow has surely shown that it should.
fn places_of_rest(belief: &Belief, aim: &Aim, table: &Table) -> Vec<(f64, f64)> {
    let now = &belief.now;
    let left_mm = aim.predicted(belief, now.offset_mm).x_mm / aim.predictive.gain;
    let toward = |place: &(f64, f64)| (place.0 - now.rest_mm) * left_mm > 0.0;
    let allowed = table.rests.iter().enumerate().take(table.allowed).skip(1);
    let places = allowed.map(|(place, rest)| {
        let left = table.after_going(place, &[now.offset_mm]);
        (rest.rest_mm, left.first().copied().unwrap_or(f64::INFINITY))
    });
    let former = belief.former_rests_mm();
    let in_reach =
        |place: &(f64, f64)| is_among(&former, place.0) || trim::is_in_reach(belief, place.0);
    let sure = trim::rest_response(belief).chance >= trim::SHOWN;
    let worsened = trim::worsened_by(belief, aim).filter(|last| last.clearly && !sure);
    let worsened_mm = worsened.map_or(0.0, |last| last.move_mm);
    let on = |place: &(f64, f64)| (place.0 - now.rest_mm) * worsened_mm > 0.0;
    let places = places.filter(|place| in_reach(place) && !on(place));
    let mut places: Vec<(f64, f64)> = places.collect();
    if trim::rest_is_new(belief) && !places.iter().all(toward) {
        places.retain(|place| !toward(place));
    }
    places.sort_by(|a, b| {
        if (a.1 - b.1).abs() < SAME_MM {
            toward(a).cmp(&toward(b))
        } else {
            a.1.total_cmp(&b.1)
        }
    });
    places
}

/// Whether the probe that is least likely to be inside tolerance is likelier so with the rest at `rest_mm`, the one that
/// leads no less, and what is in stays in.
fn is_likelier(belief: &Belief, aims: &[Aim], rest_mm: f64) -> bool {
    let now_mm = belief.now.rest_mm;
    let now = |aim| chance_at(belief, aim, now_mm);
    let after = |aim| chance_at(belief, aim, rest_mm);
    let lead = aims.first().is_some_and(|aim| after(aim) >= now(aim));
    let mut others = aims.iter().skip(1).filter(|aim| aim.settles);
    let kept = others.all(|aim| after(aim) >= now(aim).min(SETTLED));
    least_at(belief, aims, rest_mm) > least_at(belief, aims, now_mm) && lead && kept
}

/// Chance to be inside tolerance of a probe with the rest at `rest_mm`.
fn chance_at(belief: &Belief, aim: &Aim, rest_mm: f64) -> f64 {
    let after = aim.predicted_at(belief, rest_mm, belief.now.offset_mm);
    after.within_tolerance
}

/// The same of the probe that is then least likely to be.
fn least_at(belief: &Belief, aims: &[Aim], rest_mm: f64) -> Option<f64> {
    let settling = aims.iter().filter(|aim| aim.settles);
    let chances = settling.map(|aim| chance_at(belief, aim, rest_mm));
    chances.min_by(f64::total_cmp)
}

/// The best number of arrows and distance.
fn best_round(case: &Case, belief: &Belief, aims: &[Aim], table: &Table) -> Option<NextStep> {
    let aim = aims.first()?;
    let mut best: Option<NextStep> = None;
    for distance_m in distances(belief, aim) {
        for each in COUNTS {
            let arrows = Arrows::round(aim.probe, each, distance_m);
            let left_mm = table.after_shooting(belief, aim.probe, distance_m, each);
            let loss_mm = left_mm + case.settings.round_mm(2 * each);
            if best.as_ref().is_none_or(|best| loss_mm < best.loss_mm) {
                best = Some(NextStep {
                    call: Call::ShootMore { arrows },
                    loss_mm,
                });
            }
        }
    }
    best
}

/// The distance that matters, and the first other one that the probe was shot at.
fn distances(belief: &Belief, aim: &Aim) -> Vec<f64> {
    let mut all = vec![aim.distance_m];
    for observation in &belief.observations {
        let split = &observation.split;
        let new = (split.distance_m - aim.distance_m).abs() > SAME_M;
        let face = split.probe != Probe::Paper && aim.probe != Probe::Paper;
        if new && face && all.len() < 2 {
            all.push(split.distance_m);
        }
    }
    all
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
    use crate::frame::Side;
    use crate::spacer::{Fitting, Seat};
    use crate::verdict::Trim;

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
            arrows: Arrows::round(Probe::Bare, ROUND_EACH, 18.288),
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
