//! What the core knows of checks and steps without a workshop.

use shimwright::swap::StepKind;
use shimwright::verdict::{CheckItem, MakerRange, MeasuredUnit, SETTLING_SHOTS};

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
