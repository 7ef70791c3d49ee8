//! Whole-file copies: a backup that is consistent while the workshop is open, and the way back.

use std::path::Path;

use rusqlite::{Connection, OpenFlags};

use super::open::{known_version, translated};
use super::{Entropy, Store, StoreError, aside};

impl Store {
    /// Writes a compact, consistent copy of the whole file to a new file.
    ///
    /// # Errors
    /// [`StoreError::Io`] where the target exists already or cannot be written.
    pub fn back_up(&self, to: &Path) -> Result<(), StoreError> {
        if to.exists() {
            return Err(StoreError::Io {
                path: to.to_owned(),
                detail: "there is a file of that name already: choose another".into(),
            });
        }
        copy(self.reader(), to)
    }

    /// Puts a copy of `backup` at `path` and opens it. What stands at `path` is kept under another
    /// name; the backup itself is only read.
    ///
    /// # Errors
    /// [`StoreError`] where the backup is missing, damaged, newer or foreign: `path` is then left
    /// as it was.
    pub fn restore(backup: &Path, path: &Path) -> Result<Self, StoreError> {
        let fresh = aside::free_name(path, "restored");
        let source = Connection::open_with_flags(backup, OpenFlags::SQLITE_OPEN_READ_ONLY)
            .map_err(|error| translated(backup, error))?;
        if known_version(&source, backup)? == 0 {
            return Err(StoreError::Foreign {
                path: backup.to_owned(),
            });
        }
        copy(&source, &fresh)?;
        drop(source);
        if path.exists() {
            aside::move_aside(path, "replaced")?;
        }
        aside::rename(&fresh, path)?;
        Self::open(path, Entropy::default())
    }
}

fn copy(from: &Connection, to: &Path) -> Result<(), StoreError> {
    let copied = from.execute("VACUUM INTO ?1", [to.to_string_lossy()]);
    copied.map(drop).map_err(|error| StoreError::Io {
        path: to.to_owned(),
        detail: error.to_string(),
    })
}
