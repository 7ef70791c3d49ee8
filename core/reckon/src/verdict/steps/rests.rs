//! Places the rest may be moved to, and the best of them.

use crate::evidence::{Belief, SAME_M, SAME_MM};
use crate::split::Split;
use crate::verdict::limits::{FEWEST, LIKELY, SURELY, WORTH_A_TURN};
use crate::verdict::seen::aims::least_likely;
use crate::verdict::{Aim, Arrows, Call, Case, Knob};

use super::trim;
use super::weigh::Table;

/// A move of the rest that goes before the press takes out this share of what is left: less is a matter for the spacers. Chosen by
/// hand.
pub(crate) const LEAST_SHARE: f64 = 0.25;
/// Farther out by less than this share of the tolerance is no farther: a rest that was hardly moved has shown nothing.
const FARTHER_SHARE: f64 = 0.1;
/// Losses closer than this are the same but for rounding, mm.
const SAME_LOSS_MM: f64 = 1e-6;
/// Rests closer than this are one place, mm.
const SAME_PLACE_MM: f64 = 1e-6;

/// Places the rest may be moved to. One that has not shown how it answers goes where that may show, or to the end of its room, and
/// back only where its last move made it clearly worse; one that has only where that will likely be seen on the target and make
/// the bow likelier inside, or much likelier.
pub(crate) fn allowed_rests(case: &Case, belief: &Belief, aims: &[Aim], aim: &Aim) -> Vec<f64> {
    let response = trim::rest_response(belief);
    let now_mm = belief.now.rest_mm;
    let left_mm = aim.predicted(belief, belief.now.offset_mm).x_mm / aim.predictive.gain;
    let seen_mm = (aim.loss.flat_mm / aim.predictive.gain.abs()).max(LEAST_SHARE * left_mm.abs());
    let least_now = least_at(belief, aims, now_mm);
    let worsened = trim::worsened_by(belief, aim).filter(|last| last.clearly);
    let room = case.settings.rest_room_mm;
    let is_end =
        |move_mm: f64| move_mm > room.right - SAME_PLACE_MM || -move_mm > room.left - SAME_PLACE_MM;
    let mut places = trim::rest_places(belief, aim, &case.settings);
    places.retain(|rest_mm| {
        let move_mm = rest_mm - now_mm;
        if !response.shown {
            let was_here = was_there(belief, *rest_mm);
            let back = was_here && worsened.is_some_and(|last| last.move_mm * move_mm < 0.0);
            let shows = is_end(move_mm) || trim::may_show(move_mm, left_mm);
            return back || shows && !was_here && !is_farther(belief, aims, *rest_mm);
        }
        let seen = response.chance_back(move_mm, left_mm, seen_mm) >= LIKELY;
        let after = least_at(belief, aims, *rest_mm);
        let much = after >= least_now.map(|now| now + WORTH_A_TURN);
        seen && after > least_now || much
    });
    places
}

/// Whether the aim's probe was shot with the rest there and all else as it stands, where it counts, and landed no farther out than now.
fn stood_no_worse(belief: &Belief, aim: &Aim, rest_mm: f64) -> bool {
    let shot_mm = |rest_mm: f64| {
        let there = belief.observations.iter().filter(|one| {
            let seen = &belief.seen[one.trial];
            one.split.probe == aim.probe
                && (one.split.distance_m - aim.distance_m).abs() < SAME_M
                && seen.trial.epoch == belief.now.epoch
                && (seen.offset_mm - belief.now.offset_mm).abs() < SAME_MM
                && (seen.trial.rest_mm - rest_mm).abs() < SAME_PLACE_MM
        });
        Split::pooled(&there.map(|one| one.split).collect::<Vec<_>>())
            .map(|split| split.offset.x_mm.abs())
    };
    match (shot_mm(rest_mm), shot_mm(belief.now.rest_mm)) {
        (Some(there_mm), Some(here_mm)) => there_mm <= here_mm,
        _ => false,
    }
}

/// Whether the rest stood there before, since the last change of parts.
pub(crate) fn was_there(belief: &Belief, rest_mm: f64) -> bool {
    is_among(&belief.former_rests_mm(), rest_mm)
}

fn is_among(places_mm: &[f64], rest_mm: f64) -> bool {
    let mut places = places_mm.iter();
    places.any(|place| (place - rest_mm).abs() < SAME_PLACE_MM)
}

/// The best move of the rest, and what it is expected to leave with the price of the work, mm.
pub(crate) fn best_trim(
    case: &Case,
    belief: &Belief,
    aims: &[Aim],
    table: &Table,
) -> Option<(Call, f64)> {
    let aim = aims.first()?;
    let settings = &case.settings;
    let price_mm = settings.rest_mm() + settings.round_mm(2 * FEWEST);
    let (rest_mm, left_mm) = places_of_rest(belief, aim, table).first().copied()?;
    let call = Call::Trim {
        knob: Knob::Rest,
        trim: trim::rest(belief, aim, rest_mm),
        put_back: stood_no_worse(belief, aim, rest_mm),
        arrows: Arrows::round(aim.probe, FEWEST, aim.distance_m),
    };
    Some((call, left_mm + price_mm))
}

/// Places that the rest may be moved to now and what is then expected to be left, mm, best first. Of two that are alike the one
/// on the side that common practice teaches, away from where the probe lands, goes first. Nobody goes on the way that has just made
/// it clearly worse, unless the bow has surely shown that it should.
fn places_of_rest(belief: &Belief, aim: &Aim, table: &Table) -> Vec<(f64, f64)> {
    let now = &belief.now;
    let left_mm = aim.predicted(belief, now.offset_mm).x_mm / aim.predictive.gain;
    let toward = |place: &(f64, f64)| (place.0 - now.rest_mm) * left_mm > 0.0;
    let allowed = table.rests.iter().enumerate().skip(1);
    let places = allowed.map(|(place, rest)| {
        let left = table.after_going(place, &[now.offset_mm]);
        (rest.rest_mm, left.first().copied().unwrap_or(f64::INFINITY))
    });
    let former = belief.former_rests_mm();
    let in_reach =
        |place: &(f64, f64)| is_among(&former, place.0) || trim::is_in_reach(belief, place.0);
    let sure = trim::rest_response(belief).chance >= SURELY;
    let worsened = trim::worsened_by(belief, aim).filter(|last| last.clearly && !sure);
    let worsened_mm = worsened.map_or(0.0, |last| last.move_mm);
    let on = |place: &(f64, f64)| (place.0 - now.rest_mm) * worsened_mm > 0.0;
    let places = places.filter(|place| in_reach(place) && !on(place));
    let mut places: Vec<(f64, f64)> = places.collect();
    places.sort_by(|a, b| {
        if (a.1 - b.1).abs() < SAME_LOSS_MM {
            toward(a).cmp(&toward(b))
        } else {
            a.1.total_cmp(&b.1)
        }
    });
    places
}

/// Whether what little the rest has shown takes the probe that is least likely inside farther out with the rest at `rest_mm`.
fn is_farther(belief: &Belief, aims: &[Aim], rest_mm: f64) -> bool {
    let Some((aim, _)) = least_likely(belief, aims) else {
        return false;
    };
    let off_mm = |rest_mm| {
        let there = aim.predicted_at(belief, rest_mm, belief.now.offset_mm);
        there.x_mm.abs()
    };
    off_mm(rest_mm) > off_mm(belief.now.rest_mm) + FARTHER_SHARE * aim.tolerance_mm
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
