//! What a backup says of itself.

use serde::{Deserialize, Serialize};

use super::BackupError;
use crate::store::SCHEMA_VERSION;

/// Tells a backup from any other zip.
const FORMAT: &str = "shimwright-backup";
/// The version of the layout that this program writes.
pub const MANIFEST_VERSION: i64 = 1;
/// The first version of the workshop file that had backups.
const FIRST_SCHEMA: i64 = 3;

/// One part of the zip.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Part {
    pub(super) name: String,
    pub(super) bytes: u64,
    pub(super) sha256: String,
}

/// `manifest.json`. Fields that a later version adds are passed over.
#[derive(Debug, Serialize, Deserialize)]
pub(super) struct Manifest {
    format: String,
    version: i64,
    /// Version of the workshop file whose rows these are.
    pub(super) schema: i64,
    /// When it was made, epoch ms.
    pub(super) made_ms: i64,
    pub(super) parts: Vec<Part>,
    /// Photographs that trials name and that were not there.
    #[serde(default)]
    pub(super) missing_photos: Vec<String>,
}

impl Manifest {
    pub(super) fn new(made_ms: i64) -> Self {
        Self {
            format: FORMAT.to_owned(),
            version: MANIFEST_VERSION,
            schema: SCHEMA_VERSION,
            made_ms,
            parts: Vec::new(),
            missing_photos: Vec::new(),
        }
    }

    pub(super) fn read(bytes: &[u8]) -> Result<Self, BackupError> {
        // From a string, as all else is read: serde_json's reader of bytes would stand in the program besides.
        let manifest = str::from_utf8(bytes)
            .ok()
            .and_then(|text| serde_json::from_str::<Self>(text).ok())
            .ok_or_else(|| BackupError::not_a_backup("its manifest cannot be read"))?;
        if manifest.format != FORMAT {
            return Err(BackupError::not_a_backup("another program made it"));
        }
        for (found, known) in [
            (manifest.version, MANIFEST_VERSION),
            (manifest.schema, SCHEMA_VERSION),
        ] {
            if found > known {
                return Err(BackupError::Newer { found, known });
            }
        }
        if manifest.version < 1 || manifest.schema < FIRST_SCHEMA {
            return Err(BackupError::not_a_backup("no version had such backups"));
        }
        Ok(manifest)
    }

    /// The part of that name.
    pub(super) fn part(&self, name: &str) -> Option<&Part> {
        self.parts.iter().find(|part| part.name == name)
    }
}
