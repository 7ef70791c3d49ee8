//! Suggestions of holes on the whole plane, each looked at more closely before it is shown.

use super::measured::{Proposal, Suggested};
use super::on_plane::{Aim, OnPlane};
use super::trace;
use crate::frame::PointMm;
use crate::impact::{self, Candidate, Hole, HoleTone, NotSnapped, Standing, Tones, ZoneNumbers};
use crate::photo::Photo;
use crate::plane::{Plane, Source, Window, rectify};

/// Holes are looked for at this step, mm.
const STEP_MM: f64 = 1.0 / 3.0;
/// How well a candidate's centre is known.
const AIM: Aim = Aim {
    search_mm: 2.0,
    tap_sd_mm: 1.0,
    shaft_mm: None,
};
/// Candidates nearer than this to one already looked at lead to the same place, mm.
const LOOKED_AT_MM: f64 = 1.5;
/// What stands nearer than this to an arrow already followed is that arrow, mm.
const SAME_ARROW_MM: f64 = 8.0;
/// Two suggestions nearer than this are one hole, mm.
const APART_MM: f64 = 3.0;
/// Something light nearer than this to a dark hole is its flap, mm.
const FLAP_MM: f64 = 6.5;

/// Where holes may be, best first, and arrows that still stand.
pub(super) fn look(photo: &Photo, plane: &Plane) -> Suggested {
    let on_plane = OnPlane::new(photo, plane);
    let mut looked_at: Vec<PointMm> = Vec::new();
    let mut found: Vec<Hole> = Vec::new();
    let mut standing: Vec<Standing> = Vec::new();
    let candidates = candidates(photo, plane, &on_plane);
    let seen = places(&candidates);
    let figures = figures(plane);
    for candidate in candidates {
        let near = |p: &PointMm| (*p - candidate.centre).norm_mm() < LOOKED_AT_MM;
        if looked_at.iter().any(near) {
            continue;
        }
        looked_at.push(candidate.centre);
        if figures.is_some_and(|figures| figures.holds(candidate.centre, &seen)) {
            continue;
        }
        match on_plane.hole_near(candidate.centre, AIM) {
            Ok(hole) => found.push(hole),
            Err(NotSnapped::ShaftStanding) => {
                let known = |s: &Standing| s.distance_mm(candidate.centre) < SAME_ARROW_MM;
                if !standing.iter().any(known) {
                    standing.extend(on_plane.standing_at(candidate.centre));
                }
            }
            Err(_) => {
                let figure = figures.is_some_and(|f| f.may_hold(candidate.centre, &seen));
                let torn = || on_plane.torn_in_black(candidate.centre, AIM);
                found.extend((!figure).then(torn).flatten());
            }
        }
    }
    let suggestion = |hole: Hole| Proposal {
        x_mm: hole.centre.x_mm,
        y_mm: hole.centre.y_mm,
        score: hole.score_share(),
        px: plane.to_px(hole.centre),
    };
    Suggested {
        holes: apart(found).into_iter().map(suggestion).collect(),
        standing: standing
            .iter()
            .map(|s| trace::of_standing(plane, s))
            .collect(),
    }
}

/// Where candidates are, each place once: what is seen in both channels is one thing.
fn places(candidates: &[Candidate]) -> Vec<PointMm> {
    let mut places: Vec<PointMm> = Vec::new();
    for at in candidates.iter().map(|c| c.centre) {
        if places.iter().all(|p| (*p - at).norm_mm() >= APART_MM) {
            places.push(at);
        }
    }
    places
}

/// Where the figures of a printed face may stand: one to a zone, of which up to two lie between two rings
/// that are seen.
fn figures(plane: &Plane) -> Option<ZoneNumbers> {
    let before = std::iter::once(0.0).chain(plane.rings_mm.iter().copied());
    let gaps = before
        .zip(&plane.rings_mm)
        .map(|(inner, outer)| outer - inner);
    let gap_mm = gaps.max_by(f64::total_cmp)?;
    Some(ZoneNumbers {
        middle: PointMm::default(),
        spacing_mm: gap_mm / 2.0,
    })
}

/// Round things, best first. In the brightest channel colours turn light, and dark holes and
/// daylight stand out of any of them; in the dimmest a coloured backstop behind white paper does.
fn candidates(photo: &Photo, plane: &Plane, on_plane: &OnPlane<'_>) -> Vec<Candidate> {
    let window = on_plane.region().window(STEP_MM);
    let rings = on_plane.rings_centre();
    let look = |half: &Photo| {
        let straight = rectify(&Source::halved(half.grey(), 1), plane, &window);
        let Window {
            mm_per_px,
            top_left,
            ..
        } = window;
        let (data, width) = (&straight.data, straight.width);
        impact::propose(data, width, mm_per_px, top_left, rings, Tones::Both)
    };
    let half = photo.halved();
    let mut candidates = look(&half.brightest());
    if photo.has_colour() {
        candidates.extend(look(&half.dimmest()));
    }
    candidates.sort_by(|a, b| b.score.total_cmp(&a.score));
    candidates
}

/// One suggestion a hole, best first; what is light beside a dark hole is its flap.
fn apart(mut holes: Vec<Hole>) -> Vec<Hole> {
    let light = |hole: &Hole| hole.tone == HoleTone::Light;
    holes.sort_by(|a, b| light(a).cmp(&light(b)).then(b.score.total_cmp(&a.score)));
    let mut kept: Vec<Hole> = Vec::new();
    for hole in holes {
        let same = |other: &Hole| {
            let one_tone = light(&hole) == light(other);
            let least_mm = if one_tone { APART_MM } else { FLAP_MM };
            (hole.centre - other.centre).norm_mm() < least_mm
        };
        if !kept.iter().any(same) {
            kept.push(hole);
        }
    }
    kept.sort_by(|a, b| b.score.total_cmp(&a.score));
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hole(x_mm: f64, tone: HoleTone, score: f64) -> Hole {
        Hole {
            centre: PointMm::new(x_mm, 0.0),
            radius_mm: 3.0,
            sd_mm: 0.3,
            tone,
            crisp: false,
            score,
        }
    }

    #[test]
    fn the_flap_of_a_dark_hole_is_not_suggested_beside_it_and_a_hole_that_touches_it_is() {
        use HoleTone::{Dark, Light};
        let found = [
            hole(4.0, Light, 30.0),
            hole(0.0, Dark, 20.0),
            hole(5.0, Dark, 18.0),
        ];
        let kept = apart(found.to_vec());
        assert_eq!(kept, [hole(0.0, Dark, 20.0), hole(5.0, Dark, 18.0)]);
        let lit = [
            hole(4.0, Light, 30.0),
            hole(0.0, Light, 20.0),
            hole(1.0, Light, 25.0),
        ];
        assert_eq!(
            apart(lit.to_vec()),
            [hole(4.0, Light, 30.0), hole(1.0, Light, 25.0)]
        );
    }
}
