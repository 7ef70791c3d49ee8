//! Frames, sides and arrow kinds.

use shimwright::frame::{ArrowKind, Cov2, PointMm, PointPx, Side};

#[uniffi::remote(Record)]
pub struct PointMm {
    pub x_mm: f64,
    pub y_mm: f64,
}

#[uniffi::remote(Record)]
pub struct PointPx {
    pub x_px: f64,
    pub y_px: f64,
}

#[uniffi::remote(Record)]
pub struct Cov2 {
    pub xx_mm2: f64,
    pub xy_mm2: f64,
    pub yy_mm2: f64,
}

#[uniffi::remote(Enum)]
pub enum Side {
    Left,
    Right,
}

#[uniffi::remote(Enum)]
pub enum ArrowKind {
    Fletched,
    Bare,
    Broadhead,
}
