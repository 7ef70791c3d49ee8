//! What the core knows of checks, steps, sheets and faces without a workshop.

use shimwright::plane::{ListedSheet, PublishedFace};
use shimwright::swap::StepKind;
use shimwright::verdict::{CheckItem, MakerRange, MeasuredUnit, SETTLING_SHOTS};

/// Width and height of something flat, mm.
#[derive(Debug, Clone, Copy, PartialEq, uniffi::Record)]
pub struct FlatSize {
    /// Side to side.
    pub width_mm: f64,
    /// Top to bottom.
    pub height_mm: f64,
}

/// The size of a sheet standing upright: its shorter side across.
#[uniffi::export]
pub fn listed_size(sheet: ListedSheet) -> FlatSize {
    let upright = sheet.upright();
    FlatSize {
        width_mm: upright.width_mm,
        height_mm: upright.height_mm,
    }
}

/// The sheet of that size, whichever way it lies; none where its size has no name.
#[uniffi::export]
pub fn sheet_of_size(width_mm: f64, height_mm: f64) -> Option<ListedSheet> {
    ListedSheet::of(width_mm, height_mm)
}

/// The key of a published face in requests and records.
#[uniffi::export]
pub fn face_key(face: PublishedFace) -> String {
    face.key().to_owned()
}

/// What a check measures, where it measures something.
#[uniffi::export]
pub fn measured_unit(item: CheckItem) -> Option<MeasuredUnit> {
    item.unit()
}

/// Whether a measured value lies outside what the bow maker states.
#[uniffi::export]
pub fn outside_maker_range(range: &MakerRange, value: f64) -> bool {
    !range.holds(value)
}

/// Shots after which a bow that was pressed has settled.
#[uniffi::export]
pub fn settling_shots() -> u32 {
    SETTLING_SHOTS
}

/// Whether a step must be confirmed with resolve: a passing touch may not do it.
#[uniffi::export]
pub fn wants_resolve(kind: StepKind) -> bool {
    kind.wants_resolve()
}
