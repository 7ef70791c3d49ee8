//! Small moves of the rest and the nocking point: what is known of them, and which are weighed.

use std::collections::BTreeMap;

use crate::evidence::priors::REST_SD;
use crate::evidence::{Belief, Mixture, SAME_M, Seen, above};
use crate::split::Split;
use crate::verdict::limits::SURELY;
use crate::verdict::{Aim, Settings, Trim};

/// Moves of the rest that are weighed to each side, mm (common practice, no source: the least that shows,
/// a small turn, a mark, and the most that is done at once).
const MOVES_MM: [f64; 4] = [0.2, 0.4, 0.8, 1.2];
/// Largest move of the nocking point that is advised in one step, mm (1/16 in; common practice, no
/// source).
const LARGEST_NOCK_MM: f64 = 1.6;
/// A height that takes a longer way of the nocking point, at the most that it may answer after it was moved, is none
/// that it cures, mm: three of the largest steps. Chosen by hand; not tuned.
const MOST_NOCK_MM: f64 = 3.0 * LARGEST_NOCK_MM;
/// Smallest trim worth a turn of the screw, mm; closer settings of a knob do not show its direction. Chosen by hand; not tuned.
pub(crate) const SMALLEST_MM: f64 = 0.1;

/// A rest has shown how it answers once that is known to this standard deviation, mm per mm; nothing is known at
/// [`REST_SD`]. Chosen by hand; without it bows were given up where .4 mm had shown nothing with three arrows, and a
/// bow took two minutes less (`tests/virtual-bows`).
const KNOWN_SD: f64 = 25.0;

/// See [`may_show`]. Chosen by hand: bows 50 mm out were sent .2 mm to and fro.
const SHOWING_SHARE: f64 = 0.5;
/// The same, mm: what is moved at once where nobody knows the answer (common practice, no source).
const SHOWING_MM: f64 = 0.8;

/// A response this small in its own standard deviations is none to reckon with: three chances in five for its
/// direction. Chosen by hand; not tuned.
const LEAST_SDS: f64 = 0.25;

/// Whether trials of one epoch differ in a setting by more than `apart_mm`.
pub(crate) fn varied(belief: &Belief, setting: impl Fn(usize) -> f64, apart_mm: f64) -> bool {
    let mut ends: BTreeMap<i64, [f64; 2]> = BTreeMap::new();
    for one in &belief.observations {
        let at = setting(one.trial);
        let epoch = belief.seen[one.trial].trial.epoch;
        let [low, high] = ends.entry(epoch).or_insert([at; 2]);
        (*low, *high) = (low.min(at), high.max(at));
    }
    ends.values().any(|[low, high]| high - low > apart_mm)
}

/// Cam offsets closer than this do not make a before/after pair, mm. See `swapped`.
pub(crate) const SWAPPED_MM: f64 = 0.05;

/// Whether this bow has shown how it answers its spacers: a pair of trials before and after a swap,
/// and a direction that is 9 in 10 sure.
pub(crate) fn swap_shown(belief: &Belief) -> bool {
    let wrong = belief.sideways.response.wrong_way();
    wrong.max(1.0 - wrong) >= SURELY && is_swapped(belief)
}

/// Whether spacers were moved between trials.
pub(crate) fn is_swapped(belief: &Belief) -> bool {
    varied(belief, |trial| belief.seen[trial].offset_mm, SWAPPED_MM)
}

/// Whether spacers were moved between trials since the last change of parts, by or for whoever shoots the bow now: another hand
/// turns the bow otherwise.
pub(crate) fn is_swapped_since(belief: &Belief) -> bool {
    let now = &belief.now;
    let mut of_now = belief
        .seen
        .iter()
        .filter(|seen| seen.trial.epoch == now.epoch && seen.trial.shooter == now.shooter);
    of_now.any(|seen| (seen.offset_mm - belief.now.offset_mm).abs() > SWAPPED_MM)
}

/// Whether neither spacers nor rest were moved between trials.
pub(crate) fn is_untried(belief: &Belief) -> bool {
    !is_swapped_since(belief) && !rest_response(belief).shown
}

/// The move that would take out all that is left.
#[derive(Debug, Clone, Copy, PartialEq)]
struct WholeMove {
    move_mm: f64,
    sd_mm: f64,
}

/// How a knob answers: mean, standard deviation, chance of the likelier sign, and whether this bow
/// has shown it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct KnobResponse {
    pub(crate) mm_per_mm: f64,
    pub(crate) sd: f64,
    pub(crate) chance: f64,
    pub(crate) shown: bool,
}

/// The rest's response; one that was never moved, or with too few arrows to say, has shown none.
pub(crate) fn rest_response(belief: &Belief) -> KnobResponse {
    let response = belief.sideways.knob();
    let shown = !rest_is_new(belief) && response.sd() < KNOWN_SD;
    KnobResponse::of(&response, shown)
}

/// Whether the rest was never moved on this bow.
pub(crate) fn rest_is_new(belief: &Belief) -> bool {
    !varied(
        belief,
        |trial| belief.seen[trial].trial.rest_mm,
        SMALLEST_MM,
    )
}

/// Whether a place of the rest is no farther than it is moved at once from where it stands or from where it was first, or lies
/// where this bow has surely shown that it should.
pub(crate) fn is_in_reach(belief: &Belief, rest_mm: f64) -> bool {
    let reach_mm = MOVES_MM[MOVES_MM.len() - 1] + 1e-9;
    let mut of_now = belief
        .seen
        .iter()
        .filter(|seen| seen.trial.epoch == belief.now.epoch);
    let first = of_now.next().map(|seen| seen.trial.rest_mm);
    let mut from = [belief.now.rest_mm].into_iter().chain(first);
    let rest = rest_response(belief);
    from.any(|place| (rest_mm - place).abs() <= reach_mm) || rest.shown && rest.chance >= SURELY
}

/// Whether a move of the rest may show an answer beside what is left, mm at its own lever: at the usual one it takes out half of
/// that, or goes [`SHOWING_MM`].
pub(crate) fn may_show(move_mm: f64, left_mm: f64) -> bool {
    let least_mm = (SHOWING_SHARE * left_mm.abs() / REST_SD).min(SHOWING_MM);
    move_mm.abs() > least_mm - 1e-9
}

/// The nocking point's response, as an aim's probe shows it.
fn nock_response(belief: &Belief, aim: &Aim) -> KnobResponse {
    let shown = varied(
        belief,
        |trial| belief.seen[trial].trial.nock_mm,
        SMALLEST_MM,
    );
    KnobResponse::of(&belief.nock_response(aim.probe, aim.distance_m), shown)
}

/// Whether the nocking point was moved since the last change of parts.
pub(crate) fn is_nock_moved(belief: &Belief) -> bool {
    let now = &belief.now;
    let mut of_now = belief
        .seen
        .iter()
        .filter(|seen| seen.trial.epoch == now.epoch);
    of_now.any(|seen| (seen.trial.nock_mm - now.nock_mm).abs() > SMALLEST_MM)
}

/// Whether this bow has shown how its nocking point answers, 9 in 10 sure of the direction.
pub(crate) fn nock_shown(belief: &Belief, aim: &Aim) -> bool {
    let response = nock_response(belief, aim);
    response.shown && response.chance >= SURELY
}

impl KnobResponse {
    fn of(response: &Mixture, shown: bool) -> Self {
        let mm_per_mm = response.mean();
        // Counted on the mean's own side, so that mirrored evidence gives exactly the same chance.
        let chance = if mm_per_mm < 0.0 {
            response.mirrored().above(0.0)
        } else {
            response.above(0.0)
        };
        Self {
            mm_per_mm,
            sd: response.sd(),
            // Exactly even where nothing is known: a rounding step is no direction.
            chance: chance.max(0.5),
            shown,
        }
    }

    /// Chance that a move takes a split of `left_mm` back by more than `seen_mm`.
    pub(crate) fn chance_back(&self, move_mm: f64, left_mm: f64, seen_mm: f64) -> f64 {
        let back_mm = -move_mm * self.mm_per_mm * left_mm.signum();
        above((seen_mm - back_mm) / (move_mm * self.sd).abs().max(1e-12))
    }

    /// The move that takes out `left_mm`; `None` where the response may as well be nothing, or the other way.
    fn whole_move(&self, left_mm: f64) -> Option<WholeMove> {
        let usable = self.mm_per_mm.abs() > LEAST_SDS * self.sd;
        usable.then(|| {
            let move_mm = -left_mm / self.mm_per_mm;
            WholeMove {
                move_mm,
                sd_mm: (move_mm * self.sd / self.mm_per_mm).abs(),
            }
        })
    }
}

/// Places of the rest that are weighed, mm, without the one it stands at: steps to both sides, the
/// place this bow points at where it has shown one, and where the rest stood before.
pub(crate) fn rest_places(belief: &Belief, aim: &Aim, settings: &Settings) -> Vec<f64> {
    let room = settings.rest_room_mm;
    let now_mm = belief.now.rest_mm;
    let fits = |move_mm: f64| move_mm <= room.right + 1e-9 && -move_mm <= room.left + 1e-9;
    let mut moves: Vec<f64> = Vec::new();
    for step in MOVES_MM {
        moves.extend([step, -step]);
    }
    moves.extend([room.right, -room.left]);
    let response = rest_response(belief);
    let left_mm = left_of_rest_mm(belief, aim);
    let whole = response
        .whole_move(left_mm)
        .filter(|_| response.shown)
        .map(|whole| whole.move_mm);
    moves.extend(whole.map(|move_mm| move_mm.clamp(-room.left, room.right)));
    let most_mm = (MOST_SHARE * whole.unwrap_or(left_mm / REST_SD).abs()).max(MOVES_MM[0]);
    moves.retain(|move_mm| fits(*move_mm) && (SMALLEST_MM..=most_mm).contains(&move_mm.abs()));
    // Where the rest stood before it may go back to, whatever the room.
    moves.extend(belief.former_rests_mm().iter().map(|place| place - now_mm));
    let mut kept: Vec<f64> = Vec::new();
    for move_mm in moves {
        if !kept.iter().any(|known| (known - move_mm).abs() < 1e-6) {
            kept.push(move_mm);
        }
    }
    kept.into_iter().map(|move_mm| now_mm + move_mm).collect()
}

/// The most a rest is moved at once, in moves that its answer asks for, as shown or else the usual one: a
/// larger one says more, but is no trim in a shop's eyes; while nobody knows the answer 2.5 ended at 18.6 mm
/// where this ends at 19.0 (`tests/virtual-bows`).
const MOST_SHARE: f64 = 1.5;

/// What the rest would have to take out, mm at its own lever.
fn left_of_rest_mm(belief: &Belief, aim: &Aim) -> f64 {
    let left = belief
        .sideways
        .mixture(&aim.predictive, belief.now.offset_mm);
    left.mean() / aim.predictive.gain
}

/// A last move of the rest that took a probe farther out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Worsened {
    /// How far it went, mm, positive right.
    pub(crate) move_mm: f64,
    /// Whether by more than one standard deviation of what was shot.
    pub(crate) clearly: bool,
}

/// The last move of the rest, where it took the aim's probe farther out; both places must have been shot from one distance
/// with all else as it stands.
pub(crate) fn worsened_by(belief: &Belief, aim: &Aim) -> Option<Worsened> {
    let alike = |seen: &&Seen| {
        seen.trial.epoch == belief.now.epoch
            && (seen.offset_mm - belief.now.offset_mm).abs() < SWAPPED_MM
    };
    let earlier = belief.seen.iter().rev().filter(alike);
    let from_mm = earlier
        .map(|seen| seen.trial.rest_mm)
        .find(|rest_mm| (rest_mm - belief.now.rest_mm).abs() > SMALLEST_MM)?;
    let shot = |rest_mm: f64| -> Vec<Split> {
        let own = belief.observations.iter().filter(|one| {
            let seen = &belief.seen[one.trial];
            let there = (seen.trial.rest_mm - rest_mm).abs() < SMALLEST_MM;
            one.split.probe == aim.probe && alike(&seen) && there
        });
        own.map(|one| one.split).collect()
    };
    let (before, after) = (shot(from_mm), shot(belief.now.rest_mm));
    let same = |a: &Split, b: &Split| (a.distance_m - b.distance_m).abs() < SAME_M;
    let mut latest = after.iter().rev();
    let at = latest.find(|one| before.iter().any(|other| same(one, other)))?;
    let pooled = |shot: &[Split]| -> Option<Split> {
        let there: Vec<Split> = shot.iter().filter(|one| same(one, at)).copied().collect();
        Split::pooled(&there)
    };
    let (before, after) = (pooled(&before)?, pooled(&after)?);
    let worse_mm = after.offset.x_mm.abs() - before.offset.x_mm.abs();
    (worse_mm > 0.0).then(|| Worsened {
        move_mm: belief.now.rest_mm - from_mm,
        clearly: worse_mm > before.cov.sd_x_mm().hypot(after.cov.sd_x_mm()),
    })
}

/// A move of the rest as it is advised.
pub(crate) fn rest(belief: &Belief, aim: &Aim, rest_mm: f64) -> Trim {
    let response = rest_response(belief);
    let left_mm = left_of_rest_mm(belief, aim);
    let usual_mm = (left_mm / response.sd.max(1.0)).abs();
    let sd_mm = response
        .whole_move(left_mm)
        .filter(|_| response.shown)
        .map_or(usual_mm, |whole| whole.sd_mm);
    Trim {
        move_mm: rest_mm - belief.now.rest_mm,
        sd_mm,
        direction_chance: response.chance,
    }
}

/// What is left of the vertical split of an aim's probe, mm of bare-shaft split at 20 yd.
fn left_in_height_mm(belief: &Belief, aim: &Aim) -> f64 {
    belief.vertical(aim.probe, aim.distance_m).mean() / aim.predictive.gain
}

/// How far a move of the nocking point takes an aim's probe up or down, mm.
pub(crate) fn nock_moves_mm(belief: &Belief, aim: &Aim, move_mm: f64) -> f64 {
    nock_response(belief, aim).mm_per_mm * move_mm * aim.predictive.gain
}

/// Whether the nocking point was moved and does not answer: no way of it that anybody would go takes out what is left.
pub(crate) fn nock_is_dead(belief: &Belief, aim: &Aim) -> bool {
    let response = nock_response(belief, aim);
    let left_mm = left_in_height_mm(belief, aim);
    let at_best = response.mm_per_mm.abs() + response.sd;
    let reaches = left_mm.abs() < MOST_NOCK_MM * at_best && response.whole_move(left_mm).is_some();
    response.shown && !reaches
}

/// The move of the nocking point that takes out what is left of the vertical split, at most one
/// step: bare shafts LOW call for DOWN, HIGH for UP. `None` where it does not answer, or none is worth a turn.
pub(crate) fn nock(belief: &Belief, aim: &Aim) -> Option<Trim> {
    let response = nock_response(belief, aim);
    let whole = response.whole_move(left_in_height_mm(belief, aim))?;
    let worth = whole.move_mm.abs() >= SMALLEST_MM && !nock_is_dead(belief, aim);
    worth.then(|| Trim {
        move_mm: whole.move_mm.clamp(-LARGEST_NOCK_MM, LARGEST_NOCK_MM),
        sd_mm: whole.sd_mm,
        direction_chance: response.chance,
    })
}
