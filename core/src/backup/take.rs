//! Taking a backup: into a fresh file beside the workshop's, which takes its place at the very end.

use std::collections::{HashSet, VecDeque};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use super::BackupError;
use super::manifest::{Manifest, Part};
use super::photos::{MOST_BYTES, PhotoFolder};
use super::zip_read::ZipReader;
use crate::store::{self, Holding, Scratch, hex};

/// The largest manifest: forty thousand photographs.
const MANIFEST_BYTES: u64 = 8 << 20;
/// The largest `workshop.json`: fifty years of a busy shop.
const ROWS_BYTES: u64 = 1 << 30;

/// What becomes of the workshop that is there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BackupUse {
    /// The backup takes its place; it is kept under another name.
    Restore,
    /// Both are united.
    Merge,
}

/// What came of a backup.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct BackupTaken {
    /// When the backup was made, epoch ms.
    pub made_ms: i64,
    /// Photographs that were not there before.
    pub photos_added: u32,
    /// Photographs that trials name and that the backup did not hold.
    pub photos_missing: u32,
    /// Where the workshop as it was is kept.
    pub replaced: Option<String>,
}

/// A backup being taken. To stop, drop it: what it had written goes.
#[derive(Debug)]
pub struct Taking {
    zip: ZipReader,
    manifest: Manifest,
    used_as: BackupUse,
    /// The rows of the backup as a workshop file.
    rows: Scratch,
    rows_loaded: bool,
    folder: PhotoFolder,
    waiting: VecDeque<Part>,
    added: Vec<String>,
    done: u64,
    total: u64,
}

impl Taking {
    /// Opens a backup and checks what it says of itself.
    ///
    /// # Errors
    /// [`BackupError`]: no backup, of a newer version, or larger than a workshop can be.
    pub fn begin(
        backup: &Path,
        used_as: BackupUse,
        workshop: &Path,
        folder: &PhotoFolder,
    ) -> Result<Self, BackupError> {
        let mut zip = ZipReader::open(backup)?;
        let manifest = read_manifest(&mut zip)?;
        let rows = manifest.part("workshop.json").cloned();
        let rows = rows.ok_or_else(|| BackupError::not_a_backup("it holds no workshop"))?;
        let photos = sound_photos(&manifest);
        for (part, most) in photos
            .iter()
            .map(|part| (part, MOST_BYTES))
            .chain([(&rows, ROWS_BYTES)])
        {
            check_size(&zip, part, most)?;
        }
        Ok(Self {
            total: rows.bytes + photos.iter().map(|part| part.bytes).sum::<u64>(),
            rows: Scratch::beside(workshop),
            zip,
            manifest,
            used_as,
            rows_loaded: false,
            folder: folder.clone(),
            waiting: photos,
            added: Vec::new(),
            done: 0,
        })
    }

    /// Takes the next part; `false` when all are there.
    ///
    /// # Errors
    /// Where a part is damaged or cannot be written.
    pub fn step(&mut self) -> Result<bool, BackupError> {
        if !self.rows_loaded {
            self.load_rows()?;
            self.rows_loaded = true;
            return Ok(true);
        }
        let Some(part) = self.waiting.pop_front() else {
            return Ok(false);
        };
        let name = part.name.strip_prefix("photos/").unwrap_or(&part.name);
        if !self.folder.has(name, part.bytes) {
            self.folder.receive(name, self.zip.part(&part.name)?)?;
            self.added.push(name.to_owned());
        }
        self.done += part.bytes;
        Ok(true)
    }

    /// Bytes taken so far, and bytes in all.
    pub fn progress(&self) -> (u64, u64) {
        (self.done, self.total)
    }

    /// When the backup was made, epoch ms, and what it holds; `None` before the first step.
    ///
    /// # Errors
    /// Where its rows cannot be read.
    pub fn holding(&self) -> Result<Option<(i64, Holding)>, BackupError> {
        if !self.rows_loaded {
            return Ok(None);
        }
        let holding = store::holding_of(self.rows.path())?;
        Ok(Some((self.manifest.made_ms, holding)))
    }

    /// What it is taken for.
    pub fn used_as(&self) -> BackupUse {
        self.used_as
    }

    /// The rows as a workshop file, once every step is done.
    pub(crate) fn rows(&self) -> &Path {
        self.rows.path()
    }

    /// Lets what was taken stay.
    pub(crate) fn keep(mut self, replaced: Option<PathBuf>) -> BackupTaken {
        BackupTaken {
            replaced: replaced.map(|path| path.display().to_string()),
            made_ms: self.manifest.made_ms,
            photos_added: std::mem::take(&mut self.added).len() as u32,
            photos_missing: self.manifest.missing_photos.len() as u32,
        }
    }

    fn load_rows(&mut self) -> Result<(), BackupError> {
        let part = self.manifest.part("workshop.json").cloned();
        let part = part.ok_or_else(|| BackupError::damaged("workshop.json"))?;
        let mut hashed = Hashed {
            from: self.zip.part(&part.name)?,
            hash: Sha256::new(),
        };
        let loaded = store::load(self.rows.path(), self.manifest.schema, &mut hashed);
        // What follows the last row belongs to the part, and to its hash.
        let drained = io::copy(&mut hashed, &mut io::sink());
        if drained.is_err() || hex(&hashed.hash.finalize()) != part.sha256 {
            return Err(BackupError::damaged(&part.name));
        }
        loaded?;
        self.done += part.bytes;
        Ok(())
    }
}

impl Drop for Taking {
    fn drop(&mut self) {
        for name in &self.added {
            self.folder.remove(name);
        }
    }
}

fn read_manifest(zip: &mut ZipReader) -> Result<Manifest, BackupError> {
    let size = zip.size("manifest.json");
    let size = size.ok_or_else(|| BackupError::not_a_backup("it has no manifest"))?;
    if size > MANIFEST_BYTES {
        let part = "manifest.json".to_owned();
        return Err(BackupError::TooLarge { part });
    }
    let mut bytes = Vec::new();
    let read = zip.part("manifest.json")?.read_to_end(&mut bytes);
    read.map_err(|_| BackupError::damaged("manifest.json"))?;
    Manifest::read(&bytes)
}

/// The photographs whose names are their content; one that had changed on the disk stays in the zip.
fn sound_photos(manifest: &Manifest) -> VecDeque<Part> {
    let unsound: HashSet<&String> = manifest.missing_photos.iter().collect();
    let photos = manifest.parts.iter().filter(|part| {
        let name = part.name.strip_prefix("photos/").map(str::to_owned);
        name.is_some_and(|name| !unsound.contains(&name))
    });
    photos.cloned().collect()
}

fn check_size(zip: &ZipReader, part: &Part, most: u64) -> Result<(), BackupError> {
    if part.bytes > most {
        let part = part.name.clone();
        return Err(BackupError::TooLarge { part });
    }
    match zip.size(&part.name) {
        Some(size) if size == part.bytes => Ok(()),
        _ => Err(BackupError::damaged(&part.name)),
    }
}

struct Hashed<R> {
    from: R,
    hash: Sha256,
}

impl<R: Read> Read for Hashed<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let read = self.from.read(into)?;
        self.hash.update(into.get(..read).unwrap_or_default());
        Ok(read)
    }
}
