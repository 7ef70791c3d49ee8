//! Border points of concentric rings along rays from the middle.

use crate::plane::profile::{EdgeHit, Filter, Probe};
use crate::plane::{Homography, Lens};

use super::faces::{Face, Middle};
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

/// A dividing line is at most this wide, mm. Chosen by hand; not tuned.
const MOST_LINE_MM: f64 = 1.2;
/// Its weaker edge is at least this much of the strongest that is seen at all. Chosen by hand; not tuned.
const LEAST_OF_LINE: f64 = 0.5;
/// So far apart the edges of a line without any width are seen, px: twice the filter's width and the picture's blur
/// together.
const BLURRED_APART_PX: f64 = 3.0;

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
    let seen: Vec<[Hits; 2]> = (0..channels)
        .map(|c| hits(&photo.channel(c), &rays, &filter))
        .collect();
    let best = seen
        .iter()
        .flatten()
        .max_by(|a, b| a.clean.total_cmp(&b.clean))?;
    let line = (face.middle == Middle::Plain)
        .then(|| line(&seen, &rays, best.strength, half_mm))
        .flatten();
    let offsets = line.unwrap_or_else(|| best.offsets_px().collect());
    let points: Vec<PointPx> = rays
        .iter()
        .zip(offsets)
        .filter_map(|(ray, offset)| {
            let offset_px = offset?;
            Some(at.1.undistort(PointPx::new(
                ray.at.x_px + offset_px * ray.across.0,
                ray.at.y_px + offset_px * ray.across.1,
            )))
        })
        .collect();
    (points.len() as f64 >= LEAST_SEEN * count as f64).then_some(RingPoints { ring, points })
}

/// Where the outer edge of a dividing line lies along each ray, if that is what is seen: lines are part of the zone
/// they enclose (from memory of the rules), so that is where its radius ends. Either edge alone would be followed by
/// chance, ring by ring; of a thin line both are blurred apart.
fn line(
    seen: &[[Hits; 2]],
    rays: &[Ray],
    strongest: f64,
    half_mm: f64,
) -> Option<Vec<Option<f64>>> {
    let weaker = |pair: &[Hits; 2]| pair[0].strength.min(pair[1].strength);
    let pair = seen.iter().max_by(|a, b| weaker(a).total_cmp(&weaker(b)))?;
    let px_per_mm = median(rays.iter().map(|ray| ray.half_px / half_mm).collect())?;
    let edges: Vec<Option<(f64, f64)>> = pair[0]
        .offsets_px()
        .zip(pair[1].offsets_px())
        .map(|(a, b)| a.zip(b))
        .collect();
    let widths = edges.iter().flatten().map(|(a, b)| (a - b).abs()).collect();
    let thin = median(widths)? <= (MOST_LINE_MM * px_per_mm).max(2.0 * BLURRED_APART_PX);
    let outer = |(a, b): (f64, f64)| {
        let width_px = ((a - b).powi(2) - BLURRED_APART_PX.powi(2)).max(0.0).sqrt();
        f64::midpoint(a, b) + 0.5 * width_px
    };
    let seen = thin && weaker(pair) >= LEAST_OF_LINE * strongest;
    seen.then(|| edges.into_iter().map(|both| both.map(outer)).collect())
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

impl Hits {
    /// How far from the expected place each ray meets it, px.
    fn offsets_px(&self) -> impl Iterator<Item = Option<f64>> {
        let clear = |hit: &EdgeHit| hit.slope.abs() >= WEAK * self.strength;
        let hits = self.hits.iter();
        hits.map(move |hit| hit.filter(clear).map(|hit| hit.offset_px))
    }
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
