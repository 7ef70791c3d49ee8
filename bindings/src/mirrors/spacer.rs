//! Kits, seats, fittings and stock.

use shimwright::frame::Side;
use shimwright::spacer::{Arrangement, Axle, Fitting, KitDraft, PairCount, PairDraft, Seat, Stock};

#[uniffi::remote(Record)]
pub struct KitDraft {
    pub name: String,
    pub total_mm: f64,
    pub tolerance_mm: f64,
    pub pairs: Vec<PairDraft>,
}

#[uniffi::remote(Record)]
pub struct PairDraft {
    pub name: String,
    pub thin_mm: f64,
    pub thick_mm: f64,
    pub thin_measured_mm: Option<f64>,
    pub thick_measured_mm: Option<f64>,
    pub thin_mark: String,
    pub thick_mark: String,
}

#[uniffi::remote(Record)]
pub struct PairCount {
    pub pair: String,
    pub sets: u32,
}

#[uniffi::remote(Record)]
pub struct Stock {
    pub counts: Vec<PairCount>,
}

#[uniffi::remote(Enum)]
pub enum Axle {
    Top,
    Bottom,
}

#[uniffi::remote(Record)]
pub struct Seat {
    pub pair: String,
    pub thick: Side,
}

#[uniffi::remote(Record)]
pub struct Fitting {
    pub top: Seat,
    pub bottom: Seat,
}

#[uniffi::remote(Record)]
pub struct Arrangement {
    pub fitting: Fitting,
    pub top_offset_mm: f64,
    pub bottom_offset_mm: f64,
    pub offset_mm: f64,
    pub tilt_mm: f64,
    pub tilt_rad: f64,
}
