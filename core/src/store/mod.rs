//! The workshop file: the only module that knows SQL.
//!
//! Readers take a `&Connection`, writers a `&Transaction`; `Store::write` makes each call of the
//! facade one transaction, so a write is there whole or not at all.

mod arrows;
mod aside;
mod bows;
mod cameras;
mod dump;
mod entered;
mod error;
mod fittings;
mod form;
mod holding;
mod identity;
mod kits;
mod known;
mod ladder;
mod load;
mod numbers;
mod open;
mod place;
mod rack;
mod reading;
mod row;
mod salvage;
mod setup;
mod standing;
mod swaps;
mod trials;
mod unite;
mod unread;
mod verdicts;

pub(crate) use arrows::{archive_arrows, arrows, arrows_of, insert_arrows, update_arrows};
pub(crate) use bows::{
    archive_bow, bow, bows, insert_bow, revise_bows, save_maker, touch_bow, update_bow,
};
pub(crate) use cameras::{camera, save_camera, save_settings, settings};
pub(crate) use dump::{Dump, hex, photos_named, photos_of_trials};
pub(crate) use entered::as_entered;
pub use error::{StoreError, Thing, Unread};
pub(crate) use fittings::{
    NewFitting, append_fitting, contested, contested_bows, fitted, fitted_per_bow, fittings,
    pairs_on_record,
};
pub use holding::Holding;
pub(crate) use holding::{holding, holding_of};
pub use identity::Entropy;
pub(crate) use kits::{archive_kit, insert_kit, kit, kits, update_kit};
pub use ladder::SCHEMA_VERSION;
pub(crate) use load::load;
pub use open::Store;
pub(crate) use place::Scratch;
pub(crate) use rack::{OnRack, on_rack};
pub(crate) use rusqlite::Transaction;
pub use salvage::{SalvagedTable, salvage};
pub(crate) use setup::{
    append_change, append_check, append_correction, change, changes, checks, recorded_changes,
};
pub(crate) use standing::{Standing, standing};
pub(crate) use swaps::{end_swap, save_swap, swap};
pub(crate) use trials::{
    ShotOn, correct_trial, insert_trial, last_trial, move_trial, rename_photo, replace_photo,
    strike_trial, trial, trials,
};
pub(crate) use unread::{unread, unread_of};
pub(crate) use verdicts::{
    NewVerdict, append_verdict, last_verdict, verdict, verdict_stands, verdicts,
};
