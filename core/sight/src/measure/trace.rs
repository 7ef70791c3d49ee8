//! What was found, as lines on the picture.

use super::measured::{Trace, TraceKind};
use super::request::{MeasuredLength, Reference};
use crate::frame::{PointMm, PointPx};
use crate::impact::{Hole, Standing};
use crate::plane::{Edge, Plane, PlaneWarning, ReferenceKind};
use crate::tear::Tear;

/// Points per side of a sheet: enough for a bent lens to show.
const PER_SIDE: usize = 16;
const PER_CIRCLE: usize = 96;
const PER_HOLE: usize = 32;

/// The outline of the reference.
pub(super) fn of_reference(plane: &Plane, reference: &Reference) -> Vec<Trace> {
    match (plane.reference, reference) {
        (
            ReferenceKind::Sheet {
                width_mm,
                height_mm,
            }
            | ReferenceKind::Marks {
                width_mm,
                height_mm,
            },
            _,
        ) => {
            let (x, y) = (width_mm / 2.0, height_mm / 2.0);
            let mut traces = outline(plane, x, y);
            traces.extend(left_out(plane, x, y));
            traces
        }
        (ReferenceKind::Rings { .. }, _) => {
            let ring = |r: &f64| circle(plane, TraceKind::Ring, PointMm::default(), *r);
            plane.rings_mm.iter().map(ring).collect()
        }
        (_, Reference::Points { a_px, b_px, .. }) => vec![length(*a_px, *b_px)],
        _ => Vec::new(),
    }
}

fn outline(plane: &Plane, x: f64, y: f64) -> Vec<Trace> {
    let corners = [(-x, y), (x, y), (x, -y), (-x, -y), (-x, y)].map(|(x, y)| PointMm::new(x, y));
    let side = |pair: &[PointMm]| match pair {
        [from, to] => Some(Trace {
            kind: TraceKind::Edge,
            px: (0..=PER_SIDE)
                .map(|k| {
                    let t = k as f64 / PER_SIDE as f64;
                    let along = *to - *from;
                    plane.to_px(*from + PointMm::new(along.x_mm * t, along.y_mm * t))
                })
                .collect(),
        }),
        _ => None,
    };
    corners.windows(2).filter_map(side).collect()
}

/// Stretches of the outline that rest on nothing seen, drawn apart.
fn left_out(plane: &Plane, x: f64, y: f64) -> Vec<Trace> {
    let corners = [(-x, y), (x, y), (x, -y), (-x, -y)].map(|(x, y)| PointMm::new(x, y));
    let stretch = |edge: Edge, from: f64, to: f64| {
        let (a, b) = (corners[edge as usize], corners[(edge as usize + 1) % 4]);
        let at = |k: usize| {
            let t = from + (to - from) * k as f64 / PER_SIDE as f64;
            let along = b - a;
            plane.to_px(a + PointMm::new(along.x_mm * t, along.y_mm * t))
        };
        Trace {
            kind: TraceKind::EdgeLeftOut,
            px: (0..=PER_SIDE).map(at).collect(),
        }
    };
    let said = plane.warnings.iter().filter_map(|warning| match *warning {
        PlaneWarning::EdgeLeftOut { edge } => Some(stretch(edge, 0.0, 1.0)),
        PlaneWarning::StretchLeftOut { edge, from, to } => Some(stretch(edge, from, to)),
        _ => None,
    });
    said.collect()
}

fn circle(plane: &Plane, kind: TraceKind, centre: PointMm, radius_mm: f64) -> Trace {
    let count = match kind {
        TraceKind::Hole | TraceKind::Wound => PER_HOLE,
        _ => PER_CIRCLE,
    };
    let at = |k: usize| {
        let (sin, cos) = (std::f64::consts::TAU * k as f64 / count as f64).sin_cos();
        plane.to_px(centre + PointMm::new(radius_mm * cos, radius_mm * sin))
    };
    Trace {
        kind,
        px: (0..=count).map(at).collect(),
    }
}

fn length(a: PointPx, b: PointPx) -> Trace {
    Trace {
        kind: TraceKind::Length,
        px: vec![a, b],
    }
}

/// The length read off a rule.
pub(super) fn of_length(measured: &MeasuredLength) -> Trace {
    length(measured.a_px, measured.b_px)
}

/// The rim of a hole, or the extent of a wound.
pub(super) fn of_hole(plane: &Plane, hole: &Hole) -> Trace {
    let kind = if hole.crisp {
        TraceKind::Hole
    } else {
        TraceKind::Wound
    };
    circle(plane, kind, hole.centre, hole.radius_mm)
}

/// The outline of a standing arrow.
pub(super) fn of_standing(plane: &Plane, arrow: &Standing) -> Trace {
    let along = arrow.to - arrow.from;
    let by = arrow.half_mm / along.norm_mm().max(1e-9);
    let aside = PointMm::new(-along.y_mm * by, along.x_mm * by);
    let corners = [
        arrow.from + aside,
        arrow.to + aside,
        arrow.to - aside,
        arrow.from - aside,
        arrow.from + aside,
    ];
    Trace {
        kind: TraceKind::Standing,
        px: corners.map(|corner| plane.to_px(corner)).to_vec(),
    }
}

/// A tear and its slits.
pub(super) fn of_tear(plane: &Plane, tear: &Tear) -> Vec<Trace> {
    let line = |kind, from, to| Trace {
        kind,
        px: vec![plane.to_px(from), plane.to_px(to)],
    };
    let slits = tear
        .slits
        .iter()
        .map(|s| line(TraceKind::Slit, s.from, s.to));
    slits
        .chain(std::iter::once(line(
            TraceKind::Tear,
            tear.point,
            tear.nock,
        )))
        .collect()
}
