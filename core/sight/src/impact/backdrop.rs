//! What the face would look like without the hole: the printed rings, taken away before the vote.
//!
//! Rings are the same all the way round, so the median over an arc at each radius is the print
//! with every hole, paster and staple voted out.

use super::relief::{Relief, level};
use super::surface::Surface;
use crate::frame::PointMm;
use crate::stats::median;

/// Radial resolution of the ring profile, mm: a dividing line is 0.5 mm wide.
const BIN_MM: f64 = 0.25;
/// Half the arc the median runs over.
const HALF_ARC_RAD: f64 = 20.0 * std::f64::consts::PI / 180.0;
/// ... but never shorter than this to either side, so that a hole is always the minority.
const HALF_ARC_MM: f64 = 14.0;
/// Inside this radius one circle is too short for that: one median serves the whole disc.
const CORE_MM: f64 = 7.0;
const SAMPLES: usize = 41;

/// Subtracts the rings around `centre` from `relief`, as seen in the direction of `tap`.
pub(super) fn subtract_rings(
    relief: &mut Relief,
    centre: PointMm,
    tap: PointMm,
    surface: &impl Surface,
) {
    let away = tap - centre;
    let bearing = away.y_mm.atan2(away.x_mm);
    let half_diagonal = relief.step_mm() * relief.width() as f64 * 0.75;
    let from_mm = (away.norm_mm() - half_diagonal).max(0.0);
    let count = ((away.norm_mm() + half_diagonal - from_mm) / BIN_MM).ceil() as usize + 2;
    let ring = |k: usize| ring_median(from_mm + k as f64 * BIN_MM, bearing, centre, surface);
    let profile: Vec<f32> = (0..count).map(ring).collect();
    let level = |radius_mm: f64| {
        let at = ((radius_mm - from_mm) / BIN_MM).max(0.0);
        let k = (at as usize).min(count - 2);
        let (low, high) = (profile.get(k), profile.get(k + 1));
        let fraction = (at - k as f64).min(1.0) as f32;
        low.zip(high).map_or(0.0, |(a, b)| a + (b - a) * fraction)
    };
    let width = relief.width();
    for index in 0..relief.values().len() {
        let place = relief.place((index % width) as f64, (index / width) as f64);
        let ring = level((place - centre).norm_mm()).round() as i16;
        if let Some(value) = relief.values_mut().get_mut(index) {
            *value -= ring;
        }
    }
}

/// Median brightness over the arc of one radius around `bearing`.
fn ring_median(radius_mm: f64, bearing: f64, centre: PointMm, surface: &impl Surface) -> f32 {
    let half_arc = (HALF_ARC_MM / radius_mm.max(0.1)).clamp(HALF_ARC_RAD, std::f64::consts::PI);
    let levels = (0..SAMPLES)
        .map(|k| {
            let turn = (2.0 * k as f64 / (SAMPLES - 1) as f64 - 1.0) * half_arc;
            // Within the core the samples are spread over the disc, not along one circle.
            let radius = if radius_mm < CORE_MM {
                CORE_MM * (0.4 + 0.6 * (k % 9) as f64 / 8.0)
            } else {
                radius_mm
            };
            let (sin, cos) = (bearing + turn).sin_cos();
            surface.brightness(centre + PointMm::new(radius * cos, radius * sin))
        })
        .collect();
    level(levels)
}

/// Subtracts the median of the whole patch: for plain paper.
pub(super) fn subtract_median(relief: &mut Relief) {
    let levels = relief.values().iter().map(|&value| f64::from(value));
    let level = median(levels.collect()).map_or(0, |middle| middle as i16);
    for value in relief.values_mut() {
        *value -= level;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn face(at: PointMm) -> f32 {
        let ring = (at.norm_mm() / 20.0) as usize;
        [230.0, 210.0, 120.0, 40.0][ring.min(3)]
    }

    #[test]
    fn rings_vanish_and_the_hole_stays() {
        let hole = PointMm::new(38.0, 9.0);
        let scene = |p: PointMm| {
            if (p - hole).norm_mm() < 3.0 {
                15.0
            } else {
                face(p)
            }
        };
        let mut relief = Relief::sample(hole, 12.0, 0.25, scene);
        subtract_rings(&mut relief, PointMm::default(), hole, &scene);
        let (column, row) = relief.grid(hole);
        assert!(relief.at(column as f32, row as f32) < -90.0);
        let print = relief.values().iter().filter(|v| v.abs() < 12).count();
        assert!(print as f64 > 0.85 * relief.values().len() as f64);
    }

    #[test]
    fn a_hole_at_the_very_middle_does_not_hide_itself() {
        let hole = PointMm::new(0.5, 0.5);
        let scene = |p: PointMm| {
            if (p - hole).norm_mm() < 3.0 {
                15.0
            } else {
                face(p)
            }
        };
        let mut relief = Relief::sample(hole, 10.0, 0.25, scene);
        subtract_rings(&mut relief, PointMm::default(), hole, &scene);
        let (column, row) = relief.grid(hole);
        assert!(relief.at(column as f32, row as f32) < -150.0);
    }
}
