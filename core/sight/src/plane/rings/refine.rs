//! A scale, a middle and a lean made better together: what was tried in steps is moved while more of an
//! edge lies on the rings, and less between them.

use crate::plane::profile::Filter;

use super::lean::{Between, CLEAR, LEAST_SLOPE, RAYS, SIGMA_PX, Scale, direction, slopes};
use crate::frame::PointPx;
use crate::photo::View;
use crate::stats::median;

/// An edge counts for a ring this far from it, share of the ring's radius, and px at least. Chosen by
/// hand, looking at the photographs of `tests/real-table`.
const NEAR: (f64, f64) = (0.01, 2.0);
/// First steps of the lean on each axis, rad, and of the scale, share; of the middle: as it was tried.
const LEAN_STEP_RAD: f64 = 0.06;
const SCALE_STEP: f64 = 0.01;
/// Every second ray is looked at: they find what all of them do, in half the time.
const EVERY: usize = 2;
/// Halvings of all steps, and moves at most.
const HALVINGS: usize = 4;
const MOST_MOVES: usize = 40;

/// Edges of a picture around a middle.
struct Edges<'a> {
    view: &'a View<'a>,
    filter: Filter,
    radii_mm: &'a [f64],
    between: Between,
    /// Farther from a middle than this nothing is in the picture, px.
    far_px: f64,
    /// The usual slope along a ray.
    usual: f64,
}

/// The best near a scale that was found by steps; the middle was tried in steps of `aside_px`.
pub(crate) fn refined(
    view: &View<'_>,
    start: Scale,
    rings: (&[f64], Between),
    aside_px: f64,
) -> Scale {
    let edges = Edges::around(view, &start, rings);
    let mut best = edges.judged(start);
    let mut step = 1.0;
    let mut halvings = 0;
    for _ in 0..MOST_MOVES {
        let moves = neighbours(&best, step, aside_px).into_iter();
        let better = moves
            .map(|scale| edges.judged(scale))
            .max_by(|a, b| a.score.total_cmp(&b.score));
        match better {
            Some(better) if better.score > best.score => best = better,
            _ if halvings == HALVINGS => break,
            _ => {
                step *= 0.5;
                halvings += 1;
            }
        }
    }
    best
}

/// One step either way in each of the five.
fn neighbours(from: &Scale, step: f64, aside_px: f64) -> Vec<Scale> {
    let (aside, lean, grown) = (step * aside_px, step * LEAN_STEP_RAD, step * SCALE_STEP);
    let beside = |x: f64, y: f64| Scale {
        middle: PointPx::new(from.middle.x_px + x, from.middle.y_px + y),
        ..*from
    };
    let leaning = |x: f64, y: f64| Scale {
        lean: from.lean.moved((x, y)),
        ..*from
    };
    let scaled = |share: f64| Scale {
        px_per_mm: from.px_per_mm * (1.0 + share),
        ..*from
    };
    let either = |size: f64| [-size, size];
    let mut all: Vec<Scale> = either(aside).map(|d| beside(d, 0.0)).to_vec();
    all.extend(either(aside).map(|d| beside(0.0, d)));
    all.extend(either(lean).map(|d| leaning(d, 0.0)));
    all.extend(either(lean).map(|d| leaning(0.0, d)));
    all.extend(either(grown).map(scaled));
    all
}

impl<'a> Edges<'a> {
    fn around(
        view: &'a View<'a>,
        scale: &Scale,
        (radii_mm, between): (&'a [f64], Between),
    ) -> Self {
        let mut edges = Self {
            view,
            filter: Filter::new(SIGMA_PX, 1.0),
            radii_mm,
            between,
            far_px: (view.width() + view.height()) as f64,
            usual: 1.0,
        };
        let reach_px = scale.px_per_mm * radii_mm.last().copied().unwrap_or(0.0);
        let last = reach_px.min(edges.far_px) as usize;
        let along = |k: usize| slopes(view, &edges.filter, (scale.middle, direction(k)), 0..=last);
        let all = (0..RAYS).flat_map(along);
        edges.usual = median(all.collect()).unwrap_or(0.0).max(LEAST_SLOPE);
        edges
    }

    /// The same scale with how much more of an edge lies on its rings than midway between them, where that
    /// speaks against it.
    fn judged(&self, scale: Scale) -> Scale {
        let Self { radii_mm, .. } = self;
        let mean = |radii: &mut dyn Iterator<Item = f64>| {
            let edges = radii.flat_map(|mm| self.on(&scale, mm));
            let (sum, count) = edges.fold((0.0, 0), |(sum, count), e| (sum + e, count + 1));
            if count > 0 {
                sum / f64::from(count)
            } else {
                0.0
            }
        };
        let on = mean(&mut radii_mm.iter().copied());
        let between = match self.between {
            Between::Bare => mean(&mut radii_mm.windows(2).map(|w| f64::midpoint(w[0], w[1]))),
            Between::Any => 0.0,
        };
        Scale {
            score: on - between,
            ..scale
        }
    }

    /// How much of an edge is seen where each ray meets a circle of this radius.
    fn on<'s>(
        &'s self,
        scale: &'s Scale,
        radius_mm: f64,
    ) -> impl Iterator<Item = f64> + use<'s, 'a> {
        let r = radius_mm * scale.px_per_mm;
        let near = (NEAR.0 * r).max(NEAR.1).round() as usize;
        (0..RAYS).step_by(EVERY).filter_map(move |k| {
            let way = direction(k);
            let away_px = scale.lean.along(way).seen_px(r)?;
            let first = (away_px.min(self.far_px).round() as usize).saturating_sub(near);
            let at = first..=first + 2 * near;
            let seen = slopes(self.view, &self.filter, (scale.middle, way), at);
            // A window that the picture's border cuts says nothing of a ring.
            let whole = Some(seen).filter(|seen| seen.len() > 2 * near)?;
            let most = whole.into_iter().fold(0.0, f64::max);
            Some(most.min(CLEAR * self.usual) / self.usual)
        })
    }
}
