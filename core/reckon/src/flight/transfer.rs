//! The transfer table: how one launch fault shows at every distance, by arrow kind and on paper.

use crate::distance::{self, DistanceError};
use crate::frame::ArrowKind;
use serde::{Deserialize, Serialize};

/// Share of a usual launch fault that is yaw rate, the rest being yaw angle (prior; two paper
/// distances can tell them apart).
pub const RATE_SHARE: f64 = 0.8;

/// How a launch fault shows at one distance, in mm per mm of fault. A fault of 1 mm is one that
/// splits a bare shaft from a fletched arrow by 1 mm at 20 yd (18.288 m).
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Transfer {
    /// For a fault that is all yaw rate.
    pub rate: f64,
    /// For a fault that is all yaw angle.
    pub angle: f64,
    /// For the usual mix, [`RATE_SHARE`] of rate.
    pub per_bare20: f64,
    /// Standard deviation of `per_bare20` from what is not known of arrow, air and amplitude, mm
    /// per mm.
    pub sd: f64,
}

impl Transfer {
    /// `sd` relative to the transfer itself, at most 10 (a tear's transfer crosses zero).
    pub fn sd_rel(&self) -> f64 {
        (self.sd / self.per_bare20.abs().max(f64::MIN_POSITIVE)).min(10.0)
    }
}

/// A difference to expect from a perfect bow, mm.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Expected {
    /// The difference, mm, positive up.
    pub value_mm: f64,
    /// Its standard deviation, mm.
    pub sd_mm: f64,
}

/// One quantity at every knot.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Channel {
    pub(crate) rate: Vec<f64>,
    pub(crate) angle: Vec<f64>,
    pub(crate) sd: Vec<f64>,
}

/// A perfect bow's difference at every knot.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Level {
    pub(crate) value_mm: Vec<f64>,
    pub(crate) sd_mm: Vec<f64>,
}

/// How launch faults of one arrow set-up show, over 0.5 to 100 m. Immutable; made once per set-up
/// and cheap to ask.
///
/// A fault sideways and a fault up and down transfer alike. The table holds for a fault of about
/// 50 mm (bare shaft, 20 yd): the model bends with amplitude, and what half or 1.6 times that
/// would change is part of every `sd`.
///
/// ```
/// use shimwright_reckon::{flight::TransferTable, frame::ArrowKind};
/// let table = TransferTable::unrecorded();
/// let near = table.split(ArrowKind::Bare, 9.144).unwrap().rate;
/// assert!(near < 0.25); // a quarter of the 20 yd split at half the distance, not half of it
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TransferTable {
    pub(crate) knots_m: Vec<f64>,
    /// Split of bare shafts and of broadheads.
    pub(crate) splits: [Channel; 2],
    /// Tear of fletched, bare and broadhead arrows.
    pub(crate) tears: [Channel; 3],
    /// Vertical difference of bare shafts and broadheads on a perfect bow.
    pub(crate) levels: [Level; 2],
    /// Vertical tear of fletched, bare and broadhead arrows on a perfect bow.
    pub(crate) tear_levels: [Level; 3],
    /// Whether the arrow was entered; an unrecorded one is a usual arrow with wider uncertainty.
    recorded: bool,
}

impl TransferTable {
    pub(crate) fn new(
        knots_m: Vec<f64>,
        (splits, tears): ([Channel; 2], [Channel; 3]),
        (levels, tear_levels): ([Level; 2], [Level; 3]),
        recorded: bool,
    ) -> Self {
        Self {
            knots_m,
            splits,
            tears,
            levels,
            tear_levels,
            recorded,
        }
    }

    /// Whether the arrow was entered; else it is a usual one.
    pub(crate) fn is_recorded(&self) -> bool {
        self.recorded
    }

    /// Split of `kind` from fletched field points at `distance_m` (0.5 to 100 m). Fletched arrows
    /// are the reference: their split is zero.
    ///
    /// # Errors
    /// [`DistanceError`] outside the range.
    pub fn split(&self, kind: ArrowKind, distance_m: f64) -> Result<Transfer, DistanceError> {
        let place = self.place(distance_m)?;
        Ok(match kind {
            ArrowKind::Fletched => NOTHING,
            ArrowKind::Bare => self.splits[0].at(&place),
            ArrowKind::Broadhead => self.splits[1].at(&place),
        })
    }

    /// Tear that an arrow of `kind` makes in paper at `distance_m` (0.5 to 100 m). Negative: a
    /// fault that sends bare shafts right tears nock left.
    ///
    /// # Errors
    /// [`DistanceError`] outside the range.
    pub fn tear(&self, kind: ArrowKind, distance_m: f64) -> Result<Transfer, DistanceError> {
        let place = self.place(distance_m)?;
        Ok(match kind {
            ArrowKind::Fletched => self.tears[0].at(&place),
            ArrowKind::Bare => self.tears[1].at(&place),
            ArrowKind::Broadhead => self.tears[2].at(&place),
        })
    }

    /// How much higher `kind` lands than fletched field points from a perfect bow, by its mass,
    /// speed, drag and the lift of its falling path: to subtract before any vertical advice.
    ///
    /// # Errors
    /// [`DistanceError`] outside the range.
    pub fn expected_vertical(
        &self,
        kind: ArrowKind,
        distance_m: f64,
    ) -> Result<Expected, DistanceError> {
        let place = self.place(distance_m)?;
        Ok(match kind {
            ArrowKind::Fletched => Expected::default(),
            ArrowKind::Bare => self.levels[0].at(&place),
            ArrowKind::Broadhead => self.levels[1].at(&place),
        })
    }

    /// Vertical tear of `kind` in paper from a perfect bow: gravity takes the nock a little lower.
    ///
    /// # Errors
    /// [`DistanceError`] outside the range.
    pub fn expected_tear_vertical(
        &self,
        kind: ArrowKind,
        distance_m: f64,
    ) -> Result<Expected, DistanceError> {
        let place = self.place(distance_m)?;
        let level = match kind {
            ArrowKind::Fletched => &self.tear_levels[0],
            ArrowKind::Bare => &self.tear_levels[1],
            ArrowKind::Broadhead => &self.tear_levels[2],
        };
        Ok(level.at(&place))
    }

    fn place(&self, distance_m: f64) -> Result<Place, DistanceError> {
        let distance_m = distance::checked_m(distance_m)?;
        let above = self.knots_m.partition_point(|k| *k <= distance_m);
        let low = above
            .saturating_sub(1)
            .min(self.knots_m.len().saturating_sub(2));
        Ok(Place::new(&self.knots_m, low, distance_m))
    }
}

/// The reference's own split.
const NOTHING: Transfer = Transfer {
    rate: 0.0,
    angle: 0.0,
    per_bare20: 0.0,
    sd: 0.0,
};

impl Channel {
    fn at(&self, place: &Place) -> Transfer {
        let (rate, angle) = (place.of(&self.rate), place.of(&self.angle));
        Transfer {
            rate,
            angle,
            per_bare20: RATE_SHARE * rate + (1.0 - RATE_SHARE) * angle,
            sd: place.of(&self.sd).max(0.0),
        }
    }
}

impl Level {
    fn at(&self, place: &Place) -> Expected {
        Expected {
            value_mm: place.of(&self.value_mm),
            sd_mm: place.of(&self.sd_mm).max(0.0),
        }
    }
}

/// Weights of the knots around a distance: a cubic through two knots with slopes from their
/// neighbours (Catmull and Rom's spline on unequal knots).
struct Place {
    first: usize,
    weights: [f64; 4],
}

impl Place {
    fn new(knots: &[f64], low: usize, distance_m: f64) -> Self {
        let knot = |i: usize| knots.get(i).copied().unwrap_or(f64::NAN);
        let (x0, x1) = (knot(low), knot(low + 1));
        let h = x1 - x0;
        let s = (distance_m - x0) / h;
        let (a, b) = (s * s * (3.0 - 2.0 * s), s * (1.0 - s) * (1.0 - s));
        let c = s * s * (s - 1.0);
        // weights of knots low-1, low, low+1, low+2
        let mut weights = [0.0, 1.0 - a, a, 0.0];
        let mut slope = |scale: f64, left: usize, right: usize, span: f64| {
            weights[right] += scale * h / span;
            weights[left] -= scale * h / span;
        };
        if low > 0 {
            slope(b, 0, 2, x1 - knot(low - 1));
        } else {
            slope(b, 1, 2, h);
        }
        if low + 2 < knots.len() {
            slope(c, 1, 3, knot(low + 2) - x0);
        } else {
            slope(c, 1, 2, h);
        }
        Self {
            first: low,
            weights,
        }
    }

    fn of(&self, values: &[f64]) -> f64 {
        let value = |offset: usize| {
            let index = (self.first + offset).checked_sub(1)?;
            values.get(index).copied()
        };
        self.weights
            .iter()
            .enumerate()
            .filter(|(_, weight)| **weight != 0.0)
            .map(|(offset, weight)| weight * value(offset).unwrap_or(0.0))
            .sum()
    }
}
