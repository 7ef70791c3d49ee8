//! Stretches of a side that do not follow it.

use crate::plane::PlaneWarning;

use super::solve::Solved;
use super::trace::Side;

/// A gap between edge points shorter than this share of the side is not worth a word. Chosen by hand;
/// not tuned.
const LEAST: f64 = 0.15;
/// The whole side is probed between these shares of it.
pub(crate) const PROBED: (f64, f64) = (0.07, 0.93);

/// The longest stretch of each side in which no edge point lies on it, where it is long.
pub(crate) fn left_out(solved: &Solved, sides: &[Side]) -> Vec<PlaneWarning> {
    let warning = |side: &Side| {
        let (from, to) = longest_gap(solved, side)?;
        Some(PlaneWarning::StretchLeftOut {
            edge: side.edge,
            from,
            to,
        })
    };
    sides.iter().filter_map(warning).collect()
}

/// The longest stretch of a side in which no edge point lies on it, where it is long.
pub(crate) fn longest_gap(solved: &Solved, side: &Side) -> Option<(f64, f64)> {
    let mut along: Vec<f64> = solved.residuals(side).iter().map(|(t, _)| *t).collect();
    along.extend([PROBED.0, PROBED.1]);
    along.sort_by(f64::total_cmp);
    let gaps = along.windows(2).map(|w| (w[0], w[1]));
    gaps.max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))
        .filter(|(from, to)| to - from > LEAST)
}
