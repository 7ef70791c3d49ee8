//! Arrow kinds, told apart by SHAPE first: fletched a filled dot, bare a ring, broadhead a triangle.

use super::{Anchor, Fill, LabelText, Role, Scene, SceneItem, ScenePoint, Shape, Stroke};
use crate::frame::ArrowKind;

/// The role of an arrow kind.
pub(super) fn role_of(kind: ArrowKind) -> Role {
    match kind {
        ArrowKind::Fletched => Role::Fletched,
        ArrowKind::Bare => Role::Bare,
        ArrowKind::Broadhead => Role::Broadhead,
    }
}

/// One impact of outer radius `r`, lifted off its ground by a halo; `faded` for what does not
/// count or lies in the past.
pub(super) fn mark(scene: &mut Scene, kind: ArrowKind, at: ScenePoint, r: f64, faded: bool) {
    let role = role_of(kind);
    let opacity = if faded { 0.35 } else { 1.0 };
    if !faded {
        scene.fill(halo(kind, at, r), Role::Card);
    }
    match kind {
        ArrowKind::Fletched => scene.tint(Shape::circle(at, r), role, opacity),
        ArrowKind::Broadhead => scene.tint(triangle(at, r), role, opacity),
        // A ring as a stroke would lose its opacity, so faded rings are thinner instead.
        ArrowKind::Bare => {
            let width = if faded { 0.25 * r } else { 0.5 * r };
            scene.stroke(Shape::circle(at, r - width / 2.0), role, width);
        }
    }
}

fn halo(kind: ArrowKind, at: ScenePoint, r: f64) -> Shape {
    match kind {
        ArrowKind::Broadhead => triangle(at, r * 1.45),
        _ => Shape::circle(at, r * 1.25),
    }
}

/// A triangle pointing up whose middle is `at`, as large to the eye as a dot of radius `r`.
fn triangle(at: ScenePoint, r: f64) -> Shape {
    let reach = r * 1.35;
    let corner = |angle_rad: f64| at.moved(reach * angle_rad.cos(), reach * angle_rad.sin());
    let third = std::f64::consts::TAU / 3.0;
    let up = -std::f64::consts::FRAC_PI_2;
    Shape::Polygon {
        points: vec![corner(up), corner(up + third), corner(up + 2.0 * third)],
    }
}

/// An arrow with a filled head from `from` to `to`; nothing when they are closer than the head.
pub(super) fn arrow(scene: &mut Scene, from: ScenePoint, to: ScenePoint, width: f64, role: Role) {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let length = dx.hypot(dy);
    let head = 4.5 * width;
    if length <= head {
        return;
    }
    let (ux, uy) = (dx / length, dy / length);
    let neck = to.moved(-ux * head, -uy * head);
    scene.stroke(Shape::line(from, neck), role, width);
    let points = vec![
        to,
        neck.moved(-uy * head * 0.55, ux * head * 0.55),
        neck.moved(uy * head * 0.55, -ux * head * 0.55),
    ];
    scene.fill(Shape::Polygon { points }, role);
}

/// One entry of a legend.
pub(super) enum LegendEntry {
    /// An arrow kind by its mark.
    Kind(ArrowKind),
    /// The tinted ellipse of a predicted place, or a tolerance circle, with its text.
    Area(Role, LabelText, bool),
}

/// Height of a legend of `count` entries, in letter heights.
pub(super) fn legend_height(count: usize) -> f64 {
    1.7 * count.div_ceil(LEGEND_COLUMNS) as f64 + 0.8
}

/// Entries side by side before a new row begins: long words of other languages need the room.
const LEGEND_COLUMNS: usize = 3;

/// Legend entries in rows of three, from the top left corner `corner` over `width`.
pub(super) fn legend(
    scene: &mut Scene,
    entries: Vec<LegendEntry>,
    corner: ScenePoint,
    width: f64,
    text: f64,
) {
    let pitch = width / LEGEND_COLUMNS as f64;
    for (index, entry) in entries.into_iter().enumerate() {
        let (row, column) = (index / LEGEND_COLUMNS, index % LEGEND_COLUMNS);
        let dx = pitch * column as f64 + text;
        let at = corner.moved(dx, text * (1.25 + 1.7 * row as f64));
        let (label, role) = match entry {
            LegendEntry::Kind(kind) => {
                mark(scene, kind, at, text * 0.36, false);
                (LabelText::Kind { kind }, role_of(kind))
            }
            LegendEntry::Area(role, label, filled) => {
                scene.items.push(area_sample(at, text * 0.42, role, filled));
                (label, role)
            }
        };
        let baseline = at.moved(text * 0.75, text * 0.34);
        scene.label(baseline, label, role, text, Anchor::Start);
    }
}

fn area_sample(at: ScenePoint, r: f64, role: Role, filled: bool) -> SceneItem {
    SceneItem {
        shape: Shape::circle(at, r),
        fill: filled.then_some(Fill {
            role,
            opacity: 0.25,
        }),
        stroke: Some(Stroke {
            role,
            width: r * 0.25,
            dashed: false,
        }),
    }
}

/// Where a number stands clear of the marks and numbers in `taken`: one of eight places `reach` away from
/// `centre`, the one with the most room, and the one on the right where several have enough.
pub(super) fn beside(centre: ScenePoint, reach: f64, taken: &[ScenePoint]) -> ScenePoint {
    const SIDES: u8 = 8;
    let enough = 1.5 * reach;
    let room = |place: ScenePoint| {
        let nearest = taken
            .iter()
            .map(|other| (other.x - place.x).hypot(other.y - place.y))
            .fold(f64::INFINITY, f64::min);
        nearest.min(enough)
    };
    let places = (0..SIDES).map(|side| {
        let (sin, cos) = (f64::from(side) * std::f64::consts::TAU / f64::from(SIDES)).sin_cos();
        centre.moved(reach * cos, reach * sin)
    });
    let better = |best: ScenePoint, place: ScenePoint| {
        if room(place) > room(best) + 1e-9 {
            place
        } else {
            best
        }
    };
    places.fold(centre.moved(reach, 0.0), better)
}
