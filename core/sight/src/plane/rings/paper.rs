//! The lens from the edges of a face's own paper.
//!
//! Rings cannot tell the lens from their own radii; straight edges can, whatever the size of the
//! paper. Where at least three of its edges are in the picture, no other photograph is needed.

use crate::frame::{PointMm, PointPx};
use crate::photo::{Grey, View};
use crate::plane::channels::Channels;
use crate::plane::edges::outline::Outline;
use crate::plane::edges::refine::{Look, refine};
use crate::plane::edges::solve::Start;
use crate::plane::lens::{KnownLens, UNKNOWN_K1_SD};
use crate::plane::line::Line;
use crate::plane::rectify::{Window, rectify_averaged};
use crate::plane::sheets::gates::is_straight;
use crate::plane::{Edge, Plane};

/// Edges are looked for this far out, in radii of the outermost border: just beyond it, to well beyond
/// the white rings and the margin of any face. Chosen by hand; not tuned.
const REACH: (f64, f64) = (1.04, 1.75);
/// Resolution of the first look: px on the outermost radius. Thin dividing lines fade at it.
const RADIUS_PX: f64 = 120.0;
/// The lines of the first look are looked for along this share of the outermost diameter.
const ALONG: f64 = 0.8;
/// What counts as one line in the first look, px of it. Chosen by hand; `tests/photo-table` measures
/// what passes.
const TOLERANCE_PX: f64 = 2.5;
/// Share of a side that must lie on it. Chosen by hand; `tests/photo-table` measures what passes.
const LEAST_SEEN: f64 = 0.5;
/// Grey levels between paper and what is behind it, at least. Chosen by hand; `tests/photo-table`
/// measures what passes.
const LEAST_STEP: i32 = 12;
/// Paper is cut straight and hangs flat to a few tenths of a millimetre at best; that much bow
/// shifts the coefficient by about this.
const PAPER_K1_SD: f64 = 0.0015;

/// What the edges of the paper around a face say of the lens, joined with what was `known`;
/// `plane` is the face as fitted with the known lens. `None` where fewer than three edges are seen,
/// or where they are bowed or unclear.
pub(crate) fn lens(
    view: &View<'_>,
    plane: &Plane,
    outermost_mm: f64,
    known: KnownLens,
) -> Option<KnownLens> {
    let step_mm = outermost_mm / RADIUS_PX;
    let side_mm = 2.0 * REACH.1 * outermost_mm;
    let window = Window::around(PointMm::default(), side_mm, side_mm, step_mm);
    let corners = corners(&rectify_averaged(view, plane, &window))?;
    let taps = corners.map(|corner| plane.to_px(window.to_mm(corner)));
    let start = Start {
        taps,
        tap_sd_px: 1.5 * step_mm * plane.px_per_mm(PointMm::default()),
        lens: known.lens,
        k1_sd: UNKNOWN_K1_SD,
        proportions: None,
    };
    let look = Look {
        channels: &Channels::one(*view),
        outline: &Outline::SHEET,
        waves_px: 0.0,
        narrow_px: f64::INFINITY,
    };
    let flat = taps.map(|t| known.lens.undistort(t));
    let (solved, traced) = refine(&look, &start, flat).ok()?;
    is_straight(&solved, &traced.sides).then(|| known.and(solved.lens.k1, PAPER_K1_SD))
}

/// Corners of the paper in the straight-on picture, top left first, clockwise; `None` with fewer
/// than three sides. A side out of the picture is put at the far end of the search.
fn corners(straight: &Grey) -> Option<[PointPx; 4]> {
    let lines = Edge::ALL.map(|edge| line(straight, edge));
    if lines.iter().flatten().count() < 3 {
        return None;
    }
    let far = REACH.1 * RADIUS_PX;
    let line = |i: usize| {
        let edge = Edge::ALL[i % 4];
        let ends = (
            place(straight, edge, far, -far),
            place(straight, edge, far, far),
        );
        lines[i % 4].or_else(|| Line::between(ends.0, ends.1))
    };
    let corner = |i: usize| line(i + 3)?.meet(&line(i)?);
    let [a, b, c, d] = [0, 1, 2, 3].map(corner);
    Some([a?, b?, c?, d?])
}

/// A place `out` px from the middle towards a side and `along` px clockwise beside it.
fn place(straight: &Grey, edge: Edge, out: f64, along: f64) -> PointPx {
    let (x, y) = match edge {
        Edge::Top => (along, -out),
        Edge::Right => (out, along),
        Edge::Bottom => (-along, out),
        Edge::Left => (-out, -along),
    };
    let middle = |n: usize| (n as f64 - 1.0) / 2.0;
    PointPx::new(middle(straight.width) + x, middle(straight.height) + y)
}

/// The line of the strongest edges outside the rings on one side.
fn line(straight: &Grey, edge: Edge) -> Option<Line> {
    let half = (ALONG * RADIUS_PX) as i32;
    let points: Vec<PointPx> = (-half..=half)
        .step_by(2)
        .filter_map(|along| {
            let out = strongest(straight, edge, f64::from(along))?;
            Some(place(straight, edge, out, f64::from(along)))
        })
        .collect();
    let (line, near) = Line::robust(&points, TOLERANCE_PX)?;
    let seen = near.iter().filter(|near| **near).count();
    (seen as f64 >= LEAST_SEEN * f64::from(half)).then_some(line)
}

/// Where brightness steps most on the way out; `None` where all is even.
fn strongest(straight: &Grey, edge: Edge, along: f64) -> Option<f64> {
    let view = straight.view();
    let (from, to) = (REACH.0 * RADIUS_PX, REACH.1 * RADIUS_PX - 4.0);
    let level = |out: f64| {
        let p = place(straight, edge, out, along);
        i32::from(view.at(p.x_px.max(0.0) as usize, p.y_px.max(0.0) as usize))
    };
    let step = |out: f64| {
        let side =
            |sign: f64| -> i32 { [1.0, 2.0, 3.0].iter().map(|d| level(out + sign * d)).sum() };
        (side(1.0) - side(-1.0)).abs()
    };
    let places = (0..(to - from) as u32).map(|k| from + f64::from(k));
    let best = places.max_by_key(|out| step(*out))?;
    (step(best) > 3 * LEAST_STEP).then_some(best)
}
