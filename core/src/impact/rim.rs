//! The rim of a hole: along each ray, where brightness steps most.

use super::relief::Relief;
use super::snap::HoleTone;
use crate::frame::PointMm;

/// Rays around the hole.
pub(super) const RAYS: usize = 72;
/// The profile is read this finely, mm.
const STEP_MM: f64 = 0.1;
/// Width of the derivative-of-Gaussian edge filter, in profile steps.
const SIGMA_STEPS: f64 = 2.5;
const HALF_KERNEL: usize = 8;
/// Rays whose step is weaker than this share of the median step see no rim.
const WEAK: f32 = 0.4;
/// The rim is looked for between these multiples of the expected radius.
const SPAN: (f64, f64) = (0.45, 1.75);

/// What the rays saw.
pub(super) struct Rim {
    /// Rim points, mm on the plane.
    pub(super) points: Vec<(f64, f64)>,
    /// Median step of the rays, grey levels.
    pub(super) step: f32,
}

/// Looks outward from `centre` for the step from hole to surroundings.
pub(super) fn find_rim(relief: &Relief, centre: PointMm, radius_mm: f64, tone: HoleTone) -> Rim {
    let kernel = edge_kernel(tone);
    let seen: Vec<(f64, f64, f32)> = (0..RAYS)
        .filter_map(|ray| {
            let (sin, cos) = (std::f64::consts::TAU * ray as f64 / RAYS as f64).sin_cos();
            let at = |r: f64| centre + PointMm::new(r * cos, r * sin);
            let (r, strength) = strongest_step(relief, &kernel, radius_mm, at)?;
            let place = at(r);
            Some((place.x_mm, place.y_mm, strength))
        })
        .collect();
    let step = median(seen.iter().map(|s| s.2).collect());
    let points = seen
        .into_iter()
        .filter(|s| s.2 > WEAK * step)
        .map(|s| (s.0, s.1))
        .collect();
    Rim { points, step }
}

/// Derivative of a Gaussian, scaled so that a clean step answers with its own height.
fn edge_kernel(tone: HoleTone) -> [f32; 2 * HALF_KERNEL + 1] {
    let sign = match tone {
        HoleTone::Dark => 1.0,
        HoleTone::Light => -1.0,
    };
    std::array::from_fn(|k| {
        let z = (k as f64 - HALF_KERNEL as f64) / SIGMA_STEPS;
        (sign / SIGMA_STEPS * z * (-0.5 * z * z).exp()) as f32
    })
}

/// Radius and height of the strongest outward step on one ray; `None` when nothing rises.
fn strongest_step(
    relief: &Relief,
    kernel: &[f32],
    radius_mm: f64,
    at: impl Fn(f64) -> PointMm,
) -> Option<(f64, f32)> {
    let from = SPAN.0 * radius_mm;
    let count = ((SPAN.1 - SPAN.0) * radius_mm / STEP_MM).ceil() as usize + 1;
    let profile: Vec<f32> = (0..count + 2 * HALF_KERNEL)
        .map(|k| {
            let r = from + (k as f64 - HALF_KERNEL as f64) * STEP_MM;
            let (column, row) = relief.grid(at(r));
            relief.at(column as f32, row as f32)
        })
        .collect();
    let slope: Vec<f32> = profile
        .windows(kernel.len())
        .map(|w| w.iter().zip(kernel).map(|(p, k)| p * k).sum())
        .collect();
    let (best, &strength) = slope.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1))?;
    (strength > 0.0).then(|| (from + peak(&slope, best) * STEP_MM, strength))
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

fn median(mut values: Vec<f32>) -> f32 {
    let middle = values.len() / 2;
    if values.is_empty() {
        return 0.0;
    }
    *values.select_nth_unstable_by(middle, f32::total_cmp).1
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::impact::fit_circle;

    #[test]
    fn a_clean_hole_is_found_to_hundredths_of_a_millimetre() {
        let hole = PointMm::new(0.37, -0.21);
        let soft = |p: PointMm| {
            let inside = 3.1 - (p - hole).norm_mm();
            (120.0 - 100.0 * (inside / 0.4 + 0.5).clamp(0.0, 1.0)) as f32
        };
        let relief = Relief::sample(PointMm::default(), 10.0, 0.2, soft);
        let rim = find_rim(&relief, PointMm::new(0.1, 0.1), 2.8, HoleTone::Dark);
        assert_eq!(rim.points.len(), RAYS);
        assert!((rim.step - 100.0).abs() < 15.0, "{}", rim.step);
        let circle = fit_circle(&rim.points, (0.1, 0.1, 2.8)).unwrap();
        assert!((circle.x_mm - hole.x_mm).hypot(circle.y_mm - hole.y_mm) < 0.02);
        assert!((circle.radius_mm - 3.1).abs() < 0.05);
    }
}
