//! The sides of a sheet traced and its corners solved, from corners that are nearly right.

use crate::plane::channels::Channels;
use crate::plane::line::Line;
use crate::plane::{Edge, Lens, PlaneError};

use super::candidates::inside;
use super::outline::Outline;
use super::solve::{Solved, Start, solve};
use super::trace::{AROUND, Pass, Side, side};
use crate::frame::PointPx;

/// A sheet nearer to the picture's border than this share of its size runs out of it. Chosen by hand;
/// `tests/photo-table` measures what passes.
const CUT: f64 = 0.012;
/// Of seven places along a side so many must lie there: most of it.
const CUT_PLACES: usize = 4;
/// Of the four sides so many are black or blown out where nothing can be measured. Chosen by hand; not tuned.
const CLIPPED_SIDES: usize = 3;
/// Levels at and beyond which nothing is told apart. Chosen by hand; not tuned.
const CLIPPED: (f64, f64) = (6.0, 253.5);

/// The sides as last traced and the best corners so far (undistorted px).
pub(crate) struct Traced {
    pub(crate) sides: Vec<Side>,
    /// Sides not seen, with the share of probes that agreed.
    pub(crate) missing: Vec<(Edge, f64)>,
    corners: [PointPx; 4],
}

/// What is looked at, and what for.
pub(crate) struct Look<'a> {
    pub(crate) channels: &'a Channels<'a>,
    pub(crate) outline: &'a Outline<'a>,
    /// How far the edge of loose paper may wave, px; 0 for what is stiff.
    pub(crate) waves_px: f64,
    /// Edges are looked for no farther than this from where they are expected, px.
    pub(crate) narrow_px: f64,
}

/// Two passes over the sides from corners that are nearly right (undistorted px), each in a narrower
/// window around a better guess; the lens joins in after the first. The last pass takes the filter
/// that suits the blur of each side.
pub(crate) fn refine(
    look: &Look<'_>,
    start: &Start,
    corners: [PointPx; 4],
) -> Result<(Solved, Traced), PlaneError> {
    let size = start.lens.half_diagonal_px() / 2500.0;
    let half = |half: f64| {
        let half = (half * size).max(4.0).max(look.waves_px);
        half.min(look.narrow_px)
    };
    let pass = |half: f64, tolerance: f64| Pass {
        half,
        around: AROUND * half,
        sigma_px: [1.5; 4],
        tolerance: (tolerance * size)
            .max(1.5)
            .max(0.7 * look.waves_px)
            .min(0.5 * look.narrow_px),
    };
    let first = pass(half(16.0), 8.0);
    let found = trace(look, &start.lens, corners, &[first])?;
    let solved = solve(&found.sides, found.meets(), start).ok_or(PlaneError::Degenerate)?;
    // As wide as the edges wander, so that no rim or shadow beside them comes in.
    let wander = (4.0 * solved.rms_px / size + 2.0).min(12.0);
    let last = Pass {
        sigma_px: found.sigmas(),
        ..pass(half(wander), 6.0)
    };
    // A soft edge fills a narrow strip, and is then taken for the strip's noise. Where only one side is not seen, the
    // others tell better where it is.
    let in_wide = Pass {
        around: first.around,
        ..last
    };
    let by = |passes: &[Pass]| trace(look, &solved.lens, solved.corners, passes);
    let found = by(&[last]).or_else(|_| by(&[last, in_wide]))?;
    let solved = solve(&found.sides, solved.corners, start).ok_or(PlaneError::Degenerate)?;
    Ok((solved, found))
}

/// Whether most sides lie beside paper that is blown out or black: there the edge is not where the
/// picture's own slope is steepest, and looks sharp all the same.
pub(crate) fn is_clipped(look: &Look<'_>, solved: &Solved) -> bool {
    let clipped = |i: &usize| {
        let ends = (solved.corners[*i], solved.corners[(i + 1) % 4]);
        let inwards_px = 0.02 * ends.0.distance_px(ends.1);
        let levels = inside(look.channels, &solved.lens, ends, inwards_px, look.outline);
        let count = look.channels.iter().count();
        let levels = &levels[..count.min(3)];
        levels.iter().all(|l| *l >= CLIPPED.1) || levels.iter().all(|l| *l <= CLIPPED.0)
    };
    (0..4).filter(clipped).count() >= CLIPPED_SIDES
}

/// Looks for all four sides, each by the first pass that sees it; one may stay unseen.
fn trace(
    look: &Look<'_>,
    lens: &Lens,
    corners: [PointPx; 4],
    passes: &[Pass],
) -> Result<Traced, PlaneError> {
    let mut traced = Traced {
        sides: Vec::new(),
        missing: Vec::new(),
        corners,
    };
    for edge in Edge::ALL {
        let i = edge as usize;
        let ends = (corners[i], corners[(i + 1) % 4]);
        let mut seen = Err(0.0);
        for pass in passes {
            if seen.is_err() {
                seen = side(look.channels, lens, edge, ends, (look.outline, pass));
            }
        }
        match seen {
            Ok(side) => traced.sides.push(side),
            Err(seen) => traced.missing.push((edge, seen)),
        }
    }
    refuse_two(
        &traced.missing,
        look.channels,
        &corners.map(|c| lens.distort(c)),
    )?;
    Ok(traced)
}

/// One side may be hidden; with two the sheet is not known. Says which, and whether the picture's
/// border is why.
pub(crate) fn refuse_two(
    missing: &[(Edge, f64)],
    channels: &Channels<'_>,
    corners: &[PointPx; 4],
) -> Result<(), PlaneError> {
    let [(edge, seen), _, ..] = missing else {
        return Ok(());
    };
    let cut = missing
        .iter()
        .find(|(edge, _)| cut(*edge, channels, corners));
    Err(match cut {
        Some((edge, _)) => PlaneError::EdgeCut { edge: *edge },
        None => PlaneError::EdgeNotFound {
            edge: *edge,
            percent_seen: 100.0 * seen,
        },
    })
}

/// Whether a side between two corners (px of the photograph) lies along the border or beyond it.
fn cut(edge: Edge, channels: &Channels<'_>, corners: &[PointPx; 4]) -> bool {
    let (w, h) = (channels.width() as f64, channels.height() as f64);
    let margin = CUT * w.max(h);
    let i = edge as usize;
    let (a, b) = (corners[i], corners[(i + 1) % 4]);
    let outside = |p: PointPx| {
        p.x_px < margin || p.y_px < margin || p.x_px > w - margin || p.y_px > h - margin
    };
    let places = (1..8).map(|k| {
        let t = f64::from(k) / 8.0;
        PointPx::new(
            a.x_px + t * (b.x_px - a.x_px),
            a.y_px + t * (b.y_px - a.y_px),
        )
    });
    places.filter(|p| outside(*p)).count() >= CUT_PLACES
}

impl Traced {
    /// The filter that suits each side, px.
    fn sigmas(&self) -> [f64; 4] {
        Edge::ALL.map(|edge| {
            let seen = self.sides.iter().find(|s| s.edge == edge);
            seen.map_or(1.5, |s| s.sigma_px)
        })
    }

    /// Corners where neighbouring sides meet; an unseen side keeps its old ends' line.
    fn meets(&self) -> [PointPx; 4] {
        let line = |i: usize| {
            let i = i % 4;
            let seen = self.sides.iter().find(|s| s.edge as usize == i);
            seen.map(|s| s.line)
                .or_else(|| Line::between(self.corners[i], self.corners[(i + 1) % 4]))
        };
        std::array::from_fn(|i| {
            line(i + 3)
                .zip(line(i))
                .and_then(|(before, after)| before.meet(&after))
                .unwrap_or(self.corners[i])
        })
    }
}
