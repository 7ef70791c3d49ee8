//! Fits that may be the sheet, and which of two is.

use crate::frame::PointPx;
use crate::plane::Plane;
use crate::plane::polygon::encloses;
use crate::plane::sheets::round::Corners;

/// A fit less clear than this share of the best is no rival. Chosen by hand, looking at the photographs
/// of `tests/real-table`.
pub(crate) const NO_RIVAL: f64 = 0.95;
/// Fits whose corners differ by less than this are at one place, px. Chosen by hand; not tuned.
pub(crate) const SAME_PX: f64 = 4.0;
/// Of two sizes on the same lines the other is meant where its fit is clearer by this much. Proportions alone make that
/// difference: .15 at three standard deviations, so this is 3.6 in their squares, six to one.
const LIKELIER: f64 = 0.06;
/// Two fits lie on the same lines if their corners differ by less than this share of the diagonal. A4 and Letter
/// of one width differ by 7 %.
const SAME_LINES: f64 = 0.01;

/// A fit that may be taken.
pub(crate) struct Fit {
    pub(crate) plane: Plane,
    /// How clear its edges are in all.
    pub(crate) clear: f64,
    pub(crate) round: Corners,
    /// So many sides look like lines drawn on something.
    pub(crate) drawn: usize,
}

/// The clearest fit of a sheet.
#[derive(Clone)]
pub(crate) struct Clearest {
    pub(crate) plane: Plane,
    /// Its corners in the picture.
    pub(crate) corners: [PointPx; 4],
    /// How clear its edges are in all.
    pub(crate) clear: f64,
    /// How clear the clearest outline was at a glance.
    pub(crate) glance: f64,
    /// Whether no other place is as clear.
    pub(crate) alone: bool,
    /// So many sides look like lines drawn on something.
    pub(crate) drawn: usize,
    pub(crate) round: Corners,
}

impl Clearest {
    /// Whether both lie on the same lines: then only the shape asked for differs, and the lines do not say which.
    pub(crate) fn is_at(&self, other: &Self) -> bool {
        let across_px = other.corners[0].distance_px(other.corners[2]);
        let mut corners = self.corners.iter().zip(&other.corners);
        corners.all(|(a, b)| a.distance_px(*b) < (SAME_LINES * across_px).max(SAME_PX))
    }

    /// Whether a sheet of another size is there rather than this one.
    pub(crate) fn speaks_against(&self, asked: &Self) -> bool {
        if self.is_at(asked) {
            self.clear > asked.clear + LIKELIER
        } else {
            self.outdoes(asked)
        }
    }

    /// Whether this rather than the other is the sheet. Part of a sheet that lies the other way may have
    /// the shape that was asked for: of two of which one holds the other, that one if nearly as clear, or if
    /// the other's sides are drawn on it.
    pub(crate) fn outdoes(&self, other: &Self) -> bool {
        let own = if encloses(&self.corners, &other.corners) {
            if self.drawn < other.drawn {
                return true;
            }
            self.weight() / NO_RIVAL
        } else if encloses(&other.corners, &self.corners) {
            self.weight() * NO_RIVAL
        } else {
            self.weight()
        };
        own > other.weight()
    }

    /// How clear it is; of two that are nearly alike that one counts of which fewer sides are drawn.
    fn weight(&self) -> f64 {
        self.clear * NO_RIVAL.powi(self.drawn as i32)
    }
}
