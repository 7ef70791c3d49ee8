//! Whether what was found has a card's corners: those of a card are round (ISO/IEC 7810), those of a slip of paper
//! of its shape, and of a field printed on it, are not, or less.

use crate::frame::{PointMm, PointPx};
use crate::photo::Photo;
use crate::plane::channels::Channels;
use crate::plane::{Plane, Sheet};
use crate::stats::median;

/// Places beside a corner of the outline, mm inwards along either side: within a sharp corner and outside of a round
/// one of 3.18 mm, half a millimetre from both lines.
const CAP_MM: [(f64, f64); 5] = [
    (0.45, 0.45),
    (0.40, 0.65),
    (0.65, 0.40),
    (0.32, 0.85),
    (0.85, 0.32),
];
/// ... within either, as far from the lines or farther, and closer than most borders printed on a card are wide.
const INSIDE_MM: [(f64, f64); 5] = [(1.6, 1.6), (1.3, 2.1), (2.1, 1.3), (1.7, 2.6), (2.6, 1.7)];
/// ... and beyond both.
const OUTSIDE_MM: [(f64, f64); 7] = [
    (-0.7, -0.7),
    (-0.7, 0.8),
    (0.8, -0.7),
    (-0.7, 2.2),
    (2.2, -0.7),
    (-1.4, 0.8),
    (0.8, -1.4),
];
/// Levels by which inside and outside must differ: grain and compression make up half of this. Chosen by hand; not tuned.
const LEAST_CONTRAST: f64 = 12.0;
/// Where inside and outside differ by less, a corner that differs from both by more than so many levels is that of a
/// line drawn on one thing: a shadow, that falls beside an edge, does not end half a millimetre on. Chosen by hand; not tuned.
const LINE_CONTRAST: f64 = 40.0;
/// What lies between the lines is outside up to the first share of the way to the inside, and inside from the second
/// on: a blur of a third of a millimetre leaves .05 and .87.
const SHARES: (f64, f64) = (0.35, 0.65);
/// Something else lies there (a rim that shines, a finger) where it is this share of the contrast off the way. Chosen
/// by hand; not tuned.
const ASIDE: f64 = 0.5;
/// So many corners must be round: one may be hidden or shine. Where fewer are and one is sharp, a side is print's.
const ENOUGH: usize = 3;

/// Where a place, mm from the middle, is in the photograph.
type ToPx<'a> = dyn Fn(PointMm) -> PointPx + 'a;

/// What the corners of an outline look like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Corners {
    Sharp,
    /// Nothing tells.
    Unknown,
    Round,
}

impl Corners {
    /// Those of a card where it was found; of anything but a card nothing is known.
    pub(crate) fn of(photo: &Photo, sheet: &Sheet, plane: &Plane) -> Self {
        if !sheet.has_round_corners() {
            return Self::Unknown;
        }
        Self::seen(&Channels::of(photo), sheet, &|m| plane.to_px(m))
    }

    /// Those of a card of which `to_px` says where its places are in the picture.
    pub(crate) fn seen(channels: &Channels<'_>, sheet: &Sheet, to_px: &ToPx<'_>) -> Self {
        let readings = sheet
            .corners_mm()
            .map(|corner| filled(channels, to_px, corner));
        let count =
            |is: &dyn Fn(f64) -> bool| readings.iter().flatten().filter(|r| is(**r)).count();
        let (round, sharp) = (count(&|r| r < SHARES.0), count(&|r| r > SHARES.1));
        match (round, sharp) {
            (ENOUGH.., _) => Self::Round,
            (_, 1..) => Self::Sharp,
            _ => Self::Unknown,
        }
    }
}

/// How far what lies in a sharp corner is from the outside (0) to the inside (1), where that can be told.
fn filled(channels: &Channels<'_>, to_px: &ToPx<'_>, corner: PointMm) -> Option<f64> {
    let levels = |places: &[(f64, f64)]| -> Option<Vec<f64>> {
        let of = |view| {
            let at = |(along, up): &(f64, f64)| sample(view, to_px, corner, (*along, *up));
            median(places.iter().filter_map(at).collect())
        };
        channels.iter().map(of).collect()
    };
    let (cap, inside, outside) = (levels(&CAP_MM)?, levels(&INSIDE_MM)?, levels(&OUTSIDE_MM)?);
    let way: Vec<f64> = inside.iter().zip(&outside).map(|(i, o)| i - o).collect();
    let length = way.iter().map(|w| w * w).sum::<f64>().sqrt();
    let most = way.iter().fold(0.0, |m: f64, w| m.max(w.abs()));
    let gone: Vec<f64> = cap.iter().zip(&outside).map(|(c, o)| c - o).collect();
    if most < LEAST_CONTRAST {
        let line = gone.iter().any(|g| g.abs() > LINE_CONTRAST);
        return line.then_some(1.0);
    }
    let share = gone.iter().zip(&way).map(|(g, w)| g * w).sum::<f64>() / (length * length);
    let aside = gone.iter().zip(&way).map(|(g, w)| (g - share * w).powi(2));
    (aside.sum::<f64>().sqrt() < ASIDE * length).then_some(share)
}

/// The level so far inwards of a corner along either side, mm.
fn sample(
    view: &crate::photo::View<'_>,
    to_px: &ToPx<'_>,
    corner: PointMm,
    (along_mm, up_mm): (f64, f64),
) -> Option<f64> {
    let x_mm = corner.x_mm - corner.x_mm.signum() * along_mm;
    let y_mm = corner.y_mm - corner.y_mm.signum() * up_mm;
    let p = to_px(PointMm::new(x_mm, y_mm));
    view.sample(p.x_px, p.y_px)
}

#[cfg(test)]
#[path = "round_tests.rs"]
mod tests;
