//! Suggestions of holes on the whole plane, each confirmed by a snap before it is shown.

use super::measured::Proposal;
use super::on_plane::OnPlane;
use crate::impact;
use crate::photo::Photo;
use crate::plane::{Plane, Source, rectify};

/// Holes are looked for at this step, mm.
const STEP_MM: f64 = 1.0 / 3.0;
/// A candidate's centre is known to about this, mm.
const REACH_MM: f64 = 2.0;
/// Smaller than the hole of any but the thinnest shafts: pen dots, staples, strokes of digits. A
/// tap may still snap to less.
const LEAST_RADIUS_MM: f64 = 2.2;
/// Two suggestions nearer than this are one hole, mm.
const APART_MM: f64 = 3.0;

/// Where holes may be, best first.
pub(super) fn holes(photo: &Photo, plane: &Plane) -> Vec<Proposal> {
    let on_plane = OnPlane::new(photo, plane);
    let window = on_plane.region().window(STEP_MM);
    let half = photo.half_brightest();
    let straight = rectify(&Source::halved(half.grey(), 1), plane, &window);
    let candidates = impact::propose(
        &straight.data,
        straight.width,
        window.mm_per_px,
        window.top_left,
        on_plane.rings_centre(),
    );
    let mut kept: Vec<Proposal> = Vec::new();
    for candidate in candidates {
        let Ok(hole) = on_plane.hole_at(candidate.centre, REACH_MM) else {
            continue;
        };
        let (x_mm, y_mm) = (hole.centre.x_mm, hole.centre.y_mm);
        let apart = |p: &Proposal| (p.x_mm - x_mm).hypot(p.y_mm - y_mm) > APART_MM;
        if hole.radius_mm >= LEAST_RADIUS_MM && kept.iter().all(apart) {
            kept.push(Proposal {
                x_mm,
                y_mm,
                score: candidate.score,
                px: plane.to_px(hole.centre),
            });
        }
    }
    kept
}
