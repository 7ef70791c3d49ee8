//! The practice: one kit step at a time, re-shooting after each (common practice, no source).

use shimwright::frame::ArrowKind;
use shimwright::group::{Group, Impact};

use super::tuner::{MOVE_MINUTES, PRESS_MINUTES, ROUND_MINUTES};
use super::{Bow, Outcome, TOLERANCE_MM, TWENTY_YD_M};

/// After this many steps even a patient technician gives up.
const MOST_STEPS: u32 = 12;

/// Tunes a bow from the place `start` of the sorted cam positions: 3 + 3 arrows; within tolerance,
/// stop; else one step to the side that common practice names, and shoot again. A first step that
/// makes it worse turns the direction round; a later one, or a step across the middle that ends
/// farther out, is taken back, and that is the end.
pub fn one_step_at_a_time(bow: &mut Bow, offsets_mm: &[f64], start: usize) -> Outcome {
    let mut walk = Walk::at(start);
    let seen = walk.shoot(bow, offsets_mm);
    walk.steps(bow, offsets_mm, seen);
    walk.end(bow, offsets_mm)
}

/// How far the rest is moved at a time, and how far it may go to each side, mm.
const REST_STEP_MM: f64 = 0.8;
const REST_ROOM_MM: f64 = 1.2;

/// The rest first (common practice, no source): 0.8 mm to the side that is taught, turned round
/// when that is worse, on while it helps; then the spacers one step at a time.
pub fn rest_first(bow: &mut Bow, offsets_mm: &[f64], start: usize) -> Outcome {
    let mut walk = Walk::at(start);
    let mut seen = walk.shoot(bow, offsets_mm);
    let mut way = -seen.signum();
    let mut turned = false;
    while seen.abs() > TOLERANCE_MM {
        let from_mm = bow.rest_mm;
        let to_mm = (from_mm + way * REST_STEP_MM).clamp(-REST_ROOM_MM, REST_ROOM_MM);
        if (to_mm - from_mm).abs() < 0.05 {
            break;
        }
        bow.rest_mm = to_mm;
        walk.outcome.trims += 1;
        walk.outcome.minutes += MOVE_MINUTES;
        let after = walk.shoot(bow, offsets_mm);
        if after.abs() < seen.abs() {
            seen = after;
            turned = true; // it helps: on this way, never back
        } else {
            bow.rest_mm = from_mm;
            walk.outcome.minutes += MOVE_MINUTES;
            if turned {
                break;
            }
            way = -way;
            turned = true;
        }
    }
    walk.steps(bow, offsets_mm, seen);
    walk.end(bow, offsets_mm)
}

impl Walk {
    fn at(start: usize) -> Self {
        Self {
            at: start,
            outcome: Outcome::default(),
            direction: 0,
            turned: false,
        }
    }

    fn end(mut self, bow: &Bow, offsets_mm: &[f64]) -> Outcome {
        self.outcome.final_mm = bow.split_mm(ArrowKind::Bare, TWENTY_YD_M, offsets_mm[self.at]);
        self.outcome
    }

    fn steps(&mut self, bow: &mut Bow, offsets_mm: &[f64], mut seen: f64) {
        let walk = self;
        for step in 0..MOST_STEPS {
            if seen.abs() <= TOLERANCE_MM {
                break;
            }
            if walk.direction == 0 {
                walk.direction = if seen > 0.0 { -1 } else { 1 };
            }
            let before = (walk.at, seen);
            if !walk.step(offsets_mm.len()) {
                break;
            }
            seen = walk.shoot(bow, offsets_mm);
            if seen.abs() < before.1.abs() {
                if seen * before.1 < 0.0 {
                    break; // across the middle and closer: the best this kit can do
                }
            } else if step == 0 && !walk.turned && seen * before.1 > 0.0 {
                walk.direction = -walk.direction;
                walk.turned = true;
            } else {
                walk.back_to(before.0);
                break;
            }
        }
    }
}

struct Walk {
    at: usize,
    outcome: Outcome,
    direction: i32,
    turned: bool,
}

impl Walk {
    fn shoot(&mut self, bow: &mut Bow, offsets_mm: &[f64]) -> f64 {
        self.outcome.arrows += 6;
        self.outcome.minutes += ROUND_MINUTES;
        measured(&bow.shoot(ArrowKind::Bare, 3, TWENTY_YD_M, offsets_mm[self.at]))
    }

    fn step(&mut self, places: usize) -> bool {
        let next = self.at as i64 + i64::from(self.direction);
        if next < 0 || next >= places as i64 {
            return false;
        }
        self.back_to(next as usize);
        true
    }

    fn back_to(&mut self, place: usize) {
        self.at = place;
        self.outcome.presses += 1;
        self.outcome.minutes += PRESS_MINUTES;
        self.outcome.axles += 2;
    }
}

fn measured(impacts: &[Impact]) -> f64 {
    let centre = |kind| Group::of(kind, impacts).map_or(f64::NAN, |group| group.centre.x_mm);
    centre(ArrowKind::Bare) - centre(ArrowKind::Fletched)
}
