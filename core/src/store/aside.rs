//! Files that must not be lost: moved under another name, never deleted.

use std::path::{Path, PathBuf};

use super::StoreError;

/// Moves a file, with its journal, to the first free name beside it: `x.damaged-1`.
pub(super) fn move_aside(path: &Path, word: &str) -> Result<PathBuf, StoreError> {
    let free = free_name(path, word);
    for suffix in ["-wal", "-shm"] {
        let journal = with_suffix(path, suffix);
        if journal.exists() {
            // The journal alone is of no use, but it may hold what the file lacks: try to keep it.
            let _ = std::fs::rename(journal, with_suffix(&free, suffix));
        }
    }
    rename(path, &free)?;
    Ok(free)
}

/// The first name beside `path` that nothing has.
pub(super) fn free_name(path: &Path, word: &str) -> PathBuf {
    (1..10_000)
        .map(|number| with_suffix(path, &format!(".{word}-{number}")))
        .find(|name| !name.exists())
        .unwrap_or_else(|| with_suffix(path, &format!(".{word}")))
}

pub(super) fn rename(from: &Path, to: &Path) -> Result<(), StoreError> {
    std::fs::rename(from, to).map_err(|error| StoreError::Io {
        path: from.to_owned(),
        detail: error.to_string(),
    })
}

pub(super) fn with_suffix(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(suffix);
    PathBuf::from(name)
}
