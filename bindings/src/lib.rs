//! The bridge to the shell: mirrors of the core's plain types, one object, one error.
//!
//! Nothing is computed here. Every function is one line over [`shimwright::workshop::Workshop`];
//! calls are synchronous and meant for one worker thread of the shell.

mod backup;
mod error;
mod facts;
mod mirrors;
mod photo;
mod sheet;
mod units;
mod workshop;

pub use backup::{Backup, Incoming, Progress, photo_thumbnail, photo_to_share, salvage};
pub use error::WorkshopError;
pub use facts::{
    FlatSize, face_key, listed_size, measured_unit, outside_maker_range, settling_shots,
    sheet_of_size, wants_resolve,
};
pub use photo::{PhotoSession, Snapped, TearRead, tap_sd_px, two_groups};
pub use sheet::Sheet;
pub use units::{
    FigureUnit, figure_in, plus_minus, read_distance, read_draw_weight, read_figure, read_length,
    round_estimate, usual_arrow, usual_rest_room,
};
pub use workshop::Workshop;

// Linked for its C functions, which Rust's library calls when a panic is caught.
#[cfg(feature = "own-unwinder")]
extern crate unwinding as _;

uniffi::setup_scaffolding!("shimwright");

/// Panics, so that the shell's tests can show what a defect of the core looks like to it.
///
/// # Panics
/// Always.
#[uniffi::export]
pub fn panic_on_purpose() {
    // The one panic that is wanted: its only caller is a test of the shell.
    #[allow(clippy::panic)]
    {
        panic!("panicked on purpose");
    }
}
