//! Backups: one zip that any program can open, and the way back.
//!
//! ```text
//! workshop.json   every row of the workshop file (core/src/backup/workshop.schema.json)
//! photos/NAME     the photographs that trials name, as they are
//! manifest.json   what this is, its versions, and the SHA-256 of every part
//! ```
//!
//! Both ways go in small steps, so that a shell can show progress and stop between any two: memory
//! does not grow with the workshop. Giving reads a moment of the file and changes nothing; taking
//! builds a fresh file beside the workshop's and puts it in its place as the very last thing.

mod error;
mod give;
mod manifest;
mod photos;
mod take;
mod zip_read;
mod zip_write;

pub use error::BackupError;
pub use give::{BackupPiece, Giving};
pub use manifest::MANIFEST_VERSION;
pub use photos::{PhotoFolder, PhotoUsage};
pub use take::{BackupTaken, BackupUse, Taking};
