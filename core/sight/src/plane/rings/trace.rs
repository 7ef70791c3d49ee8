//! Border points of concentric rings along rays from the middle.

use crate::plane::profile::{EdgeHit, Filter, Probe};
use crate::plane::{Homography, Lens};

use super::faces::Face;
use crate::frame::{PointMm, PointPx};
use crate::photo::{Photo, View};
use crate::stats::median;

/// A ring is seen if at least this share of its rays meets it. Chosen by hand; `tests/photo-table`
/// measures what passes.
const LEAST_SEEN: f64 = 0.25;
/// Rays with a slope below this share of the ring's median are dropped. Chosen by hand;
/// `tests/photo-table` measures what passes.
const WEAK: f64 = 0.35;
/// Width of the filter, px.
const SIGMA_PX: f64 = 1.2;

/// The points found on one ring.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct RingPoints {
    pub(crate) ring: usize,
    /// Undistorted px.
    pub(crate) points: Vec<PointPx>,
}

/// One expected place of a border and the way across it.
struct Ray {
    at: PointPx,
    across: (f64, f64),
    half_px: f64,
}

/// Looks for ring `ring` within `half_mm` of where the plane puts it, along `count` rays; `None` if too little is seen.
pub(crate) fn ring(
    photo: &Photo,
    at: (&Homography, &Lens),
    face: &Face,
    ring: usize,
    (half_mm, count): (f64, usize),
) -> Option<RingPoints> {
    let radius_mm = *face.radii_mm.get(ring)?;
    let rays: Vec<Ray> = (0..count)
        .filter_map(|i| ray(at, radius_mm, half_mm, i as f64 / count as f64))
        .collect();
    let channels = if photo.has_colour() { 3 } else { 1 };
    let filter = Filter::new(SIGMA_PX, 1.0);
    let best = (0..channels)
        .flat_map(|c| hits(&photo.channel(c), &rays, &filter))
        .max_by(|a, b| a.clean.total_cmp(&b.clean))?;
    let points: Vec<PointPx> = rays
        .iter()
        .zip(&best.hits)
        .filter_map(|(ray, hit)| {
            let hit = hit.filter(|h| h.slope.abs() >= WEAK * best.strength)?;
            Some(at.1.undistort(PointPx::new(
                ray.at.x_px + hit.offset_px * ray.across.0,
                ray.at.y_px + hit.offset_px * ray.across.1,
            )))
        })
        .collect();
    (points.len() as f64 >= LEAST_SEEN * count as f64).then_some(RingPoints { ring, points })
}

fn ray(at: (&Homography, &Lens), radius_mm: f64, half_mm: f64, share: f64) -> Option<Ray> {
    let (sin, cos) = (std::f64::consts::TAU * share).sin_cos();
    let place = |r: f64| at.1.distort(at.0.to_px(PointMm::new(r * cos, r * sin)));
    let (inner, middle, outer) = (
        place(radius_mm - half_mm),
        place(radius_mm),
        place(radius_mm + half_mm),
    );
    let length = inner.distance_px(outer);
    let across = (
        (outer.x_px - inner.x_px) / length,
        (outer.y_px - inner.y_px) / length,
    );
    let sensible = length.is_finite() && length > 1.0 && length < 2000.0;
    sensible.then_some(Ray {
        at: middle,
        across,
        half_px: (length / 2.0).max(4.0),
    })
}

/// Edges of one sign in one channel.
struct Hits {
    /// Median slope over the rays.
    strength: f64,
    /// How much of the slope is a step from one side to the other. Beside a dividing line there is
    /// an edge of the other sign a line's width away; blurred together, each pushes the other off
    /// its place by an amount that differs around the ring. In a channel where the far side is as
    /// dark as the line there is only one edge, and it stays.
    clean: f64,
    hits: Vec<Option<EdgeHit>>,
}

fn hits(view: &View<'_>, rays: &[Ray], filter: &Filter) -> [Hits; 2] {
    let both: Vec<[Option<EdgeHit>; 2]> = rays
        .iter()
        .map(|ray| {
            let probe = Probe {
                at: ray.at,
                across: ray.across,
                half_px: ray.half_px,
            };
            probe.edges(view, filter)
        })
        .collect();
    let strengths = [0, 1].map(|sign| {
        let slopes: Vec<f64> = both
            .iter()
            .filter_map(|b| b[sign])
            .map(|h| h.slope.abs())
            .collect();
        let seen = slopes.len() as f64 / rays.len().max(1) as f64;
        median(slopes).unwrap_or(0.0) * seen.min(0.5)
    });
    [0, 1].map(|sign| Hits {
        strength: strengths[sign],
        clean: strengths[sign] - strengths[1 - sign],
        hits: both.iter().map(|b| b[sign]).collect(),
    })
}
