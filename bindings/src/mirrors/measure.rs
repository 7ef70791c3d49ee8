//! Measuring in a photograph.

use shimwright::frame::{ArrowKind, Cov2, PointPx};
use shimwright::impact::{HoleTone, NotSnapped};
use shimwright::measure::{
    Looked, MeasuredImpact, MeasuredLength, MeasuredTear, PlaneFacts, Pointing, Proposal, ReadAs,
    Reference, Suggested, Tap, TearTap, Trace, TraceKind, Up,
};
use shimwright::plane::{Edge, ListedSheet, PlaneWarning, PublishedFace};
use shimwright::tear::TearRefusal;

#[uniffi::remote(Enum)]
pub enum Reference {
    Sheet {
        width_mm: f64,
        height_mm: f64,
        corners_px: Option<Vec<PointPx>>,
    },
    Marks {
        width_mm: f64,
        height_mm: f64,
        corners_px: Option<Vec<PointPx>>,
    },
    Points {
        a_px: PointPx,
        b_px: PointPx,
        distance_mm: f64,
    },
    Rings {
        face: String,
        radii_mm: Option<Vec<f64>>,
        centre_px: PointPx,
        up: Up,
    },
}

#[uniffi::remote(Enum)]
pub enum ListedSheet {
    A4,
    A3,
    Letter,
    Card,
}

#[uniffi::remote(Enum)]
pub enum PublishedFace {
    Target122,
    Target80,
    Target60,
    Target40,
    Triple40,
    Triple60,
    SixRing80,
    Field80,
    Field60,
    Field40,
    Field20,
}

#[uniffi::remote(Enum)]
pub enum Up {
    Picture,
    Taps {
        below_px: PointPx,
        above_px: PointPx,
    },
    Level {
        left_px: PointPx,
        right_px: PointPx,
    },
    Gravity {
        roll_rad: f64,
    },
}

#[uniffi::remote(Record)]
pub struct MeasuredLength {
    pub a_px: PointPx,
    pub b_px: PointPx,
    pub length_mm: f64,
    pub sd_mm: f64,
}

#[uniffi::remote(Record)]
pub struct Tap {
    pub kind: ArrowKind,
    pub px: PointPx,
    pub sd_px: Option<f64>,
    #[uniffi(default = None)]
    pub shaft_mm: Option<f64>,
}

#[uniffi::remote(Record)]
pub struct TearTap {
    pub px: PointPx,
    pub shaft_mm: f64,
    pub nock_px: Option<PointPx>,
    pub sd_px: Option<f64>,
}

#[uniffi::remote(Enum)]
pub enum Pointing {
    Finger,
    Magnifier,
}

#[uniffi::remote(Record)]
pub struct PlaneFacts {
    pub residual_px: f64,
    pub residual_mm: f64,
    pub k1: f64,
    pub k1_learned: bool,
    pub px_per_mm: f64,
    pub scale_sd_x: f64,
    pub scale_sd_y: f64,
    pub turn_sd_rad: f64,
    pub warnings: Vec<PlaneWarning>,
}

#[uniffi::remote(Record)]
pub struct MeasuredImpact {
    pub kind: ArrowKind,
    pub px: PointPx,
    pub x_mm: f64,
    pub y_mm: f64,
    pub sd_mm: f64,
    pub reading: Cov2,
    pub common: Cov2,
    pub snapped: bool,
    pub read_as: ReadAs,
    pub reason: Option<NotSnapped>,
    pub radius_mm: Option<f64>,
    pub tone: Option<HoleTone>,
}

#[uniffi::remote(Enum)]
pub enum ReadAs {
    Crisp,
    Wound,
    AsTapped,
}

#[uniffi::remote(Record)]
pub struct Proposal {
    pub x_mm: f64,
    pub y_mm: f64,
    pub score: f64,
    pub px: PointPx,
}

#[uniffi::remote(Record)]
pub struct Suggested {
    pub holes: Vec<Proposal>,
    pub standing: Vec<Trace>,
}

#[uniffi::remote(Record)]
pub struct MeasuredTear {
    pub x_mm: f64,
    pub y_mm: f64,
    pub length_mm: f64,
    pub angle_rad: f64,
    pub sd_mm: f64,
    pub accepted: bool,
    pub reason: Option<TearRefusal>,
    pub point_px: PointPx,
    pub nock_px: PointPx,
}

#[uniffi::remote(Record)]
pub struct Looked {
    pub reference: Reference,
    pub facts: PlaneFacts,
    pub sure: bool,
}

#[uniffi::remote(Enum)]
pub enum TraceKind {
    Edge,
    EdgeLeftOut,
    Ring,
    Length,
    Hole,
    Wound,
    Standing,
    Slit,
    Tear,
}

#[uniffi::remote(Record)]
pub struct Trace {
    pub kind: TraceKind,
    pub px: Vec<PointPx>,
}

#[uniffi::remote(Enum)]
pub enum Edge {
    Top,
    Right,
    Bottom,
    Left,
}

#[uniffi::remote(Enum)]
pub enum PlaneWarning {
    RawCorners,
    ScaleOnly,
    NotFlat { sag_px: f64, sag_mm: f64 },
    Rough { rms_px: f64 },
    EdgeLeftOut { edge: Edge },
    StretchLeftOut { edge: Edge, from: f64, to: f64 },
    ShapeUnchecked,
    NotSquare { degrees: f64 },
    Oblique { degrees: f64 },
    LensDiffers { remembered_k1: f64, fitted_k1: f64 },
    LensUnknown,
    UpAssumed,
    RingOff { radius_mm: f64, off_mm: f64 },
    FewRings { used: u32 },
}

#[uniffi::remote(Enum)]
pub enum NotSnapped {
    NothingRound,
    RimHidden,
    Ragged,
    Crossed,
    WrongSize,
    ShaftStanding,
    PictureEdge,
}

#[uniffi::remote(Enum)]
pub enum HoleTone {
    Dark,
    Light,
}

#[uniffi::remote(Enum)]
pub enum TearRefusal {
    BadShaft,
    NothingTorn,
    TooLarge,
    TooFewSlits,
    SlitsDisagree,
    ShapeUnclear,
    PictureEdge,
}
