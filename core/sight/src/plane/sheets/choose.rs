//! Which of the lines near each tapped side are the sheet's.

use crate::plane::edges::candidates::Candidate;
use crate::plane::line::Line;
use crate::plane::{Lens, Sheet};

use super::gates::ShapeTest;
use crate::frame::PointPx;
use crate::stats::median;

/// A tapped side that shows no edge counts this much, as a line that is clearly seen counts one. Chosen
/// by hand, looking at the photographs of `tests/real-table`.
const UNSEEN: f64 = 0.12;
/// At most this much may the sheet's proportions weigh: they break ties, so that a sheet of another
/// size is never made to fit by taking other lines. Chosen by hand, looking at the photographs of
/// `tests/real-table`.
const SHAPE_WEIGHT: f64 = 0.15;
/// A better placed line is taken when it is at least this clear beside the best. Chosen by hand,
/// looking at the photographs of `tests/real-table`.
const RIVAL_SHARE: f64 = 0.75;
/// Levels between what lies inside of one side and inside of the others that make it another thing.
/// Chosen by hand, looking at the photographs of `tests/real-table`.
const UNLIKE_LEVELS: f64 = 120.0;
/// What that costs. Chosen by hand, looking at the photographs of `tests/real-table`.
const UNLIKE_WEIGHT: f64 = 0.2;
/// A card's own thickness and the shadow at the edge of paper lie this near to the edge outside of it,
/// mm: of rivals nearer to each other than that the inner one is the edge. A card is .76 mm thick, and
/// its rim stands out by so much at 55 degrees.
const RIM_MM: f64 = 1.1;
/// How far a side is from its tap by this many standard deviations costs one. Chosen by hand; not
/// tuned.
const TAP_SDS: f64 = 4.0;

/// One candidate per side by index, or none.
type Picked = [Option<usize>; 4];

/// The lines near each side, and by what they are judged.
pub(crate) struct Choice<'a> {
    pub(crate) sheet: &'a Sheet,
    pub(crate) sides: &'a [Vec<Candidate>; 4],
    /// Corner taps, undistorted px.
    pub(crate) taps: &'a [PointPx; 4],
    pub(crate) tap_sd_px: f64,
    pub(crate) shape: &'a ShapeTest,
    pub(crate) lens: &'a Lens,
}

impl Choice<'_> {
    /// Corners (undistorted px), and how clear they are in all, of the clearest four lines that agree with each other,
    /// and of rivals on one side the outermost: print and frames lie inside a card, its outline does not.
    pub(crate) fn clearest(&self) -> Option<([PointPx; 4], f64)> {
        let (mut picked, mut best) = self.best()?;
        for side in 0..4 {
            // Twice is enough: to the outermost, and back inside of its rim.
            for _ in 0..2 {
                if let Some((other, score)) = self.rival(&picked, best, side) {
                    picked = other;
                    best = score;
                }
            }
        }
        Some((self.corners(&picked)?, best))
    }

    /// Corners (undistorted px) where any four of the lines meet, the clearest that agree with each other first.
    pub(crate) fn every(&self) -> Vec<[PointPx; 4]> {
        let mut all: Vec<([PointPx; 4], f64)> = Vec::new();
        self.each(|picked| all.extend(self.corners(&picked).zip(self.score(&picked))));
        all.sort_by(|a, b| b.1.total_cmp(&a.1));
        all.into_iter().map(|(corners, _)| corners).collect()
    }

    fn best(&self) -> Option<(Picked, f64)> {
        let mut best: Option<(Picked, f64)> = None;
        self.each(|picked| {
            if let Some(score) = self.score(&picked)
                && best.is_none_or(|(_, b)| score > b)
            {
                best = Some((picked, score));
            }
        });
        best
    }

    /// Every combination with at most one side unseen; a side is taken as unseen only where it
    /// shows no line.
    fn each(&self, mut visit: impl FnMut(Picked)) {
        let options = |side: usize| -> Vec<Option<usize>> {
            let count = self.sides[side].len();
            if count == 0 {
                vec![None]
            } else {
                (0..count).map(Some).collect()
            }
        };
        let [a, b, c, d] = [0, 1, 2, 3].map(options);
        for i in &a {
            for j in &b {
                for k in &c {
                    for l in &d {
                        visit([*i, *j, *k, *l]);
                    }
                }
            }
        }
    }

    fn lines(&self, picked: &Picked) -> [Option<Candidate>; 4] {
        std::array::from_fn(|i| picked[i].and_then(|k| self.sides[i].get(k).copied()))
    }

    fn corners(&self, picked: &Picked) -> Option<[PointPx; 4]> {
        let lines = self.lines(picked);
        let line = |i: usize| {
            let i = i % 4;
            let ends = lines[i].map_or((self.taps[i], self.taps[(i + 1) % 4]), |c| c.ends);
            Line::between(ends.0, ends.1)
        };
        let mut corners = [PointPx::default(); 4];
        for (i, corner) in corners.iter_mut().enumerate() {
            *corner = line(i + 3)?.meet(&line(i)?)?;
        }
        Some(corners)
    }

    fn score(&self, picked: &Picked) -> Option<f64> {
        let corners = self.corners(picked)?;
        let clear = self.lines(picked).map(|l| l.map_or(UNSEEN, |l| l.clear));
        let off = corners.iter().zip(self.taps).map(|(c, t)| {
            let sds = c.distance_px(*t) / (TAP_SDS * self.tap_sd_px);
            0.1 * sds * sds
        });
        let alike = self.unlike(picked);
        Some(clear.iter().sum::<f64>() - off.sum::<f64>() - alike - self.misfit(&corners)?)
    }

    /// What lies inside of the four lines is one sheet: a side beyond which all is of another shade
    /// than beyond the other three costs up to [`UNLIKE_WEIGHT`].
    fn unlike(&self, picked: &Picked) -> f64 {
        let inside: Vec<[f64; 3]> = self
            .lines(picked)
            .iter()
            .flatten()
            .map(|l| l.inside)
            .collect();
        let middle: [f64; 3] = std::array::from_fn(|c| {
            median(inside.iter().map(|levels| levels[c]).collect()).unwrap_or(0.0)
        });
        let apart = |levels: &[f64; 3]| {
            let gaps = levels.iter().zip(middle).map(|(a, b)| (a - b).abs());
            (gaps.fold(0.0, f64::max) / UNLIKE_LEVELS).min(1.0)
        };
        UNLIKE_WEIGHT * inside.iter().map(apart).sum::<f64>()
    }

    fn misfit(&self, corners: &[PointPx; 4]) -> Option<f64> {
        let homography = self.sheet.homography(corners).ok()?;
        let sds = self.shape.misfit(&homography, self.lens);
        Some(SHAPE_WEIGHT * (sds * sds / 9.0).min(1.0))
    }

    /// The same with a better placed line on one side that is nearly as clear: one farther out, or
    /// one just inside of a rim.
    fn rival(&self, picked: &Picked, best: f64, side: usize) -> Option<(Picked, f64)> {
        let now = self.lines(picked)[side]?;
        let rim_px = RIM_MM * self.px_per_mm(&now, side);
        let placed = |c: &Candidate| {
            let inwards = c.inwards_px - now.inwards_px;
            inwards < -rim_px || (0.0 < inwards && inwards < rim_px)
        };
        let rivals = self.sides[side].iter().enumerate();
        let rivals = rivals.filter(|(_, c)| placed(c) && c.clear >= RIVAL_SHARE * now.clear);
        let swapped = rivals.filter_map(|(k, c)| {
            let mut other = *picked;
            other[side] = Some(k);
            let score = self.score(&other)?;
            // What is lost may only be what the line itself is less clear.
            let loss = now.clear - c.clear;
            (score >= best - loss.max(0.0) - 0.03).then_some((other, score))
        });
        swapped.max_by(|a, b| a.1.total_cmp(&b.1))
    }

    /// Scale along a side.
    fn px_per_mm(&self, line: &Candidate, side: usize) -> f64 {
        let length_mm = if side.is_multiple_of(2) {
            self.sheet.width_mm
        } else {
            self.sheet.height_mm
        };
        line.ends.0.distance_px(line.ends.1) / length_mm
    }
}
