//! Suggestions of holes on the whole plane, each looked at by a snap before it is shown.

use super::measured::Proposal;
use super::on_plane::OnPlane;
use crate::frame::PointMm;
use crate::impact::{self, Candidate, Hole, NotSnapped};
use crate::photo::Photo;
use crate::plane::{Plane, Source, rectify};

/// Holes are looked for at this step, mm.
const STEP_MM: f64 = 1.0 / 3.0;
/// A candidate's centre is known to about this, mm.
const REACH_MM: f64 = 2.0;
/// Smaller than the hole of any but the thinnest shafts: pen dots, staples, strokes of digits. A
/// tap may still snap to less.
const LEAST_RADIUS_MM: f64 = 2.2;
/// A hole too ragged for a sure centre is suggested all the same where nearly every ray of the vote
/// saw it: on the rendered faces used to tune, what was no hole but ragged scored 0.95 and less.
const RAGGED_SCORE: f64 = 0.96;
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
        let Some(centre) = confirm(candidate, on_plane.hole_at(candidate.centre, REACH_MM)) else {
            continue;
        };
        let (x_mm, y_mm) = (centre.x_mm, centre.y_mm);
        let apart = |p: &Proposal| (p.x_mm - x_mm).hypot(p.y_mm - y_mm) > APART_MM;
        if kept.iter().all(apart) {
            kept.push(Proposal {
                x_mm,
                y_mm,
                score: candidate.score,
                px: plane.to_px(centre),
            });
        }
    }
    kept
}

/// Where the candidate's hole is, mm, after what the snap said; `None` when it is no arrow's.
fn confirm(candidate: Candidate, snapped: Result<Hole, NotSnapped>) -> Option<PointMm> {
    match snapped {
        Ok(hole) => (hole.radius_mm >= LEAST_RADIUS_MM).then_some(hole.centre),
        Err(NotSnapped::Ragged) if candidate.score >= RAGGED_SCORE => Some(candidate.centre),
        Err(_) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ragged_hole_is_suggested_only_where_the_vote_is_nearly_full() {
        let centre = PointMm::new(3.0, -4.0);
        let after = |score, reason| confirm(Candidate { centre, score }, Err(reason));
        assert_eq!(after(0.97, NotSnapped::Ragged), Some(centre));
        assert_eq!(after(0.95, NotSnapped::Ragged), None);
        assert_eq!(after(1.0, NotSnapped::ShaftStanding), None);
        assert_eq!(after(1.0, NotSnapped::RimHidden), None);
    }
}
