//! The planar motion of a rigid arrow, seen from above (or, for a vertical fault, from the side).
//!
//! ```text
//!        y, to the side the point was turned to
//!        ^        ____--> point         U = vx cos th + vy sin th   along the shaft
//!        |  ---<--  th                  W = -vx sin th + vy cos th  across it
//!        o-----------------> x, to the target
//! ```
//! Across the shaft at `xi` ahead of the balance point the air comes at `w = W + om xi`. Nose,
//! vanes and blades push with `-rho S CN U w / 2`; each of 60 slices of the shaft with Taylor's
//! cylinder in near-axial flow (Proc. R. Soc. A 214, 1952): `(cdc sin² a + π cf sin a)` of
//! `rho d V² / 2`. Drag acts along the shaft.

use super::body::Body;
use super::integrate::{Stalled, Step, Tolerance, integrate};
use serde::{Deserialize, Serialize};
use std::ops::ControlFlow;

/// Tolerance of the reference integration: positions to about 0.0001 mm at 40 yd.
pub(crate) const FINE: Tolerance = Tolerance {
    relative: 1e-10,
    absolute: 1e-12,
};
/// Tolerance of transfer tables: positions to about 0.01 mm at 40 yd, measured in the tests.
pub(crate) const QUICK: Tolerance = Tolerance {
    relative: 1e-6,
    absolute: 1e-8,
};

/// Tolerance of flights that only show what a doubtful figure would change: positions to about
/// 0.1 mm at 40 yd, measured in the tests, where such a change is worth millimetres.
pub(crate) const DOUBTFUL: Tolerance = Tolerance {
    relative: 1e-5,
    absolute: 1e-7,
};

/// How an arrow leaves the string.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Launch {
    /// Speed, m/s.
    pub speed_mps: f64,
    /// Angle of the shaft to its path, rad, positive with the point to the right (or up).
    pub yaw_rad: f64,
    /// How fast that angle grows, rad/s.
    pub rate_radps: f64,
}

/// An arrow passing through a plane across its path.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Passage {
    /// Distance of the plane from where the nock left the string, m.
    pub distance_m: f64,
    /// Where the point goes through, mm to the right (or up).
    pub point_mm: f64,
    /// When the point goes through, s after release.
    pub time_s: f64,
    /// Where the balance point goes through, mm.
    pub balance_mm: f64,
    /// Speed as the balance point goes through, m/s.
    pub speed_mps: f64,
    /// Angle of the shaft to the line of fire as the balance point goes through, rad.
    pub shaft_rad: f64,
    /// Angle of the shaft to its path as the balance point goes through, rad.
    pub yaw_rad: f64,
    /// Where the nock end goes through minus where the point went through, mm: the tear.
    pub tear_mm: f64,
}

/// Why a flight could not be computed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum MotionError {
    /// The arrow tumbled or stopped before the last plane.
    #[error(
        "this arrow does not fly to that distance but turns across its path; check mass, balance point and vanes"
    )]
    DoesNotArrive,
}

/// `[x, y, vx, vy, th, om]`, m and s.
pub(crate) type State = [f64; 6];

/// Time derivative of the state.
pub fn derivative(body: &Body, s: &State) -> State {
    let (sin, cos) = s[4].sin_cos();
    let (vx, vy, om) = (s[2], s[3], s[5]);
    let along = vx * cos + vy * sin;
    let across = vy * cos - vx * sin;
    let (mut force, mut moment) = body.cross_flow(along, across, om);
    for surface in &body.surfaces {
        let push = -surface.strength * along * (across + om * surface.xi_m);
        force += push;
        moment += push * surface.xi_m;
    }
    let drag = body.drag * along * along.abs();
    [
        vx,
        vy,
        (-drag * cos - force * sin) / body.mass_kg,
        (-drag * sin + force * cos) / body.mass_kg - body.gravity_mps2,
        om,
        moment / body.inertia_kgm2,
    ]
}

impl Body {
    /// Force across the shaft, N, and moment, N m, of the shaft's slices.
    fn cross_flow(&self, along: f64, across: f64, om: f64) -> (f64, f64) {
        let (apart, apart_moment) = self.slices.separated(across, om);
        let (smooth, smooth_moment) = self.slices.viscous(along, across, om);
        (
            -(self.separated * apart + self.viscous * smooth),
            -(self.separated * apart_moment + self.viscous * smooth_moment),
        )
    }
}

/// Flies `body` through planes at ascending `distances_m` and reports each passage.
///
/// A part of the arrow that is already past a plane when the nock leaves the string is reported
/// where it is then.
///
/// # Errors
/// [`MotionError`] when the arrow never gets there.
pub fn fly(body: &Body, launch: Launch, distances_m: &[f64]) -> Result<Vec<Passage>, MotionError> {
    passages(body, launch, distances_m, (FINE, true))
}

/// Where point and nock go through the planes; what a passage says of the balance point is taken as
/// the point goes through.
pub(crate) fn fly_within(
    body: &Body,
    launch: Launch,
    distances_m: &[f64],
    tolerance: Tolerance,
) -> Result<Vec<Passage>, MotionError> {
    passages(body, launch, distances_m, (tolerance, false))
}

fn passages(
    body: &Body,
    launch: Launch,
    distances_m: &[f64],
    (tolerance, with_balance): (Tolerance, bool),
) -> Result<Vec<Passage>, MotionError> {
    let start = [
        body.balance_m,
        0.0,
        launch.speed_mps,
        0.0,
        launch.yaw_rad,
        launch.rate_radps,
    ];
    let mut planes = Planes::new(body, start, distances_m, with_balance);
    let first = 0.02 * body.length_m / launch.speed_mps;
    let slope = |s: &State| derivative(body, s);
    integrate(slope, start, first, tolerance, |step| planes.visit(step))
        .map_err(|Stalled| MotionError::DoesNotArrive)?;
    Ok(planes.done)
}

/// One place on the shaft on its way through the planes.
struct End {
    /// Ahead of the balance point, m.
    xi_m: f64,
    /// The next plane.
    next: usize,
    /// How far it had come when the present step began, m.
    reached_m: f64,
}

impl End {
    fn new(xi_m: f64, start: &State) -> Self {
        let mut end = Self {
            xi_m,
            next: 0,
            reached_m: 0.0,
        };
        end.reached_m = end.place(start).0;
        end
    }

    fn place(&self, s: &State) -> (f64, f64) {
        let (sin, cos) = s[4].sin_cos();
        (s[0] + self.xi_m * cos, s[1] + self.xi_m * sin)
    }

    /// Fraction of the step and state at which the end reaches `plane_m`, which lies between where
    /// the step took it from and `ahead_m`. Newton's rounds from the chord: x grows almost linearly.
    fn through(&self, step: &Step<6>, plane_m: f64, ahead_m: f64) -> (f64, State) {
        let chord = (plane_m - self.reached_m) / (ahead_m - self.reached_m);
        let mut s = chord.clamp(0.0, 1.0);
        let mut state = step.at(s);
        for _ in 0..MOST_ROUNDS {
            let (sin, cos) = state[4].sin_cos();
            let short_m = plane_m - state[0] - self.xi_m * cos;
            if short_m.abs() < CLOSE_M {
                break;
            }
            let per_step = step.length * (state[2] - self.xi_m * sin * state[5]);
            s = (s + short_m / per_step).clamp(0.0, 1.0);
            state = step.at(s);
        }
        (s, state)
    }
}

/// An end this close to a plane is in it, m: a flight's slope makes a thousandth of that sideways.
const CLOSE_M: f64 = 1e-8;
/// Newton's rounds for one plane; two or three do.
const MOST_ROUNDS: u32 = 12;

fn yaw_rad(s: &State) -> f64 {
    s[4] - s[3].atan2(s[2])
}

struct Planes<'a> {
    distances_m: &'a [f64],
    point: End,
    /// None where only places of point and nock are asked for.
    balance: Option<End>,
    nock: End,
    done: Vec<Passage>,
}

impl<'a> Planes<'a> {
    fn new(body: &Body, start: State, distances_m: &'a [f64], with_balance: bool) -> Self {
        let end = |xi_m| End::new(xi_m, &start);
        let mut planes = Self {
            distances_m,
            point: end(body.length_m - body.balance_m + body.nose_m),
            balance: with_balance.then(|| end(0.0)),
            nock: end(-body.balance_m),
            done: Vec::with_capacity(distances_m.len()),
        };
        while distances_m
            .get(planes.point.next)
            .is_some_and(|d| *d <= planes.point.reached_m)
        {
            planes.point_through(&start, 0.0);
        }
        planes
    }

    fn point_through(&mut self, s: &State, time_s: f64) {
        let Some(distance_m) = self.distances_m.get(self.point.next) else {
            return;
        };
        let mut passage = Passage {
            distance_m: *distance_m,
            point_mm: self.point.place(s).1 * 1e3,
            time_s,
            balance_mm: 0.0,
            speed_mps: 0.0,
            shaft_rad: 0.0,
            yaw_rad: 0.0,
            tear_mm: 0.0,
        };
        balance_at(&mut passage, s);
        self.done.push(passage);
        self.point.next += 1;
    }

    fn visit(&mut self, step: &Step<6>) -> ControlFlow<()> {
        let end = step.at(1.0);
        let ahead_m = self.point.place(&end).0;
        while let Some(plane_m) = due(&self.point, self.distances_m, ahead_m) {
            let (s, state) = self.point.through(step, plane_m, ahead_m);
            self.point_through(&state, step.start + s * step.length);
        }
        self.point.reached_m = ahead_m;
        if let Some(balance) = &mut self.balance {
            while let Some(plane_m) = due(balance, self.distances_m, end[0]) {
                let (_, state) = balance.through(step, plane_m, end[0]);
                if let Some(passage) = self.done.get_mut(balance.next) {
                    balance_at(passage, &state);
                }
                balance.next += 1;
            }
            balance.reached_m = end[0];
        }
        self.nocks(step, &end);
        if self.nock.next >= self.distances_m.len() {
            return ControlFlow::Break(());
        }
        ControlFlow::Continue(())
    }

    fn nocks(&mut self, step: &Step<6>, end: &State) {
        let ahead_m = self.nock.place(end).0;
        while let Some(plane_m) = due(&self.nock, self.distances_m, ahead_m) {
            let (_, state) = self.nock.through(step, plane_m, ahead_m);
            let y_mm = self.nock.place(&state).1 * 1e3;
            if let Some(passage) = self.done.get_mut(self.nock.next) {
                passage.tear_mm = y_mm - passage.point_mm;
            }
            self.nock.next += 1;
        }
        self.nock.reached_m = ahead_m;
    }
}

/// The balance point's part of a passage.
fn balance_at(passage: &mut Passage, s: &State) {
    passage.balance_mm = s[1] * 1e3;
    passage.speed_mps = s[2].hypot(s[3]);
    passage.shaft_rad = s[4];
    passage.yaw_rad = yaw_rad(s);
}

/// The end's next plane, if it is reached before `ahead_m`.
fn due(end: &End, distances_m: &[f64], ahead_m: f64) -> Option<f64> {
    let plane_m = *distances_m.get(end.next)?;
    (plane_m <= ahead_m).then_some(plane_m)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::flight::body::BodyData;

    /// The stated errors of both tolerances, against one still finer.
    #[test]
    fn tolerances_hold_what_they_state() {
        let vaned = BodyData {
            fins: vec![(29.95, 0.0546)],
            ..BodyData::default()
        };
        let finest = Tolerance {
            relative: 1e-13,
            absolute: 1e-15,
        };
        let distances = [2.0, 9.144, 18.288, 36.576, 100.0];
        for body in [BodyData::default().body(), vaned.body()] {
            let launch = Launch {
                speed_mps: 85.344,
                yaw_rad: 0.017,
                rate_radps: 1.0,
            };
            let fly = |tolerance| fly_within(&body, launch, &distances, tolerance).unwrap();
            let (exact, fine, quick) = (fly(finest), fly(FINE), fly(QUICK));
            let doubtful = fly(DOUBTFUL);
            for i in 0..4 {
                assert!((fine[i].point_mm - exact[i].point_mm).abs() < 1e-4);
                assert!((quick[i].point_mm - exact[i].point_mm).abs() < 0.01);
                assert!((doubtful[i].point_mm - exact[i].point_mm).abs() < 0.1);
                assert!((quick[i].tear_mm - exact[i].tear_mm).abs() < 0.01);
            }
            assert!((quick[4].point_mm - exact[4].point_mm).abs() < 0.5);
        }
    }
}
