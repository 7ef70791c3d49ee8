//! The practice: one kit step at a time, re-shooting after each (common practice, no source).

use shimwright::frame::ArrowKind;
use shimwright::group::{Group, Impact};

use super::{Bow, Outcome, TOLERANCE_MM, TWENTY_YD_M};

/// After this many steps even a patient technician gives up.
const MOST_STEPS: u32 = 12;

/// Tunes a bow from the place `start` of the sorted cam positions: 3 + 3 arrows; within tolerance,
/// stop; else one step to the side that common practice names, and shoot again. A first step that
/// makes it worse turns the direction round; a later one, or a step across the middle that ends
/// farther out, is taken back, and that is the end.
pub fn one_step_at_a_time(bow: &mut Bow, offsets_mm: &[f64], start: usize) -> Outcome {
    let mut walk = Walk {
        at: start,
        outcome: Outcome::default(),
        direction: 0,
        turned: false,
    };
    let mut seen = walk.shoot(bow, offsets_mm);
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
    walk.outcome.final_mm = bow.split_mm(ArrowKind::Bare, TWENTY_YD_M, offsets_mm[walk.at]);
    walk.outcome
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
        self.outcome.axles += 2;
    }
}

fn measured(impacts: &[Impact]) -> f64 {
    let centre = |kind| Group::of(kind, impacts).map_or(f64::NAN, |group| group.centre.x_mm);
    centre(ArrowKind::Bare) - centre(ArrowKind::Fletched)
}
