//! Mirrors of the core's plain types: field for field, in the same order, or it does not compile.
//! What a field means, its unit and its range stand at the core type of the same name.

mod arrows;
mod backup;
mod check;
mod frame;
mod measure;
mod reason;
mod record;
mod scene;
mod sheet;
mod settings;
mod spacer;
mod swap;
mod trial;
mod verdict;
mod views;
