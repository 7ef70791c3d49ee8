//! Backups and the room that photographs take.

use shimwright::backup::{BackupPiece, BackupTaken, BackupUse, PhotoUsage};
use shimwright::store::{Holding, SalvagedTable};

#[uniffi::remote(Record)]
pub struct BackupPiece {
    pub bytes: Vec<u8>,
    pub done_bytes: i64,
    pub total_bytes: i64,
}

#[uniffi::remote(Enum)]
pub enum BackupUse {
    Restore,
    Merge,
}

#[uniffi::remote(Record)]
pub struct BackupTaken {
    pub made_ms: i64,
    pub photos_added: u32,
    pub photos_missing: u32,
    pub replaced: Option<String>,
}

#[uniffi::remote(Record)]
pub struct Holding {
    pub bows: u32,
    pub kits: u32,
    pub fittings: u32,
    pub trials: u32,
    pub verdicts: u32,
}

#[uniffi::remote(Record)]
pub struct PhotoUsage {
    pub photos: u32,
    pub bytes: i64,
    pub orphans: u32,
    pub orphan_bytes: i64,
    pub missing: u32,
}

#[uniffi::remote(Record)]
pub struct SalvagedTable {
    pub table: String,
    pub saved: u32,
    pub missing: u32,
    pub at_least: bool,
}
