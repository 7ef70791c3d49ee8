//! A hole, how to look for it, and why none was found.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::frame::PointMm;

/// What lies behind the holes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Backdrop {
    /// Paper without print.
    Plain,
    /// Printed rings around this centre, mm.
    Rings(PointMm),
}

/// How to look for the hole behind a tap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SnapOptions {
    /// How far from the tap the centre may be, mm: 2.5 to 3 under a magnifier, 6 for a bare finger.
    pub search_mm: f64,
    /// Sampling step on the plane, mm: about one photo pixel, 0.1 to 0.3.
    pub step_mm: f64,
    /// What lies behind the holes.
    pub backdrop: Backdrop,
    /// How exactly the tap points at the centre, one standard deviation on each axis, mm.
    pub tap_sd_mm: f64,
    /// Diameter of the shaft that made the hole, mm, where it is known.
    pub shaft_mm: Option<f64>,
}

/// Whether a hole is darker or lighter than what surrounds it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum HoleTone {
    /// Darker: the usual hole.
    Dark,
    /// Lighter: light behind the paper, or straw behind a black ring.
    Light,
}

/// A hole found behind a tap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hole {
    /// Centre on the plane, mm.
    pub centre: PointMm,
    /// Radius of the rim, mm.
    pub radius_mm: f64,
    /// Standard deviation of the centre on each axis, mm, without the plane's own error.
    pub sd_mm: f64,
    /// Darker or lighter than its surroundings.
    pub tone: HoleTone,
    /// Whether a crisp rim gave the centre; if not, it is the middle of the whole wound, or of a rim that
    /// glows too much to be called crisp.
    pub crisp: bool,
    /// How much the picture speaks for a hole of an arrow here, nats: cracks 4 and more, torn holes
    /// 14 and more, clean paper and print 5 and less; 0 where only the rim does.
    pub score: f64,
}

/// Why a tap was not snapped. The tap itself still counts, with the tap's own uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum NotSnapped {
    /// No round hole stands out near the tap.
    #[error("no round hole stands out here; place the mark with the magnifier")]
    NothingRound,
    /// Too little of the rim can be seen.
    #[error("too little of the hole's rim can be seen; place the mark with the magnifier")]
    RimHidden,
    /// The rim is too ragged for a centre.
    #[error("the hole is too ragged for a sure centre; place the mark with the magnifier")]
    Ragged,
    /// Something lies across it: the torn edge of a second hole, or it is print and no hole.
    #[error(
        "something lies across this, such as the torn edge of another hole; place the mark with the magnifier"
    )]
    Crossed,
    /// What was found is no arrow hole by its size.
    #[error("what is here is not the size of an arrow hole; place the mark with the magnifier")]
    WrongSize,
    /// A shaft seems to stand in the hole.
    #[error("an arrow seems to stand here; pull it and take the photo again, or use the magnifier")]
    ShaftStanding,
    /// The tap is too near the edge of the picture.
    #[error("the mark is too near the edge of the photo; take it with more room around")]
    PictureEdge,
}
