//! Small moves of the rest and the nocking point, once this bow has shown their direction.

use crate::evidence::{Belief, Mixture, Probe};

use super::{Aim, Trim};

/// A direction this sure may be advised.
const SURE: f64 = 0.9;
/// Largest trim that is advised in one step, mm (1/16 in; common practice, no source).
const LARGEST_MM: f64 = 1.6;
/// Smallest trim worth a turn of the screw, mm.
const SMALLEST_MM: f64 = 0.1;
/// Settings of the knob closer than this do not show its direction, mm.
const APART_MM: f64 = 0.1;

/// Whether trials of one epoch differ in a setting by more than `apart_mm`.
pub(crate) fn varied(belief: &Belief, setting: impl Fn(usize) -> f64, apart_mm: f64) -> bool {
    belief.observations.iter().any(|a| {
        belief.observations.iter().any(|b| {
            let same_epoch = belief.seen[a.trial].trial.epoch == belief.seen[b.trial].trial.epoch;
            same_epoch && (setting(a.trial) - setting(b.trial)).abs() > apart_mm
        })
    })
}

/// The rest's response and how sure its direction is, where this bow has shown it.
pub(crate) fn rest_response(belief: &Belief) -> Option<(f64, f64, f64)> {
    let shown = varied(belief, |trial| belief.seen[trial].trial.rest_mm, APART_MM);
    shown.then(|| known(&belief.sideways.knob()))
}

/// The nocking point's response and how sure its direction is, where this bow has shown it.
pub(crate) fn nock_response(belief: &Belief) -> Option<(f64, f64, f64)> {
    let shown = varied(belief, |trial| belief.seen[trial].trial.nock_mm, APART_MM);
    shown.then(|| known(&belief.nock_response()))
}

/// Mean, standard deviation and chance of the likelier sign.
fn known(response: &Mixture) -> (f64, f64, f64) {
    let mean = response.mean();
    // Counted on the mean's own side, so that mirrored evidence gives exactly the same chance.
    let chance = if mean < 0.0 {
        response.mirrored().above(0.0)
    } else {
        response.above(0.0)
    };
    (mean, response.sd(), chance)
}

/// The rest trim that takes out what is left of the first aim.
pub(crate) fn rest(belief: &Belief, aim: &Aim) -> Option<Trim> {
    let left = belief.sideways.mixture(&aim.outlook, belief.now.offset_mm);
    trim(left.mean(), aim.outlook.gain, rest_response(belief)?)
}

/// The nocking-point trim that takes out what is left of the vertical split.
pub(crate) fn nock(belief: &Belief, probe: Probe, distance_m: f64, gain: f64) -> Option<Trim> {
    let left = belief.vertical(probe, distance_m);
    trim(left.mean(), gain, nock_response(belief)?)
}

fn trim(left_mm: f64, gain: f64, (response, sd, chance): (f64, f64, f64)) -> Option<Trim> {
    if chance < SURE || response.abs() < f64::EPSILON {
        return None;
    }
    let whole_mm = -left_mm / (gain * response);
    let move_mm = whole_mm.clamp(-LARGEST_MM, LARGEST_MM);
    (move_mm.abs() >= SMALLEST_MM).then(|| Trim {
        move_mm,
        sd_mm: (whole_mm * sd / response).abs(),
        direction_chance: chance,
    })
}
