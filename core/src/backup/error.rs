//! What can be wrong with a backup, by what the user can do about it.

use std::path::{Path, PathBuf};

use thiserror::Error;

use crate::store::StoreError;

/// Why a backup could not be made or used. The workshop is as it was.
#[derive(Debug, Error)]
pub enum BackupError {
    /// The file is no backup of a workshop.
    #[error("this is no backup of a workshop ({detail}); choose a backup that this program made")]
    NotABackup {
        /// What is missing or wrong.
        detail: String,
    },
    /// A later version of this program made it.
    #[error(
        "this backup was made by a newer version (backup {found}, this program {known}); update this program first"
    )]
    Newer {
        /// The backup's version.
        found: i64,
        /// The newest version this program knows.
        known: i64,
    },
    /// A part is not what the backup says it is.
    #[error("part {part} of this backup is damaged; use another copy of it")]
    Damaged {
        /// The part.
        part: String,
    },
    /// A part is larger than anything a workshop holds.
    #[error(
        "part {part} of this backup is larger than anything a workshop holds; use another copy of it"
    )]
    TooLarge {
        /// The part.
        part: String,
    },
    /// The file system refused.
    #[error("{} cannot be used ({detail}); check that it is there, may be written to, and has room", path.display())]
    Io {
        /// The path.
        path: PathBuf,
        /// What the system said.
        detail: String,
    },
    /// The workshop file.
    #[error(transparent)]
    Store(#[from] StoreError),
}

impl BackupError {
    /// What the system said about a path.
    pub(super) fn io(path: &Path) -> impl Fn(std::io::Error) -> Self {
        move |error| match error.kind() {
            std::io::ErrorKind::StorageFull | std::io::ErrorKind::QuotaExceeded => {
                Self::Store(StoreError::Full)
            }
            _ => Self::Io {
                path: path.to_owned(),
                detail: error.to_string(),
            },
        }
    }

    pub(super) fn not_a_backup(detail: &str) -> Self {
        Self::NotABackup {
            detail: detail.to_owned(),
        }
    }

    pub(super) fn damaged(part: &str) -> Self {
        Self::Damaged {
            part: part.to_owned(),
        }
    }
}
