//! What was found, as lines on the picture.

use super::measured::{Trace, TraceKind};
use super::request::{MeasuredLength, Reference};
use crate::frame::{PointMm, PointPx};
use crate::impact::Hole;
use crate::plane::{Face, Plane, ReferenceKind};
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
        ) => outline(plane, width_mm / 2.0, height_mm / 2.0),
        (ReferenceKind::Rings { edge_mm, .. }, Reference::Rings { face, radii_mm, .. }) => {
            let own = radii_mm.clone().filter(|own| !own.is_empty());
            let published = || Face::published(face).map(|face| face.radii_mm);
            let radii = own.or_else(published).unwrap_or_else(|| vec![edge_mm]);
            let ring = |r: f64| circle(plane, TraceKind::Ring, PointMm::default(), r);
            radii.into_iter().map(ring).collect()
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
