//! Another hole at the rim: there the rim seen need not be this hole's.
//!
//! Where two holes run into each other the rim stands open, or the other hole's torn edge lies
//! across the opening and looks like a rim. Either way the darkness goes on behind it. Where one
//! circle was laid round both, the torn edge lies across its middle.

use std::f64::consts::{PI, TAU};

use super::circle::{Circle, Disc};
use super::hole::HoleTone;
use super::relief::{Relief, level};
use super::rim::RAYS;
use crate::frame::PointMm;

/// The darkness is looked for from here to here outside the circle, mm: beyond a ragged edge, and as
/// far as the torn edge of another hole reaches. Chosen by hand; `tests/photo-table` measures what
/// passes.
const BEYOND_MM: (f64, f64) = (0.8, 2.4);
const STEP_MM: f64 = 0.2;
/// ... and must go on for this many steps. Chosen by hand; `tests/photo-table` measures what passes.
const LEAST_STEPS: usize = 3;
/// On black print a hole cannot be told from what surrounds it, grey levels. Chosen by hand; not tuned.
const LEAST_CONTRAST: f32 = 25.0;
/// A thick stretch of torn edge, seen on up to five rays, does not end an opening: fewer than this many
/// lie between any of them and an open one on either side. Chosen by hand; `tests/photo-table` measures
/// what passes.
const BRIDGE_RAYS: usize = 3;
/// A narrower opening is a blade's cut, rad. Chosen by hand; `tests/photo-table` measures what passes.
const LEAST_OPEN_RAD: f64 = 45.0 * PI / 180.0;
/// To either side of the opening the edge bends away from this hole, rad. Chosen by hand;
/// `tests/photo-table` measures what passes.
const MARGIN_RAD: f64 = 10.0 * PI / 180.0;
const RAY_RAD: f64 = TAU / RAYS as f64;
/// The middle of a hole, in shares of its radius, equal areas apart, is dark all over: flaps of paper
/// stand in less far.
const MIDDLE_SHARES: [f64; 6] = [0.24, 0.35, 0.42, 0.49, 0.55, 0.6];
/// What lies this near to the rim, share of the radius, is not the middle. Chosen by hand;
/// `tests/photo-table` measures what passes.
const NEAR_RIM_SHARE: f64 = 0.8;
/// ... but for this share of it. Chosen by hand; `tests/photo-table` measures what passes.
const MOST_ACROSS: f64 = 0.05;

/// Part of a rim, as seen from the middle of the hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Opening {
    bearing: f64,
    half_width: f64,
}

impl Opening {
    /// The widest part of `circle` behind which it is as dark (or light) as within.
    pub(super) fn behind(relief: &Relief, circle: &Circle, tone: HoleTone) -> Option<Self> {
        let seen = open_rays(relief, circle, tone)?;
        let near = |from: usize| (from..=from + BRIDGE_RAYS).any(|ray| seen[ray % RAYS]);
        let open: Vec<bool> = (0..RAYS)
            .map(|ray| near(ray) && near(ray + RAYS - BRIDGE_RAYS))
            .collect();
        let (first, count) = longest_run(&open);
        let width = count as f64 * RAY_RAD;
        (width >= LEAST_OPEN_RAD).then_some(Self {
            bearing: (first as f64 + 0.5 * (count as f64 - 1.0)) * RAY_RAD,
            half_width: 0.5 * width + MARGIN_RAD,
        })
    }

    /// The part of the edge of `disc` that lies within `other`; `None` where the edges do not cross.
    pub(super) fn taken(disc: Disc, other: Disc) -> Option<Self> {
        let away = other.centre - disc.centre;
        let (apart, radius) = (away.norm_mm(), disc.radius_mm);
        let cos =
            (apart * apart + radius * radius - other.radius_mm.powi(2)) / (2.0 * apart * radius);
        (cos.abs() < 1.0).then(|| Self {
            bearing: away.y_mm.atan2(away.x_mm),
            half_width: cos.acos(),
        })
    }

    /// The hole behind, taken to be as large as `circle` and to end where the darkness ends.
    pub(super) fn hole_behind(&self, relief: &Relief, circle: &Circle, tone: HoleTone) -> Disc {
        let rays = Rays::new(relief, circle, tone);
        let halfway = f32::midpoint(rays.inside(), rays.outside());
        let ray = (self.bearing / RAY_RAD).round() as usize;
        let steps = (2.0 * circle.radius_mm / STEP_MM) as usize;
        let beyond = (0..steps).map(|k| circle.radius_mm + k as f64 * STEP_MM);
        let mut dark = beyond.filter(|r| rays.value(ray, *r) < halfway);
        let end_mm = dark.next_back().unwrap_or(circle.radius_mm);
        let (sin, cos) = self.bearing.sin_cos();
        let away_mm = end_mm - circle.radius_mm;
        Disc {
            centre: circle.centre() + PointMm::new(away_mm * cos, away_mm * sin),
            radius_mm: circle.radius_mm,
        }
    }

    /// The rim points, mm, outside the opening as seen from `centre`.
    pub(super) fn beside(&self, centre: PointMm, points: &[(f64, f64)]) -> Vec<(f64, f64)> {
        let outside = |p: &&(f64, f64)| {
            let bearing = (p.1 - centre.y_mm).atan2(p.0 - centre.x_mm);
            let turn = (bearing - self.bearing).rem_euclid(TAU);
            turn.min(TAU - turn) > self.half_width
        };
        points.iter().filter(outside).copied().collect()
    }
}

/// Whether something as light as the paper lies across the middle of a dark hole, or the other way
/// round: the torn edge between two holes that share an outline, or a printed figure's strokes.
///
/// `seen` is the plane as it is: without its print, a hole would be light where the print was dark.
pub(super) fn lies_across(seen: &Relief, circle: &Circle, tone: HoleTone) -> bool {
    let rays = Rays::new(seen, circle, tone);
    let ring = |share: f64| rays.values_at(share * circle.radius_mm);
    let middle: Vec<f32> = MIDDLE_SHARES.into_iter().flat_map(ring).collect();
    // Strokes round a light middle are dark only near the rim.
    let inside = level(middle.clone()).min(level(ring(NEAR_RIM_SHARE).collect()));
    let outside = rays.outside();
    let halfway = f32::midpoint(inside, outside);
    let across = middle.iter().filter(|&&value| value > halfway).count();
    outside - inside >= LEAST_CONTRAST && across as f64 > MOST_ACROSS * middle.len() as f64
}

/// How bright the print around a hole usually is, grey levels.
pub(super) fn print_around(seen: &Relief, circle: &Circle) -> f32 {
    Rays::new(seen, circle, HoleTone::Dark).outside()
}

/// Which rays find it as dark behind the rim as within; `None` when that cannot be told.
fn open_rays(relief: &Relief, circle: &Circle, tone: HoleTone) -> Option<Vec<bool>> {
    let rays = Rays::new(relief, circle, tone);
    let (inside, outside) = (rays.inside(), rays.outside());
    let steps = ((BEYOND_MM.1 - BEYOND_MM.0) / STEP_MM).round() as usize;
    let goes_on = |ray: usize| {
        let behind = (0..=steps).map(|k| circle.radius_mm + BEYOND_MM.0 + k as f64 * STEP_MM);
        let dark = behind.filter(|&r| rays.value(ray, r) < f32::midpoint(inside, outside));
        dark.count() >= LEAST_STEPS
    };
    (outside - inside >= LEAST_CONTRAST).then(|| (0..RAYS).map(goes_on).collect())
}

/// Looks outward from the middle of a circle.
struct Rays<'a> {
    relief: &'a Relief,
    circle: Disc,
    sign: f32,
}

impl<'a> Rays<'a> {
    fn new(relief: &'a Relief, circle: &Circle, tone: HoleTone) -> Self {
        let sign = match tone {
            HoleTone::Dark => 1.0,
            HoleTone::Light => -1.0,
        };
        let circle = circle.disc();
        Self {
            relief,
            circle,
            sign,
        }
    }

    fn inside(&self) -> f32 {
        level(self.values_at(0.5 * self.circle.radius_mm).collect())
    }

    fn outside(&self) -> f32 {
        level(
            self.values_at(self.circle.radius_mm + BEYOND_MM.1)
                .collect(),
        )
    }

    /// Brightness at `radius_mm` along a ray; for a light hole, darkness.
    fn value(&self, ray: usize, radius_mm: f64) -> f32 {
        let (sin, cos) = (RAY_RAD * ray as f64).sin_cos();
        let at = self.circle.centre + PointMm::new(radius_mm * cos, radius_mm * sin);
        let (column, row) = self.relief.grid(at);
        self.sign * self.relief.at(column as f32, row as f32)
    }

    fn values_at(&self, radius_mm: f64) -> impl Iterator<Item = f32> {
        (0..RAYS).map(move |ray| self.value(ray, radius_mm))
    }
}

/// First index and length of the longest run of `true` on a closed row.
fn longest_run(row: &[bool]) -> (usize, usize) {
    let run_at = |first: usize| {
        let from_here = row.iter().cycle().skip(first).take(row.len());
        from_here.take_while(|open| **open).count()
    };
    (0..row.len())
        .map(|first| (first, run_at(first)))
        .max_by_key(|run| run.1)
        .unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::impact::fit_circle;

    fn relief(dark: impl Fn(PointMm) -> bool) -> Relief {
        Relief::sample(PointMm::default(), 12.0, 0.2, |p| {
            if dark(p) { 20.0 } else { 200.0 }
        })
    }

    /// A circle of 3 mm at the origin.
    fn circle() -> Circle {
        let rim: Vec<(f64, f64)> = (0..RAYS)
            .map(|ray| (RAY_RAD * ray as f64).sin_cos())
            .map(|(sin, cos)| (3.0 * cos, 3.0 * sin))
            .collect();
        fit_circle(&rim, Disc::new(0.1, 0.0, 2.9), 1.0).unwrap()
    }

    /// A hole of 3 mm at the origin and what else is dark.
    fn opening(dark: impl Fn(PointMm) -> bool) -> Option<Opening> {
        let relief = relief(|p| p.norm_mm() < 3.0 || dark(p));
        Opening::behind(&relief, &circle(), HoleTone::Dark)
    }

    #[test]
    fn a_hole_beside_opens_the_rim_towards_it_even_behind_a_torn_edge() {
        let away = |p: PointMm| (p - PointMm::new(0.0, 5.0)).norm_mm();
        for torn in [0.0, 0.7] {
            let found = opening(|p| away(p) < 3.0 - torn).unwrap();
            assert!((found.bearing - PI / 2.0).abs() < 0.1, "{found:?}");
        }
    }

    #[test]
    fn paper_all_round_a_blade_s_cut_and_black_print_open_nothing() {
        assert_eq!(opening(|_| false), None);
        assert_eq!(opening(|p| p.x_mm > 0.0 && p.y_mm.abs() < 0.7), None);
        assert_eq!(opening(|p| p.norm_mm() > 3.6), None);
    }

    #[test]
    fn what_lies_across_the_middle_is_seen_and_a_flap_at_the_rim_is_none() {
        let crossed = |light: fn(PointMm) -> bool| {
            let hole = relief(|p| p.norm_mm() < 3.0 && !light(p));
            lies_across(&hole, &circle(), HoleTone::Dark)
        };
        assert!(crossed(|p| (p.x_mm - 0.8).abs() < 0.4));
        assert!(crossed(|p| p.norm_mm() < 2.0), "the loop of a figure");
        assert!(!crossed(|_| false));
        assert!(!crossed(|p| p.x_mm > 1.9));
    }
}
