//! Where a figure's sides end: a sheet's sides end at its corners. Where two of them go straight on beyond a
//! side that has the same paper on both sides, that side is a line on the sheet, and the sheet is larger.

use crate::plane::edges::segments::Gradient;
use crate::plane::polygon::{is_within, lengthened};

use super::drawn::is_drawn;
use super::patches::Small;
use crate::frame::PointPx;

/// Beyond a corner a side is looked for along this share of its length: frames are printed closer to the paper's edge
/// than most would think.
const BEYOND: f64 = 0.03;
/// ... but along so many working px at least: so short a stretch runs along anything.
const LEAST_PX: f64 = 6.0;
/// Between the corner and there, working px.
const GAP_PX: f64 = 2.0;
/// A side goes on if an edge runs along this share of that. Chosen by hand; not tuned.
const LEAST_SEEN: f64 = 0.8;

/// Whether the sheet goes on beyond one of the sides.
pub(crate) fn goes_on(planes: &[Small], gradient: &Gradient, corners: &[PointPx; 4]) -> bool {
    (0..4).any(|i| {
        let [a, b, c, d] = [0, 1, 2, 3].map(|k| corners[(i + k) % 4]);
        // The side from b to c, and those that lead to its ends.
        let beside = || [runs_on(gradient, a, b), runs_on(gradient, d, c)];
        is_drawn(planes, b, c) && {
            let beside = beside();
            beside.contains(&Some(true)) && !beside.contains(&Some(false))
        }
    })
}

/// Whether an edge from one place to another goes on beyond; none where that is out of the picture.
fn runs_on(gradient: &Gradient, from: PointPx, to: PointPx) -> Option<bool> {
    let length = from.distance_px(to);
    let reach = (BEYOND * length).max(LEAST_PX);
    let near = lengthened(from, to, GAP_PX);
    let far = lengthened(from, to, GAP_PX + reach);
    let (w, h) = (gradient.width as f64, gradient.height as f64);
    is_within(far, w, h).then(|| gradient.support(near, far).0 >= LEAST_SEEN)
}
