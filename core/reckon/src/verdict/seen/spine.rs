//! Arrows that scatter far more than they should: spine or nock fit of bare shafts, heads that run untrue.

use crate::evidence::{Belief, Probe, Seen, Shot};
use crate::frame::ArrowKind;
use crate::group::{Group, Impact};
use crate::scatter::ArrowHabit;
use crate::stats::f_upper_p;

use super::splits::counted_shooter;

/// Bare shafts and broadheads are taken to scatter up to this many times as much as fletched field points (common
/// practice, no source: 1.3 to 2 of bare shafts, hardly more than 1 of heads that run true).
const USUAL_RATIO: f64 = 2.0;
/// Ratio of scatters that is worth a look. Half as much again as what is taken to be usual; not tuned.
const SUSPECT_RATIO: f64 = 3.0;
/// Chance of such a ratio by luck below which it is taken as shown. One look in two hundred at sound
/// arrows.
const P: f64 = 0.005;
/// Rounds of bare shafts since the last change of parts after which how they scatter is only said: two show it, and two follow a
/// look. Chosen by hand.
const ROUNDS: usize = 4;
/// Degrees of freedom of each kind before that: two groups of three arrows on both axes.
const DOF: f64 = 8.0;

/// Chance of such a ratio by luck below which a bow is not called done on few arrows: it is shot again first.
const DOUBT_P: f64 = 0.05;
/// Degrees of freedom of each kind for that: a group of four arrows on both axes.
const DOUBT_DOF: f64 = 6.0;

/// How many times as far as fletched ones the arrows of a probe scatter, where that is far more than they should; arrows that
/// keep landing apart are not all of them.
pub(crate) fn scatter(belief: &Belief, probe: Probe, habits: &[ArrowHabit]) -> Option<f64> {
    ratio_beyond(belief, probe, habits, (P, DOF))
}

/// The same where the arrows of a probe only seem to scatter too far.
pub(crate) fn may_scatter(belief: &Belief, probe: Probe, habits: &[ArrowHabit]) -> Option<f64> {
    ratio_beyond(belief, probe, habits, (DOUBT_P, DOUBT_DOF))
}

/// The ratio of scatters where it is suspect, so large by luck less often than that, from so many degrees of freedom of each kind.
fn ratio_beyond(
    belief: &Belief,
    probe: Probe,
    habits: &[ArrowHabit],
    (luck, dof): (f64, f64),
) -> Option<f64> {
    let shooter = counted_shooter(belief, probe);
    let of = |kind| raw_scatter(belief, kind, shooter, habits);
    let (own, own_dof) = of(probe.arrow());
    let (fletched, fletched_dof) = of(ArrowKind::Fletched);
    if own_dof < dof || fletched_dof < dof || fletched <= 0.0 {
        return None;
    }
    let ratio = (own / fletched).sqrt();
    let f = ratio * ratio / (USUAL_RATIO * USUAL_RATIO);
    let shown = ratio > SUSPECT_RATIO && f_upper_p(f, own_dof, fletched_dof) < luck;
    shown.then_some(ratio)
}

/// Whether bare shafts were shot again and again since the last change of parts: shafts and nocks were looked at.
pub(crate) fn looked_at(belief: &Belief) -> bool {
    let rounds = belief.observations.iter().filter(|one| {
        one.split.probe == Probe::Bare && belief.seen[one.trial].trial.epoch == belief.now.epoch
    });
    rounds.count() >= ROUNDS
}

/// Variance of one kind per axis at 20 yd from this epoch's groups alone, of one person, and its degrees of freedom.
fn raw_scatter(
    belief: &Belief,
    kind: ArrowKind,
    shooter: &Option<String>,
    habits: &[ArrowHabit],
) -> (f64, f64) {
    let (mut squares, mut dof) = (0.0, 0.0);
    let counts =
        |seen: &&Seen| seen.trial.epoch == belief.now.epoch && seen.trial.shooter == *shooter;
    for seen in belief.seen.iter().filter(counts) {
        let Shot::Face {
            distance_m,
            impacts,
            ..
        } = &seen.trial.shot
        else {
            continue;
        };
        let Ok(group) = Group::of(kind, &sound(impacts, habits)) else {
            continue;
        };
        let more = f64::from(group.n) - 1.0;
        squares += more * (group.cov.xx_mm2 + group.cov.yy_mm2) / distance_m.powi(2);
        dof += 2.0 * more;
    }
    (if dof > 0.0 { squares / dof } else { 0.0 }, dof)
}

/// Impacts without those of arrows that keep landing apart.
fn sound(impacts: &[Impact], habits: &[ArrowHabit]) -> Vec<Impact> {
    let apart = |impact: &&Impact| {
        let mut habits = habits.iter().filter(|habit| habit.kind == impact.kind);
        habits.any(|habit| impact.arrow == Some(habit.arrow))
    };
    impacts.iter().filter(|one| !apart(one)).cloned().collect()
}
