//! A circle through rim points, some of which are not of this rim.

use nalgebra::{Matrix3, Vector3};

use crate::frame::PointMm;
use crate::stats::{SD_PER_MEDIAN, median};

/// Tukey's biweight constant: 95 % efficiency on normal errors.
const TUKEY: f64 = 4.685;
/// A rim is never taken to be cleaner than this, mm: paper fibres are not. Chosen by hand;
/// `tests/photo-table` measures what passes.
pub(super) const LEAST_SCATTER_MM: f64 = 0.12;
const ROUNDS: usize = 4;
/// Rim errors hang together along the rim (a tongue of paper is one error, not eight), so the rays
/// carry about this many independent readings between them, however many there are. Chosen by hand; not
/// tuned.
const INDEPENDENT_READINGS: f64 = 14.0;

/// Where a hole may be and how large, before its rim was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Disc {
    /// Middle on the plane, mm.
    pub centre: PointMm,
    /// Radius, mm.
    pub radius_mm: f64,
}

impl Disc {
    /// A disc; lengths in mm.
    pub fn new(x_mm: f64, y_mm: f64, radius_mm: f64) -> Self {
        let centre = PointMm::new(x_mm, y_mm);
        Self { centre, radius_mm }
    }
}

/// A fitted circle, mm, in the frame of the points given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Circle {
    /// Centre, mm.
    pub x_mm: f64,
    /// Centre, mm.
    pub y_mm: f64,
    /// Radius, mm.
    pub radius_mm: f64,
    /// Robust standard deviation of the rim points about the circle, mm.
    pub scatter_mm: f64,
    /// Standard deviation of the centre on its worse axis, mm.
    pub sd_mm: f64,
    /// Sum of the weights: how many points speak for this circle.
    pub support: f64,
}

impl Circle {
    /// Centre, mm.
    pub fn centre(&self) -> PointMm {
        PointMm::new(self.x_mm, self.y_mm)
    }

    /// Centre and radius alone.
    pub fn disc(&self) -> Disc {
        Disc::new(self.x_mm, self.y_mm, self.radius_mm)
    }

    /// How far outside the circle a point lies, mm; negative inside.
    pub(super) fn miss_mm(&self, point: (f64, f64)) -> f64 {
        (point.0 - self.x_mm).hypot(point.1 - self.y_mm) - self.radius_mm
    }

    /// The widest angle, seen from the centre, between neighbouring points that lie on the circle
    /// (within three times its scatter), rad; a full turn where only one does.
    pub fn widest_gap_rad(&self, points: &[(f64, f64)]) -> f64 {
        let near_mm = 3.0 * self.scatter_mm.max(LEAST_SCATTER_MM);
        let from_centre = points.iter().map(|p| (p.0 - self.x_mm, p.1 - self.y_mm));
        let mut angles: Vec<f64> = from_centre
            .filter(|(x, y)| (x.hypot(*y) - self.radius_mm).abs() < near_mm)
            .map(|(x, y)| y.atan2(x))
            .collect();
        angles.sort_by(f64::total_cmp);
        let first = angles.first().map(|a| a + std::f64::consts::TAU);
        let next = angles.iter().skip(1).copied().chain(first);
        let gaps = angles.iter().zip(next).map(|(a, b)| b - a);
        gaps.fold(0.0, f64::max)
    }
}

/// Fits a circle to `points`, mm, from a first guess: geometric least squares by Gauss-Newton
/// steps (Gander, Golub and Strebel, BIT 34, 1994), reweighted at each with Tukey's biweight.
///
/// Points outside the circle weigh `outward` times as much as those inside: 1 where errors go both
/// ways, more where they mostly go in.
///
/// `None` with fewer than five points, or when they do not determine a circle.
pub fn fit_circle(points: &[(f64, f64)], guess: Disc, outward: f64) -> Option<Circle> {
    if points.len() < 5 {
        return None;
    }
    let mut disc = guess;
    let mut scatter_mm = 0.0;
    for _ in 0..ROUNDS {
        let misses = misses(points, disc);
        scatter_mm = (SD_PER_MEDIAN * usual_size(&misses)).max(LEAST_SCATTER_MM);
        let side = |miss: f64| if miss > 0.0 { outward } else { 1.0 };
        let weights = |miss: &f64| tukey(miss / scatter_mm) * side(*miss);
        let weights: Vec<f64> = misses.iter().map(weights).collect();
        disc = step(points, disc, &weights)?;
    }
    let misses = misses(points, disc);
    let weights: Vec<f64> = misses.iter().map(|m| tukey(m / scatter_mm)).collect();
    let support: f64 = weights.iter().sum();
    let squares: f64 = misses.iter().zip(&weights).map(|(m, w)| w * m * m).sum();
    let (normal, _) = normal_equations(points, disc, &weights);
    let inverse = normal.try_inverse()?;
    let worse = inverse[(0, 0)].max(inverse[(1, 1)]);
    let repeats = (points.len() as f64 / INDEPENDENT_READINGS).max(1.0);
    Some(Circle {
        x_mm: disc.centre.x_mm,
        y_mm: disc.centre.y_mm,
        radius_mm: disc.radius_mm,
        scatter_mm: (squares / support.max(1.0)).sqrt(),
        sd_mm: scatter_mm * (worse * repeats).sqrt(),
        support,
    })
}

fn misses(points: &[(f64, f64)], disc: Disc) -> Vec<f64> {
    let miss =
        |p: &(f64, f64)| (p.0 - disc.centre.x_mm).hypot(p.1 - disc.centre.y_mm) - disc.radius_mm;
    points.iter().map(miss).collect()
}

fn tukey(z: f64) -> f64 {
    let t = (z / TUKEY).powi(2);
    if t < 1.0 { (1.0 - t).powi(2) } else { 0.0 }
}

fn usual_size(values: &[f64]) -> f64 {
    median(values.iter().map(|v| v.abs()).collect()).unwrap_or(0.0)
}

/// One Gauss-Newton step.
fn step(points: &[(f64, f64)], disc: Disc, weights: &[f64]) -> Option<Disc> {
    let (normal, right) = normal_equations(points, disc, weights);
    let by = normal.cholesky()?.solve(&right);
    let radius_mm = disc.radius_mm + by.z;
    let centre = disc.centre + PointMm::new(by.x, by.y);
    (centre.is_finite() && radius_mm > 0.0).then_some(Disc { centre, radius_mm })
}

/// Of the change of centre and radius that takes the points nearest to the circle.
fn normal_equations(
    points: &[(f64, f64)],
    disc: Disc,
    weights: &[f64],
) -> (Matrix3<f64>, Vector3<f64>) {
    let mut normal = Matrix3::zeros();
    let mut right = Vector3::zeros();
    for (p, &w) in points.iter().zip(weights) {
        let (x, y) = (p.0 - disc.centre.x_mm, p.1 - disc.centre.y_mm);
        let away = x.hypot(y).max(1e-9);
        let row = Vector3::new(x / away, y / away, 1.0);
        normal += w * row * row.transpose();
        right += w * (away - disc.radius_mm) * row;
    }
    (normal, right)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rim(count: usize, share: f64) -> Vec<(f64, f64)> {
        (0..count)
            .map(|k| {
                let angle = std::f64::consts::TAU * share * k as f64 / count as f64;
                (1.2 + 3.0 * angle.cos(), -0.7 + 3.0 * angle.sin())
            })
            .collect()
    }

    #[test]
    fn an_exact_rim_gives_its_circle() {
        let circle = fit_circle(&rim(72, 1.0), Disc::new(1.0, -1.0, 2.5), 1.0).unwrap();
        assert!((circle.x_mm - 1.2).hypot(circle.y_mm + 0.7) < 1e-9);
        assert!((circle.radius_mm - 3.0).abs() < 1e-9);
    }

    /// The worked example of Gander, Golub and Strebel (BIT 34, 1994), figures from memory.
    #[test]
    fn six_points_give_the_circle_of_the_published_example() {
        let points = [
            (1.0, 7.0),
            (2.0, 6.0),
            (5.0, 8.0),
            (7.0, 7.0),
            (9.0, 5.0),
            (3.0, 7.0),
        ];
        let mut disc = Disc::new(5.3794, 7.2532, 3.0370);
        for _ in 0..100 {
            disc = step(&points, disc, &[1.0; 6]).unwrap();
        }
        assert!((disc.centre.x_mm - 4.7398).abs() < 1e-4, "{disc:?}");
        assert!((disc.centre.y_mm - 2.9835).abs() < 1e-4, "{disc:?}");
        assert!((disc.radius_mm - 4.7142).abs() < 1e-4, "{disc:?}");
    }

    #[test]
    fn a_third_of_stray_points_is_ignored() {
        let mut points = rim(72, 1.0);
        for point in points.iter_mut().take(20) {
            *point = (point.0 * 1.6, point.1 * 1.6 + 1.5);
        }
        let circle = fit_circle(&points, Disc::new(1.1, -0.6, 2.9), 1.0).unwrap();
        assert!((circle.x_mm - 1.2).hypot(circle.y_mm + 0.7) < 0.02);
    }

    #[test]
    fn an_arc_is_less_certain_than_a_full_rim() {
        let guess = Disc::new(1.2, -0.7, 3.0);
        let full = fit_circle(&rim(72, 1.0), guess, 1.0).unwrap();
        let arc = fit_circle(&rim(72, 0.4), guess, 1.0).unwrap();
        assert!(arc.sd_mm > 2.0 * full.sd_mm);
    }

    #[test]
    fn the_widest_gap_is_the_open_part_of_the_rim() {
        let points = rim(72, 0.75);
        let circle = fit_circle(&points, Disc::new(1.2, -0.7, 3.0), 1.0).unwrap();
        let open = circle.widest_gap_rad(&points);
        let step = 1.5 * std::f64::consts::PI / 72.0;
        assert!(
            (open - std::f64::consts::FRAC_PI_2 - step).abs() < 1e-6,
            "{open}"
        );
        assert!(circle.widest_gap_rad(&rim(72, 1.0)) < 0.1);
    }

    #[test]
    fn points_on_one_spot_or_too_few_give_nothing() {
        assert!(fit_circle(&[(1.0, 1.0); 12], Disc::new(1.0, 1.0, 3.0), 1.0).is_none());
        assert!(fit_circle(&rim(4, 1.0), Disc::new(1.2, -0.7, 3.0), 1.0).is_none());
    }
}
