//! Putting a fresh file in the place of the workshop's: whole, or not at all.

use std::fs::{self, File};
use std::path::{Path, PathBuf};

use rusqlite::Connection;

use super::{StoreError, aside};

/// A file beside the workshop's that goes when it is dropped.
#[derive(Debug)]
pub(crate) struct Scratch(PathBuf);

impl Scratch {
    /// A name beside `path` that nothing has.
    pub(crate) fn beside(path: &Path) -> Self {
        Self(aside::free_name(path, "incoming"))
    }

    pub(crate) fn path(&self) -> &Path {
        &self.0
    }
}

impl Drop for Scratch {
    fn drop(&mut self) {
        for suffix in ["", "-wal", "-shm", "-journal"] {
            // It may never have been made.
            let _ = fs::remove_file(aside::with_suffix(&self.0, suffix));
        }
    }
}

/// Pages kept in memory while a file is filled, KiB: enough that none is read again for every row,
/// little enough for any phone.
const FILLING_KIB: i64 = 16_384;

/// A new file that is filled in one go and dropped if anything fails: it needs no journal, and
/// reaches the disk before [`put_in_place`] gives it another's place.
pub(super) fn fresh(path: &Path) -> rusqlite::Result<Connection> {
    let connection = Connection::open(path)?;
    connection.pragma_update(None, "journal_mode", "OFF")?;
    connection.pragma_update(None, "synchronous", "OFF")?;
    // References are looked over once all is there: half of them lead forward.
    connection.pragma_update(None, "foreign_keys", false)?;
    connection.pragma_update(None, "cache_size", -FILLING_KIB)?;
    connection.pragma_update(Some("temp"), "cache_size", -FILLING_KIB)?;
    Ok(connection)
}

/// Workshops that were replaced and are kept: the last one, and the one before in case that was the
/// mistake.
const KEPT: usize = 2;
/// What a replaced file's name begins with after the workshop's.
const REPLACED: &str = "replaced";

/// Whether `kept` is a file that once stood at `path`, kept by [`put_in_place`].
pub(super) fn was_replaced(kept: &Path, path: &Path) -> bool {
    let name = |path: &Path| Some(path.file_name()?.to_str()?.to_owned());
    let number = name(kept).zip(name(path)).and_then(|(kept, path)| {
        let number = kept.strip_prefix(&[&path, ".", REPLACED, "-"].concat())?;
        Some(number.bytes().all(|digit| digit.is_ascii_digit()))
    });
    number == Some(true) && kept.parent() == path.parent() && kept.is_file()
}

/// Moves `fresh` to `path`. What stands there is copied to another name first, so that at every
/// moment one of the two is at `path`; answers where the copy is.
pub(super) fn put_in_place(fresh: &Path, path: &Path) -> Result<Option<PathBuf>, StoreError> {
    let io = |error: std::io::Error| StoreError::Io {
        path: path.to_owned(),
        detail: error.to_string(),
    };
    gather_journal(fresh)?;
    File::open(fresh)
        .and_then(|file| file.sync_all())
        .map_err(io)?;
    let mut kept = None;
    if path.exists() {
        // A damaged file cannot be gathered: its journal is then kept beside it.
        let _ = gather_journal(path);
        let copy = aside::next_name(path, REPLACED);
        for suffix in ["", "-wal"] {
            let part = aside::with_suffix(path, suffix);
            if part.exists() {
                copy_synced(&part, &aside::with_suffix(&copy, suffix)).map_err(io)?;
            }
        }
        kept = Some(copy);
    }
    for suffix in ["-wal", "-shm"] {
        // A journal of the old file must not be read into the new one.
        match fs::remove_file(aside::with_suffix(path, suffix)) {
            Err(error) if error.kind() != std::io::ErrorKind::NotFound => return Err(io(error)),
            _ => {}
        }
    }
    aside::rename(fresh, path)?;
    sync_folder(path);
    aside::keep_newest(path, REPLACED, KEPT);
    Ok(kept)
}

/// Brings everything of a file's journal into the file itself.
pub(super) fn gather_journal(path: &Path) -> Result<(), StoreError> {
    let connection = Connection::open(path)?;
    connection.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()))?;
    Ok(())
}

fn copy_synced(from: &Path, to: &Path) -> std::io::Result<()> {
    fs::copy(from, to)?;
    File::open(to)?.sync_all()
}

/// Makes a rename last. Where a folder cannot be synced the system does it in its own time.
fn sync_folder(path: &Path) {
    if let Some(folder) = path.parent() {
        let _ = File::open(folder).and_then(|folder| folder.sync_all());
    }
}
