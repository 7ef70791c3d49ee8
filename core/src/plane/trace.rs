//! Edge points along the four straight sides of a reference.

use super::line::Line;
use super::profile::{EdgeHit, Probe, median};
use super::{Edge, Lens};
use crate::frame::PointPx;
use crate::photo::View;

/// Probes along one side.
const PROBES: usize = 100;
/// Edges weaker than this share of the side's median are dropped.
const WEAK: f64 = 0.35;
/// A side is seen if at least this share of its probes agrees on one line.
const LEAST_SEEN: f64 = 0.30;
/// Cosine of the largest angle between a side and where it was expected (37 degrees).
const LEAST_ALIGNED: f64 = 0.8;

/// What a side looks like.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Outline<'a> {
    /// Stretches of the side that show an edge, 0 at its first corner and 1 at its second.
    pub(crate) parts: &'a [(f64, f64)],
    /// Whether it gets darker inwards everywhere; otherwise whichever is stronger.
    pub(crate) dark_inside: bool,
}

impl Outline<'_> {
    /// A whole sheet. Corners are kept out: rounded cards, folded paper.
    pub(crate) const SHEET: Outline<'static> = Outline {
        parts: &[(0.04, 0.96)],
        dark_inside: false,
    };

    /// Evenly spread over the parts, `share` from 0 to 1.
    fn place(&self, share: f64) -> f64 {
        let total: f64 = self.parts.iter().map(|(a, b)| b - a).sum();
        let mut left = share * total;
        for (a, b) in self.parts {
            if left <= b - a {
                return a + left;
            }
            left -= b - a;
        }
        self.parts.last().map_or(share, |(_, b)| *b)
    }
}

/// Search settings of one pass over the sides, all px.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pass {
    pub(crate) half: f64,
    pub(crate) sigma: f64,
    pub(crate) tolerance: f64,
}

/// The edge points found along one side.
#[derive(Debug, Clone)]
pub(crate) struct Side {
    pub(crate) edge: Edge,
    /// Positions in the photograph (not undistorted), px.
    pub(crate) points: Vec<PointPx>,
    /// The line they agree on, undistorted px.
    pub(crate) line: Line,
}

/// Looks for one side between two corners given in undistorted px; `None` if too little of it is
/// seen, with the share seen as the error.
pub(crate) fn side(
    view: &View<'_>,
    lens: &Lens,
    edge: Edge,
    ends: (PointPx, PointPx),
    (outline, pass): (&Outline<'_>, &Pass),
) -> Result<Side, f64> {
    let expected = Line::between(ends.0, ends.1).ok_or(0.0)?;
    let hits = probe_all(view, lens, &expected, ends, (outline, pass));
    let kept = strong_of_one_sign(&hits, outline.dark_inside);
    let flat: Vec<PointPx> = kept.iter().map(|p| lens.undistort(*p)).collect();
    let (line, near) = Line::robust(&flat, pass.tolerance).ok_or(0.0)?;
    let points: Vec<PointPx> = kept
        .iter()
        .zip(&near)
        .filter_map(|(p, near)| near.then_some(*p))
        .collect();
    let seen = points.len() as f64 / PROBES as f64;
    if seen < LEAST_SEEN {
        return Err(seen);
    }
    let same = line.across.0 * expected.across.0 + line.across.1 * expected.across.1;
    if same.abs() < LEAST_ALIGNED {
        return Err(0.0);
    }
    Ok(Side { edge, points, line })
}

/// A probe's line in the photograph and the strongest edge of either sign on it.
struct Hit {
    at: PointPx,
    across: (f64, f64),
    signs: [Option<EdgeHit>; 2],
}

fn probe_all(
    view: &View<'_>,
    lens: &Lens,
    expected: &Line,
    ends: (PointPx, PointPx),
    (outline, pass): (&Outline<'_>, &Pass),
) -> Vec<Hit> {
    (0..PROBES)
        .map(|i| {
            let t = outline.place((i as f64 + 0.5) / PROBES as f64);
            let at = lens.distort(PointPx::new(
                ends.0.x_px + t * (ends.1.x_px - ends.0.x_px),
                ends.0.y_px + t * (ends.1.y_px - ends.0.y_px),
            ));
            let probe = Probe {
                at,
                across: expected.across,
                half_px: pass.half,
                sigma_px: pass.sigma,
            };
            Hit {
                at,
                across: expected.across,
                signs: probe.edges(view),
            }
        })
        .collect()
}

/// The edge points of the sign that is stronger along the side, without the weak ones.
fn strong_of_one_sign(hits: &[Hit], dark_inside: bool) -> Vec<PointPx> {
    let slopes = |k: usize| -> Vec<f64> {
        hits.iter()
            .filter_map(|h| h.signs[k].map(|e| e.slope.abs()))
            .collect()
    };
    let medians = [0, 1].map(|k| median(slopes(k)).unwrap_or(0.0));
    // Lines run clockwise, so probes run inwards: index 1 is "gets darker inwards".
    let sign = usize::from(dark_inside || medians[1] > medians[0]);
    hits.iter()
        .filter_map(|h| {
            let edge = h.signs[sign]?;
            let strong = edge.slope.abs() >= WEAK * medians[sign];
            strong.then(|| {
                PointPx::new(
                    h.at.x_px + edge.offset_px * h.across.0,
                    h.at.y_px + edge.offset_px * h.across.1,
                )
            })
        })
        .collect()
}
