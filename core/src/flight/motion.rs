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
        "This arrow does not fly to that distance: it turns across its path. Check mass, balance point and vanes."
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
    fly_within(body, launch, distances_m, FINE)
}

pub(crate) fn fly_within(
    body: &Body,
    launch: Launch,
    distances_m: &[f64],
    tolerance: Tolerance,
) -> Result<Vec<Passage>, MotionError> {
    let start = [
        body.balance_m,
        0.0,
        launch.speed_mps,
        0.0,
        launch.yaw_rad,
        launch.rate_radps,
    ];
    let mut planes = Planes::new(body, start, distances_m);
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
}

impl End {
    fn place(&self, s: &State) -> (f64, f64) {
        let (sin, cos) = s[4].sin_cos();
        (s[0] + self.xi_m * cos, s[1] + self.xi_m * sin)
    }
}

fn yaw_rad(s: &State) -> f64 {
    s[4] - s[3].atan2(s[2])
}

struct Planes<'a> {
    distances_m: &'a [f64],
    point: End,
    balance: End,
    nock: End,
    done: Vec<Passage>,
}

impl<'a> Planes<'a> {
    fn new(body: &Body, start: State, distances_m: &'a [f64]) -> Self {
        let end = |xi_m| End { xi_m, next: 0 };
        let mut planes = Self {
            distances_m,
            point: end(body.length_m - body.balance_m + body.nose_m),
            balance: end(0.0),
            nock: end(-body.balance_m),
            done: Vec::with_capacity(distances_m.len()),
        };
        let reached = planes.point.place(&start).0;
        while distances_m
            .get(planes.point.next)
            .is_some_and(|d| *d <= reached)
        {
            planes.point_through(&start, 0.0);
        }
        planes
    }

    fn point_through(&mut self, s: &State, time_s: f64) {
        let Some(distance_m) = self.distances_m.get(self.point.next) else {
            return;
        };
        self.done.push(Passage {
            distance_m: *distance_m,
            point_mm: self.point.place(s).1 * 1e3,
            time_s,
            balance_mm: s[1] * 1e3,
            speed_mps: s[2].hypot(s[3]),
            shaft_rad: s[4],
            yaw_rad: yaw_rad(s),
            tear_mm: 0.0,
        });
        self.point.next += 1;
    }

    fn balance_through(&mut self, s: &State) {
        if let Some(passage) = self.done.get_mut(self.balance.next) {
            passage.balance_mm = s[1] * 1e3;
            passage.speed_mps = s[2].hypot(s[3]);
            passage.shaft_rad = s[4];
            passage.yaw_rad = yaw_rad(s);
        }
        self.balance.next += 1;
    }

    fn visit(&mut self, step: &Step<6>) -> ControlFlow<()> {
        while let Some(s) = crossing(step, &self.point, self.distances_m) {
            let state = step.at(s);
            self.point_through(&state, step.start + s * step.length);
        }
        while let Some(s) = crossing(step, &self.balance, self.distances_m) {
            self.balance_through(&step.at(s));
        }
        while let Some(s) = crossing(step, &self.nock, self.distances_m) {
            let y_mm = self.nock.place(&step.at(s)).1 * 1e3;
            if let Some(passage) = self.done.get_mut(self.nock.next) {
                passage.tear_mm = y_mm - passage.point_mm;
            }
            self.nock.next += 1;
        }
        if self.nock.next >= self.distances_m.len() {
            return ControlFlow::Break(());
        }
        ControlFlow::Continue(())
    }
}

/// Fraction of the step at which the end reaches its next plane, if it does so within the step.
fn crossing(step: &Step<6>, end: &End, distances_m: &[f64]) -> Option<f64> {
    let plane = *distances_m.get(end.next)?;
    let short = |s: f64| end.place(&step.at(s)).0 - plane;
    let (mut low, mut high) = (0.0, 1.0);
    let (mut at_low, mut at_high) = (short(0.0), short(1.0));
    if at_high < 0.0 {
        return None;
    }
    // Regula falsi with halving (Illinois): x grows almost linearly, so three or four rounds do.
    for _ in 0..60 {
        if at_low >= 0.0 {
            return Some(low);
        }
        let s = high - at_high * (high - low) / (at_high - at_low);
        let value = short(s);
        if value.abs() < 1e-9 || (high - low) < 1e-13 {
            return Some(s);
        }
        if value < 0.0 {
            (low, at_low) = (s, value);
            at_high /= 2.0;
        } else {
            (high, at_high) = (s, value);
            at_low /= 2.0;
        }
    }
    Some(high)
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
            for i in 0..4 {
                assert!((fine[i].point_mm - exact[i].point_mm).abs() < 1e-4);
                assert!((quick[i].point_mm - exact[i].point_mm).abs() < 0.01);
                assert!((quick[i].tear_mm - exact[i].tear_mm).abs() < 0.01);
            }
            assert!((quick[4].point_mm - exact[4].point_mm).abs() < 0.5);
        }
    }
}
