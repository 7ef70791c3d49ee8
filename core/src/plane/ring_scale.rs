//! How large rings are seen and around which place, before any of them is followed: the edges along
//! rays from a tap, held against all radii at once.
//!
//! ```text
//! mean edge        |      |      |      |      |
//! at distance r  __|______|______|______|______|____ r
//!                  s R1   s R2   s R3   s R4   s R5     the scale s whose rings lie on edges
//! ```
//!
//! One ring is like another; their distances from the middle are not: a scale at which each lies on
//! the edge of the next one is not one for all of them.

use nalgebra::Matrix3;

use super::profile::{Filter, light};
use super::ring_check::LEAST_OWN_RINGS;
use super::{Homography, Lens};
use crate::frame::PointPx;
use crate::photo::View;
use crate::stats::median;

/// Rays from the middle.
const RAYS: usize = 48;
/// Width of the edge filter, px.
const SIGMA_PX: f64 = 1.5;
/// An edge counts up to this many times the usual slope of its ray.
const CLEAR: f64 = 12.0;
/// Seen from the side a ring is nearer on one ray than on another, by up to this share either way.
const WANDER: f64 = 0.02;
/// A distance is known where at least this share of the rays reaches it within the picture.
const LEAST_RAYS: f64 = 0.4;
/// The middle is looked for within one step of the tap on each axis, share of the picture's side.
const ASIDE: f64 = 0.008;
/// Scales tried, each so many times the one before.
const FINER: f64 = 1.007;
/// Scales this near to a better one are that one.
const APART: f64 = 1.05;
/// A face smaller than this share of what the rays reach is left to the patch in its middle.
const SMALLEST: f64 = 0.15;
/// Slopes below this are quantisation, levels of light per px: a scan's ray is nothing else.
const LEAST_SLOPE: f64 = 0.2;
/// Planes given, the best first.
const MOST: usize = 2;

/// A scale, px per mm, around a middle.
#[derive(Debug, Clone, Copy)]
struct Scale {
    middle: PointPx,
    px_per_mm: f64,
    score: f64,
}

/// Planes seen straight on in which rings of these radii lie on edges, the best first.
pub(super) fn planes(
    view: &View<'_>,
    lens: &Lens,
    tap: PointPx,
    radii_mm: &[f64],
) -> Vec<Homography> {
    let aside_px = ASIDE * view.width().max(view.height()) as f64;
    let steps = [-aside_px, 0.0, aside_px];
    let middles = steps.into_iter().flat_map(|dy| steps.map(|dx| (dx, dy)));
    let mut all: Vec<Scale> = middles
        .flat_map(|(dx, dy)| {
            let middle = PointPx::new(tap.x_px + dx, tap.y_px + dy);
            let found = scales(&profile(view, middle), radii_mm).into_iter();
            found.map(move |(px_per_mm, score)| Scale {
                middle,
                px_per_mm,
                score,
            })
        })
        .collect();
    all.sort_by(|a, b| b.score.total_cmp(&a.score));
    let mut kept: Vec<Scale> = Vec::new();
    for scale in all {
        let ratio = |k: &Scale| (k.px_per_mm / scale.px_per_mm).ln().abs();
        if kept.len() < MOST && kept.iter().all(|k| ratio(k) > APART.ln()) {
            kept.push(scale);
        }
    }
    kept.iter().filter_map(|scale| scale.plane(lens)).collect()
}

impl Scale {
    fn plane(&self, lens: &Lens) -> Option<Homography> {
        let (s, c) = (self.px_per_mm, lens.undistort(self.middle));
        Homography::from_matrix(Matrix3::new(s, 0.0, c.x_px, 0.0, -s, c.y_px, 0.0, 0.0, 1.0))
    }
}

/// How much of an edge there is at each distance from a middle, px by px, over all rays; none where
/// too few of them reach.
fn profile(view: &View<'_>, middle: PointPx) -> Vec<Option<f64>> {
    let filter = Filter::new(SIGMA_PX, 1.0);
    let rays: Vec<Vec<f64>> = (0..RAYS).map(|k| ray(view, middle, k, &filter)).collect();
    let longest = rays.iter().map(Vec::len).max().unwrap_or(0);
    let at = |r: usize| {
        let seen: Vec<f64> = rays.iter().filter_map(|ray| ray.get(r)).copied().collect();
        let enough = seen.len() as f64 >= LEAST_RAYS * RAYS as f64;
        enough.then(|| seen.iter().sum::<f64>() / seen.len() as f64)
    };
    (0..longest).map(at).collect()
}

/// The same along one ray: the strongest edge near each distance, in units of the ray's usual slope.
fn ray(view: &View<'_>, middle: PointPx, k: usize, filter: &Filter) -> Vec<f64> {
    let (sin, cos) = (std::f64::consts::TAU * k as f64 / RAYS as f64).sin_cos();
    let reach = filter.support as isize;
    let samples: Vec<f64> = (-reach..)
        .map_while(|r| {
            let r = r as f64;
            view.sample(middle.x_px + r * cos, middle.y_px + r * sin)
        })
        .map(light)
        .collect();
    let slopes: Vec<f64> = filter.slopes(&samples).map(f64::abs).collect();
    let usual = median(slopes.clone()).unwrap_or(0.0).max(LEAST_SLOPE);
    let clear = |r: usize| {
        let wander = (WANDER * r as f64).ceil() as usize;
        let near = slopes
            .iter()
            .skip(r.saturating_sub(wander))
            .take(2 * wander + 1);
        near.fold(0.0, |most, s| f64::max(most, *s))
            .min(CLEAR * usual)
            / usual
    };
    (0..slopes.len()).map(clear).collect()
}

/// Scales at which the rings lie on edges better than at those beside, each with how much more of an
/// edge there is on a ring than between rings.
fn scales(profile: &[Option<f64>], radii_mm: &[f64]) -> Vec<(f64, f64)> {
    let (inner_mm, outer_mm) = (radii_mm.get(LEAST_OWN_RINGS - 1), radii_mm.last());
    let reach_px = profile.iter().take_while(|p| p.is_some()).count() as f64;
    let (least, most) = match (inner_mm, outer_mm) {
        (Some(inner), Some(outer)) => (SMALLEST * reach_px / outer, reach_px / inner),
        _ => (1.0, 0.0),
    };
    let count = ((most / least).ln() / FINER.ln()).max(0.0) as i32;
    let scored: Vec<(f64, f64)> = (0..=count)
        .map(|k| least * FINER.powi(k))
        .filter_map(|s| Some((s, score(profile, radii_mm, s)?)))
        .collect();
    let peaks = scored.windows(3);
    let peaks = peaks.filter(|w| w[1].1 > w[0].1 && w[1].1 >= w[2].1);
    peaks.map(|w| w[1]).collect()
}

/// How much more of an edge there is on the rings than midway between them, more for more rings; none
/// where too few lie within reach.
fn score(profile: &[Option<f64>], radii_mm: &[f64], px_per_mm: f64) -> Option<f64> {
    let at = |mm: f64| {
        profile
            .get((mm * px_per_mm).round() as usize)
            .copied()
            .flatten()
    };
    let on: Vec<f64> = radii_mm.iter().map_while(|mm| at(*mm)).collect();
    let between = radii_mm.windows(2).take(on.len().saturating_sub(1));
    let between: Vec<f64> = between
        .filter_map(|w| at(f64::midpoint(w[0], w[1])))
        .collect();
    let mean = |of: &[f64]| of.iter().sum::<f64>() / of.len().max(1) as f64;
    (on.len() >= LEAST_OWN_RINGS).then(|| (mean(&on) - mean(&between)) * (on.len() as f64).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::PointMm;
    use crate::plane::picture::Camera;

    /// Lines of 0.6 mm, evenly spaced but for the first, and a hole where the middle was.
    fn shot(m: PointMm, radii_mm: &[f64]) -> f64 {
        let r = m.norm_mm();
        let on_line = radii_mm.iter().any(|ring| (r - ring).abs() < 0.3);
        let hole = (m - PointMm::new(2.0, -1.0)).norm_mm() < 4.0;
        match (hole, on_line) {
            (true, _) => 20.0,
            (_, true) => 60.0,
            _ => 210.0,
        }
    }

    #[test]
    fn all_rings_tell_the_size_where_the_middle_is_shot_away() {
        let radii_mm: Vec<f64> = (0..8).map(|k| 5.75 + 8.0 * f64::from(k)).collect();
        let camera = Camera {
            turns: [8.0, -6.0, 3.0],
            ..Camera::level(260.0)
        };
        let photo = camera.draw(2.0, |m| shot(m, &radii_mm));
        let middle = camera.see(PointMm::default());
        let tap = PointPx::new(middle.x_px + 4.0, middle.y_px - 3.0);
        let planes = planes(&photo.view(), &camera.lens(), tap, &radii_mm);
        let scale = |h: &Homography| {
            let jacobian = h.jacobian_px_per_mm(PointMm::default());
            jacobian.determinant().abs().sqrt()
        };
        let share = scale(&planes[0]) / scale(&camera.homography());
        assert!((share - 1.0).abs() < 0.02, "{share}");
        let two = super::planes(&photo.view(), &camera.lens(), tap, &radii_mm[..2]);
        assert!(two.is_empty(), "two rings fit in many sizes");
    }
}
