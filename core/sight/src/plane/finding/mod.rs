//! A sheet or card that stands out, found without taps.

pub(super) mod borders;
pub(super) mod clearest;
pub(super) mod drawn;
pub(super) mod ends;
pub(super) mod figures;
pub(super) mod find;
pub(super) mod find_any;
pub(super) mod patches;
pub(super) mod quads;
pub(super) mod regions;
