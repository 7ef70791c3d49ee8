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

/// The name beside `path` after the last one in use, so that the newest has the largest number.
pub(super) fn next_name(path: &Path, word: &str) -> PathBuf {
    let last = numbers(path, word).into_iter().max().unwrap_or(0);
    numbered(path, word, last.saturating_add(1))
}

/// Removes all but the `count` newest files of [`next_name`], with their journals.
pub(super) fn keep_newest(path: &Path, word: &str, count: usize) {
    let mut kept = numbers(path, word);
    kept.sort_unstable();
    for number in kept.iter().rev().skip(count) {
        let old = numbered(path, word, *number);
        for suffix in ["-wal", "-shm", ""] {
            // One that stays is removed the next time.
            let _ = std::fs::remove_file(with_suffix(&old, suffix));
        }
    }
}

fn numbered(path: &Path, word: &str, number: u64) -> PathBuf {
    with_suffix(path, &format!(".{word}-{number}"))
}

/// The numbers in use beside `path`.
fn numbers(path: &Path, word: &str) -> Vec<u64> {
    let folder = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty());
    let Ok(entries) = std::fs::read_dir(folder.unwrap_or(Path::new("."))) else {
        return Vec::new();
    };
    let stem = path.file_name().unwrap_or_default().to_string_lossy();
    let lead = [&stem, ".", word, "-"].concat();
    let names = entries.filter_map(|entry| entry.ok()?.file_name().into_string().ok());
    names
        .filter_map(|name| name.strip_prefix(&lead)?.parse().ok())
        .collect()
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
