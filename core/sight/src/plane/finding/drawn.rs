//! Lines drawn on a sheet, told from its sides: beyond a drawn line the paper goes on.

use crate::plane::polygon::encloses;

use super::patches::Small;
use super::quads::Quad;
use crate::frame::PointPx;
use crate::stats::median;

/// How far to either side of a line is looked, working px: beyond the width of a frame's line, short of a
/// frame's distance from the paper's edge. Chosen by hand; not tuned.
const BESIDE_PX: f64 = 4.0;
/// Places looked at along a side.
const PLACES: usize = 40;
/// Levels by which one paper differs from itself so near. Chosen by hand; not tuned.
const ONE_PAPER: f64 = 6.0;
/// With more sides drawn than this a figure is a frame or made by joints of a floor. One side of a sheet may lie
/// on its like.
pub(crate) const MOST_DRAWN: usize = 1;

/// Figures without frames printed on a sheet: of two, one within the other, that of which fewer sides are drawn.
pub(crate) fn without_frames(quads: Vec<Quad>, planes: &[Small]) -> Vec<Quad> {
    let drawn = |quad: &Quad| drawn_sides(planes, &quad.corners);
    let marked: Vec<(Quad, usize)> = quads.into_iter().map(|quad| (quad, drawn(&quad))).collect();
    let stays = |(inner, drawn): &&(Quad, usize)| {
        let around = |(outer, other): &(Quad, usize)| {
            other < drawn && encloses(&outer.corners, &inner.corners)
        };
        *drawn <= MOST_DRAWN && !marked.iter().any(around)
    };
    marked.iter().filter(stays).map(|(quad, _)| *quad).collect()
}

/// How many sides have the same paper on both sides.
pub(crate) fn drawn_sides(planes: &[Small], corners: &[PointPx; 4]) -> usize {
    let sides = (0..4).map(|i| (corners[i], corners[(i + 1) % 4]));
    sides.filter(|(a, b)| is_drawn(planes, *a, *b)).count()
}

/// Whether one side has the same paper on both sides.
pub(crate) fn is_drawn(planes: &[Small], a: PointPx, b: PointPx) -> bool {
    let length = a.distance_px(b).max(1.0);
    let across = ((a.y_px - b.y_px) / length, (b.x_px - a.x_px) / length);
    let alike = |plane: &Small| {
        let differences = (0..PLACES).filter_map(|i| {
            // Without the corners, which may be round or folded.
            let t = 0.1 + 0.8 * (i as f64 + 0.5) / PLACES as f64;
            let at = |side: f64| {
                let off = side * BESIDE_PX;
                let x = a.x_px + t * (b.x_px - a.x_px) + off * across.0;
                let y = a.y_px + t * (b.y_px - a.y_px) + off * across.1;
                plane.at(x, y)
            };
            Some(at(1.0)? - at(-1.0)?)
        });
        median(differences.collect()).is_some_and(|d| d.abs() < ONE_PAPER)
    };
    planes.iter().all(alike)
}

#[cfg(test)]
mod tests {
    use super::*;

    const SIDE: usize = 300;

    fn rectangle(by: f64) -> [PointPx; 4] {
        let (a, b) = (60.0 + by, 240.0 - by);
        [(a, a), (b, a), (b, b), (a, b)].map(|(x, y)| PointPx::new(x, y))
    }

    fn quad(by: f64) -> Quad {
        Quad {
            corners: rectangle(by),
            clear: 0.8,
        }
    }

    /// Paper of level `paper` from 60 to 240, on ground of level `ground`, with a frame printed 15 px inside.
    fn framed(paper: u8, ground: u8) -> Vec<Small> {
        let level = |i: usize| {
            let (x, y) = (i % SIDE, i / SIDE);
            let depth = x.min(y).min(SIDE - x).min(SIDE - y);
            match depth {
                ..60 => ground,
                75 | 76 => 40,
                _ => paper,
            }
        };
        vec![Small {
            width: SIDE,
            height: SIDE,
            step: 4,
            values: (0..SIDE * SIDE).map(level).collect(),
        }]
    }

    #[test]
    fn a_printed_frame_is_no_sheet_within_one() {
        let kept = without_frames(vec![quad(15.5), quad(0.0)], &framed(230, 200));
        assert_eq!(kept, vec![quad(0.0)]);
    }

    #[test]
    fn a_sheet_on_a_mat_stays() {
        let both = vec![quad(15.5), quad(0.0)];
        let mat = |i: usize| {
            let (x, y) = (i % SIDE, i / SIDE);
            match x.min(y).min(SIDE - x).min(SIDE - y) {
                ..60 => 90,
                60..75 => 150,
                _ => 230,
            }
        };
        let values = (0..SIDE * SIDE).map(mat).collect();
        let planes = [Small {
            width: SIDE,
            height: SIDE,
            step: 4,
            values,
        }];
        assert_eq!(without_frames(both.clone(), &planes), both);
    }

    #[test]
    fn what_joints_enclose_is_no_sheet() {
        let kept = without_frames(vec![quad(15.5)], &framed(150, 150));
        assert!(kept.is_empty(), "{kept:?}");
    }

    /// A sheet beside its like has one side beyond which the paper goes on.
    #[test]
    fn one_side_may_lie_on_its_like() {
        let beside = |i: usize| {
            let (x, y) = (i % SIDE, i / SIDE);
            let paper = (60..240).contains(&y) && x >= 60;
            if paper { 230 } else { 90 }
        };
        let planes = [Small {
            width: SIDE,
            height: SIDE,
            step: 4,
            values: (0..SIDE * SIDE).map(beside).collect(),
        }];
        assert_eq!(without_frames(vec![quad(0.0)], &planes), vec![quad(0.0)]);
    }
}
