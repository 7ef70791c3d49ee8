//! The rim of a hole: along each ray, where brightness steps most.

use super::hole::HoleTone;
use super::relief::{Relief, level};
use crate::frame::PointMm;

/// Rays around the hole.
pub(super) const RAYS: usize = 72;
/// The profile is read this finely, mm.
const STEP_MM: f64 = 0.1;
/// Width of the derivative-of-Gaussian edge filter, in profile steps. Wide for dark holes, in whose
/// torn rims there are many small steps; narrow for light ones, where there is no noise to smooth
/// and a wide one takes a thin fringe for part of the hole.
const SIGMA_STEPS: f64 = 2.5;
const SIGMA_STEPS_LIGHT: f64 = 1.0;
const HALF_KERNEL: usize = 8;
/// Rays whose step is weaker than this share of the median step see no rim. Chosen by hand;
/// `tests/photo-table` measures what passes.
const WEAK: f32 = 0.4;
/// The rim is looked for between these multiples of the expected radius. Chosen by hand;
/// `tests/photo-table` measures what passes.
const SPAN: (f64, f64) = (0.45, 1.75);
/// Light from behind makes the torn fringe glow, so that a light hole ends in two steps, hole to fringe
/// and fringe to paper, of which either may be larger; the first of at least this many grey levels is
/// the hole's. (In a hole that is white all over there is hardly any noise to exceed.) Chosen by hand;
/// not tuned.
const FIRST_STEP: f32 = 8.0;

/// Where a rim is looked for along a ray.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Edge {
    /// Where brightness steps from hole to surroundings.
    Step(HoleTone),
    /// Where it leaves what is white all over, at this level: behind it a fringe may be nearly as white.
    EndOfWhite(f32),
}

/// What the rays saw.
pub(super) struct Rim {
    /// Rim points, mm on the plane.
    pub(super) points: Vec<(f64, f64)>,
    /// Median step of the rays, grey levels.
    pub(super) step: f32,
}

/// Looks outward from `centre` for the step from hole to surroundings.
pub(super) fn find_rim(relief: &Relief, centre: PointMm, radius_mm: f64, edge: Edge) -> Rim {
    let seen: Vec<(f64, f64, f32)> = (0..RAYS)
        .filter_map(|ray| {
            let (sin, cos) = (std::f64::consts::TAU * ray as f64 / RAYS as f64).sin_cos();
            let at = |r: f64| centre + PointMm::new(r * cos, r * sin);
            let profile = profile(relief, radius_mm, at);
            let (r, strength) = edge.place(&profile)?;
            let r = SPAN.0 * radius_mm + r * STEP_MM;
            let place = at(r);
            Some((place.x_mm, place.y_mm, strength))
        })
        .collect();
    let step = level(seen.iter().map(|s| s.2).collect());
    let points = seen
        .into_iter()
        .filter(|s| s.2 > WEAK * step)
        .map(|s| (s.0, s.1))
        .collect();
    Rim { points, step }
}

impl Edge {
    /// Place (in profile steps from the span's start) and height of the edge.
    fn place(self, profile: &[f32]) -> Option<(f64, f32)> {
        match self {
            Self::Step(tone) => outward_step(profile, &edge_kernel(tone), tone),
            Self::EndOfWhite(white) => Some((end_of_white(profile, white)?, white)),
        }
    }
}

/// Place, in profile steps from the span's start, where a profile leaves white for more than a grain.
fn end_of_white(profile: &[f32], white: f32) -> Option<f64> {
    let ends = |at: &[f32]| matches!(at, [a, b, c] if *a >= white && *b < white && *c < white);
    let last = profile.windows(3).position(ends)?;
    let (inside, outside) = (profile.get(last)?, profile.get(last + 1)?);
    let share = (inside - white) / (inside - outside);
    Some(last as f64 + f64::from(share) - HALF_KERNEL as f64)
}

/// Derivative of a Gaussian, scaled so that a clean step answers with its own height.
fn edge_kernel(tone: HoleTone) -> [f32; 2 * HALF_KERNEL + 1] {
    let (sign, sigma) = match tone {
        HoleTone::Dark => (1.0, SIGMA_STEPS),
        HoleTone::Light => (-1.0, SIGMA_STEPS_LIGHT),
    };
    std::array::from_fn(|k| {
        let z = (k as f64 - HALF_KERNEL as f64) / sigma;
        (sign / sigma * z * (-0.5 * z * z).exp()) as f32
    })
}

/// Brightness along one ray, from a kernel's half before the span to a half beyond it.
fn profile(relief: &Relief, radius_mm: f64, at: impl Fn(f64) -> PointMm) -> Vec<f32> {
    let count = ((SPAN.1 - SPAN.0) * radius_mm / STEP_MM).ceil() as usize + 1;
    (0..count + 2 * HALF_KERNEL)
        .map(|k| {
            let r = SPAN.0 * radius_mm + (k as f64 - HALF_KERNEL as f64) * STEP_MM;
            let (column, row) = relief.grid(at(r));
            relief.at(column as f32, row as f32)
        })
        .collect()
}

/// Place (in profile steps from the span's start) and height of the step that ends the hole;
/// `None` when nothing rises.
fn outward_step(profile: &[f32], kernel: &[f32], tone: HoleTone) -> Option<(f64, f32)> {
    let slope: Vec<f32> = profile
        .windows(kernel.len())
        .map(|w| w.iter().zip(kernel).map(|(p, k)| p * k).sum())
        .collect();
    let (strongest, &most) = slope.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1))?;
    let is_step = |k: &usize| {
        let beside = |by: usize| slope.get(by).copied().unwrap_or(f32::MAX);
        slope[*k] >= FIRST_STEP
            && slope[*k] >= beside(k.wrapping_sub(1))
            && slope[*k] >= beside(k + 1)
    };
    let first = match tone {
        HoleTone::Dark => strongest,
        HoleTone::Light => (0..strongest).find(is_step).unwrap_or(strongest),
    };
    (most > 0.0).then(|| (peak(&slope, first), slope[first]))
}

/// Sub-sample position of the maximum at `k`, by a parabola through its neighbours.
fn peak(slope: &[f32], k: usize) -> f64 {
    let inner = k.checked_sub(1).and_then(|before| slope.get(before..k + 2));
    let shift = match inner {
        Some(&[before, top, after]) => {
            let bend = before - 2.0 * top + after;
            if bend < 0.0 {
                0.5 * (before - after) / bend
            } else {
                0.0
            }
        }
        _ => 0.0,
    };
    k as f64 + f64::from(shift)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::impact::{Disc, fit_circle};

    #[test]
    fn a_glowing_fringe_is_not_the_rim_of_a_light_hole() {
        let lit = |p: PointMm| {
            let fringe_mm = 0.7 + 0.3 * (3.0 * p.y_mm.atan2(p.x_mm)).sin();
            match p.norm_mm() - 3.0 {
                d if d < 0.0 => 255.0,
                d if d < fringe_mm => 220.0,
                _ => 150.0,
            }
        };
        let relief = Relief::sample(PointMm::default(), 10.0, 0.2, lit);
        let rim = find_rim(
            &relief,
            PointMm::new(0.2, 0.1),
            3.2,
            Edge::Step(HoleTone::Light),
        );
        let circle = fit_circle(&rim.points, Disc::new(0.2, 0.1, 3.2), 1.0).unwrap();
        assert!(circle.x_mm.hypot(circle.y_mm) < 0.05, "{circle:?}");
        assert!((circle.radius_mm - 3.0).abs() < 0.1, "{circle:?}");
    }

    /// Daylight fills the sensor; on one side it fills the fringe but for some grey levels.
    #[test]
    fn a_fringe_nearly_as_white_is_told_from_a_hole_that_is_white_all_over() {
        let lit = |p: PointMm| match p.norm_mm() - 3.0 {
            d if d < 0.0 => 255.0,
            d if d < 0.8 && p.y_mm > 0.0 => 250.0,
            _ => 175.0,
        };
        let relief = Relief::sample(PointMm::default(), 10.0, 0.1, lit);
        let at = PointMm::new(0.2, 0.1);
        let off_mm = |edge: Edge| {
            let rim = find_rim(&relief, at, 3.2, edge);
            let circle = fit_circle(&rim.points, Disc::new(0.2, 0.1, 3.2), 1.0).unwrap();
            circle.x_mm.hypot(circle.y_mm)
        };
        assert!(off_mm(Edge::EndOfWhite(254.0)) < 0.05);
        assert!(off_mm(Edge::Step(HoleTone::Light)) > 0.2);
    }

    #[test]
    fn a_clean_hole_is_found_to_hundredths_of_a_millimetre() {
        let hole = PointMm::new(0.37, -0.21);
        let soft = |p: PointMm| {
            let inside = 3.1 - (p - hole).norm_mm();
            (120.0 - 100.0 * (inside / 0.4 + 0.5).clamp(0.0, 1.0)) as f32
        };
        let relief = Relief::sample(PointMm::default(), 10.0, 0.2, soft);
        let rim = find_rim(
            &relief,
            PointMm::new(0.1, 0.1),
            2.8,
            Edge::Step(HoleTone::Dark),
        );
        assert_eq!(rim.points.len(), RAYS);
        assert!((rim.step - 100.0).abs() < 15.0, "{}", rim.step);
        let circle = fit_circle(&rim.points, Disc::new(0.1, 0.1, 2.8), 1.0).unwrap();
        assert!((circle.x_mm - hole.x_mm).hypot(circle.y_mm - hole.y_mm) < 0.02);
        assert!((circle.radius_mm - 3.1).abs() < 0.05);
    }
}
