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
//! the edge of the next one is not one for all of them. What lies between rings speaks against a scale, but
//! rings that were not entered lie there at the right one: so the scales that are best whatever lies between
//! are looked at as well. Seen from the side they are no circles, so the
//! rays are stretched as each of some leans of the face would have it, and the leans compared as well.

use crate::plane::profile::Filter;
use crate::plane::{Homography, Lens};

use super::check::LEAST_OWN_RINGS;
use super::lean::{
    Along, Between, CLEAR, LEAST_SLOPE, Lean, RAYS, SIGMA_PX, Scale, direction, slopes,
};
use super::refine;
use crate::frame::PointPx;
use crate::photo::View;
use crate::stats::median;

/// Between two leans that are tried a ring is nearer on one ray than on another, by up to this share.
const WANDER: f64 = 0.02;
/// A distance is known where at least this share of the rays reaches it within the picture. Chosen by
/// hand, looking at the photographs of `tests/real-table`.
const LEAST_RAYS: f64 = 0.4;
/// The middle is looked for within one step of the tap on each axis, share of the picture's side.
const ASIDE: f64 = 0.008;
/// Scales tried, each so many times the one before.
const FINER: f64 = 1.007;
/// Scales this near to a better one are that one. Chosen by hand, looking at the photographs of
/// `tests/real-table`.
const APART: f64 = 1.05;
/// A face smaller than this share of what the rays reach is left to the patch in its middle. Chosen by
/// hand, looking at the photographs of `tests/real-table`.
const SMALLEST: f64 = 0.15;
/// Planes given of either kind, the best first. Chosen by hand, looking at the photographs of
/// `tests/real-table`.
const MOST: usize = 2;
/// So many of the likeliest leans are looked at from every middle. Chosen by hand, looking at the
/// photographs of `tests/real-table`.
const LIKELY_LEANS: usize = 3;

/// Planes in which rings of these radii lie on edges, the best first, for a camera of this focal length:
/// with nothing between the rings, then those of other sizes with anything there.
pub(crate) fn planes(
    view: &View<'_>,
    lens: &Lens,
    focal_px: f64,
    tap: PointPx,
    radii_mm: &[f64],
) -> Vec<Homography> {
    let around = |middle, leans: &[Lean]| {
        let rays = rays(view, middle);
        let mut found = [Vec::new(), Vec::new()];
        for &lean in leans {
            let profile = profile(&rays, &lean);
            for (all, between) in found.iter_mut().zip([Between::Bare, Between::Any]) {
                let scales = scales(&profile, radii_mm, between).into_iter();
                all.extend(scales.map(|(px_per_mm, score)| Scale {
                    middle,
                    lean,
                    px_per_mm,
                    score,
                }));
            }
        }
        found
    };
    let [bare, any] = around(tap, &Lean::all(focal_px));
    let mut leans = Vec::new();
    for (all, count) in [(bare, LIKELY_LEANS), (any, 1)] {
        let by_lean = best_first(all, |a, b| a.lean == b.lean).into_iter();
        let likely = by_lean.take(count).map(|scale| scale.lean);
        let new: Vec<Lean> = likely.filter(|lean| !leans.contains(lean)).collect();
        leans.extend(new);
    }
    let aside_px = ASIDE * view.width().max(view.height()) as f64;
    let steps = [-aside_px, 0.0, aside_px];
    let middles = steps.into_iter().flat_map(|dy| steps.map(|dx| (dx, dy)));
    let (mut bare, mut any) = (Vec::new(), Vec::new());
    for (dx, dy) in middles {
        let middle = PointPx::new(tap.x_px + dx, tap.y_px + dy);
        let [b, a] = around(middle, &leans);
        bare.extend(b);
        any.extend(a);
    }
    let refined = |all, between| {
        let best = best_first(all, near).into_iter().take(MOST);
        let refined = best.map(|scale| refine::refined(view, scale, (radii_mm, between), aside_px));
        best_first(refined.collect(), near)
    };
    let mut kept = refined(bare, Between::Bare);
    let others = refined(any, Between::Any).into_iter();
    let others = others.filter(|other| kept.iter().all(|scale| !near(scale, other)));
    kept.extend(others.collect::<Vec<_>>());
    let kept = kept.into_iter();
    kept.filter_map(|scale| scale.plane(lens)).collect()
}

/// Whether two scales are one, nearly.
fn near(a: &Scale, b: &Scale) -> bool {
    (a.px_per_mm / b.px_per_mm).ln().abs() <= APART.ln()
}

/// The best of those that are alike, the best first.
fn best_first(mut all: Vec<Scale>, alike: impl Fn(&Scale, &Scale) -> bool) -> Vec<Scale> {
    all.sort_by(|a, b| b.score.total_cmp(&a.score));
    let mut kept: Vec<Scale> = Vec::new();
    for scale in all {
        if !kept.iter().any(|better| alike(better, &scale)) {
            kept.push(scale);
        }
    }
    kept
}

/// How much of an edge there is at each distance from a middle seen straight on, px by px, over all
/// rays; none where too few of them reach.
fn profile(rays: &[Vec<f64>], lean: &Lean) -> Vec<Option<f64>> {
    let longest = rays.iter().map(Vec::len).max().unwrap_or(0);
    let along: Vec<Along> = (0..RAYS).map(|k| lean.along(direction(k))).collect();
    let at = |r: usize| {
        let seen = rays
            .iter()
            .zip(&along)
            .filter_map(|(ray, along)| ray.get(along.seen_px(r as f64)?.round() as usize));
        let (sum, count) = seen.fold((0.0, 0), |(sum, count), edge| (sum + edge, count + 1));
        let enough = f64::from(count) >= LEAST_RAYS * RAYS as f64;
        enough.then(|| sum / f64::from(count))
    };
    (0..longest).map(at).collect()
}

fn rays(view: &View<'_>, middle: PointPx) -> Vec<Vec<f64>> {
    let filter = Filter::new(SIGMA_PX, 1.0);
    (0..RAYS).map(|k| ray(view, middle, k, &filter)).collect()
}

/// How much of an edge there is along one ray: the strongest near each distance, in units of the ray's
/// usual slope.
fn ray(view: &View<'_>, middle: PointPx, k: usize, filter: &Filter) -> Vec<f64> {
    let far = view.width() + view.height();
    let slopes = slopes(view, filter, (middle, direction(k)), 0..=far);
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
/// edge there is on a ring than elsewhere.
fn scales(profile: &[Option<f64>], radii_mm: &[f64], between: Between) -> Vec<(f64, f64)> {
    let (inner_mm, outer_mm) = (radii_mm.get(LEAST_OWN_RINGS - 1), radii_mm.last());
    let reach_px = profile.iter().take_while(|p| p.is_some()).count() as f64;
    let (least, most) = match (inner_mm, outer_mm) {
        (Some(inner), Some(outer)) => (SMALLEST * reach_px / outer, reach_px / inner),
        _ => (1.0, 0.0),
    };
    let count = ((most / least).ln() / FINER.ln()).max(0.0) as i32;
    let scored: Vec<(f64, f64)> = (0..=count)
        .map(|k| least * FINER.powi(k))
        .filter_map(|s| Some((s, score(profile, radii_mm, s, between)?)))
        .collect();
    let peaks = scored.windows(3);
    let peaks = peaks.filter(|w| w[1].1 > w[0].1 && w[1].1 >= w[2].1);
    peaks.map(|w| w[1]).collect()
}

/// How much more of an edge there is on the rings than midway between them, or than anywhere, more for
/// more rings; none where too few lie within reach.
fn score(
    profile: &[Option<f64>],
    radii_mm: &[f64],
    px_per_mm: f64,
    between: Between,
) -> Option<f64> {
    let at = |mm: f64| {
        profile
            .get((mm * px_per_mm).round() as usize)
            .copied()
            .flatten()
    };
    let mean = |of: &[f64]| of.iter().sum::<f64>() / of.len().max(1) as f64;
    let on: Vec<f64> = radii_mm.iter().map_while(|mm| at(*mm)).collect();
    let elsewhere: Vec<f64> = match between {
        Between::Bare => {
            let gaps = radii_mm.windows(2).take(on.len().saturating_sub(1));
            gaps.filter_map(|w| at(f64::midpoint(w[0], w[1]))).collect()
        }
        Between::Any => profile.iter().map_while(|edge| *edge).collect(),
    };
    let enough = on.len() >= LEAST_OWN_RINGS;
    enough.then(|| (mean(&on) - mean(&elsewhere)) * (on.len() as f64).sqrt())
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

    const DISTANCE_MM: f64 = 260.0;

    /// Size of the best plane against the truth, seen by a camera turned like this, tapped a little aside.
    fn share(turns: [f64; 3], radii_mm: &[f64]) -> Option<f64> {
        let camera = Camera {
            turns,
            ..Camera::level(DISTANCE_MM)
        };
        let photo = camera.draw(2.0, |m| shot(m, radii_mm));
        let middle = camera.see(PointMm::default());
        let tap = PointPx::new(middle.x_px + 4.0, middle.y_px - 3.0);
        let found = planes(
            &photo.view(),
            &camera.lens(),
            camera.focal_px,
            tap,
            radii_mm,
        );
        let scale = |h: &Homography| {
            let jacobian = h.jacobian_px_per_mm(PointMm::default());
            jacobian.determinant().abs().sqrt()
        };
        Some(scale(found.first()?) / scale(&camera.homography()))
    }

    #[test]
    fn all_rings_tell_the_size_where_the_middle_is_shot_away() {
        let radii_mm: Vec<f64> = (0..8).map(|k| 5.75 + 8.0 * f64::from(k)).collect();
        for turns in [[8.0, -6.0, 3.0], [18.0, 9.0, -4.0], [-7.0, 24.0, 10.0]] {
            let share = share(turns, &radii_mm).unwrap();
            assert!((share - 1.0).abs() < 0.02, "{turns:?} {share}");
        }
        let beyond = share([8.0, -6.0, 3.0], &[5.75, 13.75, 21.75, 4000.0]).unwrap();
        assert!((beyond - 1.0).abs() < 0.05, "{beyond}");
        let two = share([8.0, -6.0, 3.0], &radii_mm[..2]);
        assert!(two.is_none(), "two rings fit in many sizes");
    }
}
