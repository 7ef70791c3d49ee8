//! Suggestions of where holes are, from one straight-on picture of the plane.
//!
//! Suggestions only: printed digits and pin heads look like holes too, so a person confirms each.

use super::polar;
use super::relief::Relief;
use super::vote::{RingVote, Tones};
use crate::frame::PointMm;
use crate::photo::{Orientation, View, half};

/// Radii that are voted for, mm: holes of shafts from 4.4 to 9.2 mm.
const RADII_MM: [f64; 5] = [2.2, 2.8, 3.4, 4.0, 4.6];
const RAYS: usize = 24;
const GAP_MM: f64 = 0.8;
/// Two suggestions are never nearer than this, mm. Two shafts of 4 mm cannot stand nearer.
const APART_MM: f64 = 4.0;
/// On the rendered faces used to tune, holes scored 0.68 and more, what was none 0.63 and less
/// (printed digits and what is too small apart). Higher costs recall.
const LEAST_SCORE: f64 = 0.65;
/// A picture that lights up everywhere is no face with holes; the list stops here. Chosen by hand; not
/// tuned.
const MOST: usize = 200;

/// A place that may be a hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Candidate {
    /// Centre on the plane, mm, to about half a millimetre.
    pub centre: PointMm,
    /// The vote, 0..=1.
    pub score: f64,
}

/// Looks for holes in a straight-on picture of `width` bytes a row, one every `step_mm`, whose
/// first pixel lies at `top_left`; `rings` is the centre of printed rings, if there are any.
///
/// Works at half the resolution given: 0.3 to 0.4 mm is a good step. Best score first. Empty for a
/// picture too small to hold a hole.
pub fn propose(
    grey: &[u8],
    width: usize,
    step_mm: f64,
    top_left: PointMm,
    rings: Option<PointMm>,
    tones: Tones,
) -> Vec<Candidate> {
    let usable = step_mm.is_finite() && step_mm > 0.0 && top_left.is_finite();
    if !usable || width < 16 || grey.len() < 2 * width {
        return Vec::new();
    }
    let whole = View::new(grey, width, grey.len() / width, 1, 0, Orientation::Upright);
    let half = half(&whole);
    let step_mm = 2.0 * step_mm;
    let first = top_left + PointMm::new(step_mm / 4.0, -step_mm / 4.0);
    let values = match rings {
        Some(centre) => {
            let cx = (centre.x_mm - first.x_mm) / step_mm;
            let cy = (first.y_mm - centre.y_mm) / step_mm;
            polar::without_rings(&half.data, half.width, (cx as f32, cy as f32))
        }
        None => half.data.iter().map(|&v| i16::from(v)).collect(),
    };
    Relief::from_values(half.width, half.height, step_mm, first, values)
        .map_or_else(Vec::new, |relief| peaks(&relief, tones))
}

/// All places whose vote is the largest within [`APART_MM`].
fn peaks(relief: &Relief, tones: Tones) -> Vec<Candidate> {
    let vote = RingVote::new(relief, RADII_MM.to_vec(), RAYS, GAP_MM);
    let margin = vote.margin();
    let Some(columns) = relief.width().checked_sub(2 * margin).filter(|&c| c > 0) else {
        return Vec::new();
    };
    let mut votes = vec![0; columns];
    let least = (LEAST_SCORE * vote.full()) as i16;
    let mut found = Vec::new();
    for row in margin..relief.height().saturating_sub(margin) {
        vote.strong_row(relief, row, margin, least, tones, &mut votes);
        let strong = votes.iter().enumerate().filter(|(_, v)| **v > least);
        found.extend(strong.map(|(k, &v)| Candidate {
            centre: relief.place((k + margin) as f64, row as f64),
            score: f64::from(v) / vote.full(),
        }));
    }
    keep_apart(found)
}

fn keep_apart(mut found: Vec<Candidate>) -> Vec<Candidate> {
    found.sort_by(|a, b| b.score.total_cmp(&a.score));
    let mut kept: Vec<Candidate> = Vec::new();
    for candidate in found {
        let near = |k: &Candidate| (k.centre - candidate.centre).norm_mm() < APART_MM;
        if kept.len() < MOST && !kept.iter().any(near) {
            kept.push(candidate);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    const HOLES: [(f64, f64); 4] = [(0.0, 0.0), (30.0, 12.0), (-25.0, 40.0), (44.0, -51.0)];

    /// A face of 160 x 160 mm at 3 px per mm with rings every 20 mm and four holes.
    fn face() -> (Vec<u8>, usize) {
        let width = 480;
        let grey = (0..width * width).map(|i| {
            let x = (i % width) as f64 / 3.0 - 80.0;
            let y = 80.0 - (i / width) as f64 / 3.0;
            let hole = HOLES.iter().any(|h| (x - h.0).hypot(y - h.1) < 3.0);
            let ring = (x.hypot(y) / 20.0) as usize;
            if hole {
                15
            } else {
                [230, 225, 200, 195, 120, 110][ring.min(5)]
            }
        });
        (grey.collect(), width)
    }

    #[test]
    fn finds_the_holes_and_nothing_else() {
        let (grey, width) = face();
        let corner = PointMm::new(-80.0, 80.0);
        let found = propose(
            &grey,
            width,
            1.0 / 3.0,
            corner,
            Some(PointMm::default()),
            Tones::Dark,
        );
        assert_eq!(found.len(), HOLES.len());
        for hole in HOLES {
            let away = |c: &Candidate| (c.centre - PointMm::new(hole.0, hole.1)).norm_mm();
            assert!(found.iter().any(|c| away(c) < 0.8), "{hole:?}");
        }
    }

    #[test]
    fn a_tiny_or_shapeless_picture_proposes_nothing() {
        let corner = PointMm::default();
        assert!(propose(&[7; 100], 10, 0.3, corner, None, Tones::Dark).is_empty());
        assert!(propose(&[], 0, 0.3, corner, None, Tones::Dark).is_empty());
        assert!(propose(&face().0, 480, f64::NAN, corner, None, Tones::Dark).is_empty());
    }
}
