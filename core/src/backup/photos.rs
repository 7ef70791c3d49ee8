//! The folder of photographs: files named by what is in them, so that a name always means the same
//! picture, whichever phone took it.

use std::collections::HashSet;
use std::fs::{self, File};
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};
use std::time::UNIX_EPOCH;

use sha2::{Digest, Sha256};

use super::BackupError;
use crate::store::hex;

/// The largest photograph that is kept, bytes: four times what a phone camera writes.
pub(super) const MOST_BYTES: u64 = 64 << 20;
/// A photograph that no trial names may belong to one that is not saved yet, for so long, ms.
const SPARED_MS: i64 = 7 * 24 * 3_600_000;
const PIECE: usize = 1 << 16;
/// The folder of small copies within the folder of photographs: a backup has no use for them.
const SMALL: &str = "small";

/// How much room photographs take.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PhotoUsage {
    /// Photographs that trials name.
    pub photos: u32,
    /// Their bytes.
    pub bytes: i64,
    /// Files that no trial names.
    pub orphans: u32,
    /// Their bytes.
    pub orphan_bytes: i64,
    /// Photographs that trials name and that are not there.
    pub missing: u32,
}

/// The app's own folder of photographs.
#[derive(Debug, Clone)]
pub struct PhotoFolder {
    path: PathBuf,
}

/// Whether a name is one that [`PhotoFolder::keep`] gives.
pub(super) fn is_photo_name(name: &str) -> bool {
    let hash = name.strip_suffix(".jpg").or(name.strip_suffix(".png"));
    hash.is_some_and(|hash| {
        hash.len() == 64 && hash.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'))
    })
}

/// Whether a name stays within the folder.
fn is_plain(name: &str) -> bool {
    Path::new(name).file_name().is_some_and(|file| file == name)
}

impl PhotoFolder {
    /// A folder that exists or will be made.
    pub fn new(path: &Path) -> Self {
        Self {
            path: path.to_owned(),
        }
    }

    /// Where a photograph of that name is.
    pub fn file(&self, name: &str) -> PathBuf {
        self.path.join(name)
    }

    /// Moves a finished picture file of this folder to the name of its content; answers the name.
    ///
    /// # Errors
    /// Where the file cannot be read or moved, or is larger than 64 MiB.
    pub fn keep(&self, name: &str) -> Result<String, BackupError> {
        let from = self.file(name);
        let io = BackupError::io(&from);
        let mut file = File::open(&from).map_err(&io)?;
        if file.metadata().map_err(&io)?.len() > MOST_BYTES {
            return Err(BackupError::TooLarge { part: name.into() });
        }
        let (hash, first) = hashed(&mut file).map_err(&io)?;
        let ending = if first == *b"\x89PNG" { ".png" } else { ".jpg" };
        let kept = hash + ending;
        fs::rename(&from, self.file(&kept)).map_err(&io)?;
        Ok(kept)
    }

    /// Whether two names are of one picture, byte for byte; what cannot be read is like no other.
    pub(crate) fn are_one(&self, name: &str, other: &str) -> bool {
        let length = |name| fs::metadata(self.file(name)).map(|file| file.len());
        let alike = matches!((length(name), length(other)), (Ok(one), Ok(two)) if one == two);
        let same =
            || matches!((self.read(name), self.read(other)), (Ok(one), Ok(two)) if one == two);
        name == other || alike && same()
    }

    /// The bytes of a photograph.
    ///
    /// # Errors
    /// Where it is not there, cannot be read, or is larger than 64 MiB; a name that leads out of the
    /// folder is that of no photograph.
    pub fn read(&self, name: &str) -> Result<Vec<u8>, BackupError> {
        let path = self.file(name);
        let io = BackupError::io(&path);
        if !is_plain(name) {
            return Err(io(ErrorKind::NotFound.into()));
        }
        let file = File::open(&path).map_err(&io)?;
        let mut bytes = Vec::new();
        file.take(MOST_BYTES + 1)
            .read_to_end(&mut bytes)
            .map_err(&io)?;
        if bytes.len() as u64 > MOST_BYTES {
            return Err(BackupError::TooLarge { part: name.into() });
        }
        Ok(bytes)
    }

    /// Writes a picture under the name of its content; answers the name.
    ///
    /// # Errors
    /// Where it cannot be written: nothing is there then.
    pub fn put(&self, jpeg: &[u8]) -> Result<String, BackupError> {
        let name = hex(&Sha256::digest(jpeg)) + ".jpg";
        if !self.has(&name, jpeg.len() as u64) {
            self.receive(&name, jpeg)?;
        }
        Ok(name)
    }

    /// The small copy of a photograph that `make` makes of its bytes; made once and kept.
    ///
    /// # Errors
    /// As [`Self::read`], or what `make` says. That the copy cannot be kept is none.
    pub(crate) fn small<E: From<BackupError>>(
        &self,
        name: &str,
        side_px: u32,
        make: impl FnOnce(&[u8]) -> Result<Vec<u8>, E>,
    ) -> Result<Vec<u8>, E> {
        let kept = self.path.join(SMALL).join(format!("{name}.{side_px}.jpg"));
        if is_plain(name)
            && let Ok(bytes) = fs::read(&kept)
        {
            return Ok(bytes);
        }
        let made = make(&self.read(name)?)?;
        let half = kept.with_extension("half");
        let written = fs::create_dir_all(self.path.join(SMALL))
            .and_then(|()| fs::write(&half, &made))
            .and_then(|()| fs::rename(&half, &kept));
        // Without room the copy is made again the next time.
        written.or_else(|_| fs::remove_file(&half)).ok();
        Ok(made)
    }

    /// Removes the small copies of photographs that are gone, and those left half written.
    fn sweep_small(&self) {
        let copies = fs::read_dir(self.path.join(SMALL)).into_iter().flatten();
        for copy in copies.flatten() {
            let name = copy.file_name().to_string_lossy().into_owned();
            let of = name.splitn(3, '.').take(2).collect::<Vec<_>>().join(".");
            if !self.file(&of).is_file() {
                // One that stays is found by the next sweep.
                let _ = fs::remove_file(copy.path());
            }
        }
    }

    /// Whether a file is there under a name that is not its content's.
    pub(crate) fn wants_name(&self, name: &str) -> bool {
        is_plain(name) && !is_photo_name(name) && self.file(name).is_file()
    }

    /// How much room the photographs take, given the names that trials use.
    ///
    /// # Errors
    /// Where the folder cannot be read.
    pub fn usage(&self, named: &[String]) -> Result<PhotoUsage, BackupError> {
        let named: HashSet<&str> = named.iter().map(String::as_str).collect();
        let mut usage = PhotoUsage::default();
        for file in self.files()? {
            if named.contains(file.name.as_str()) {
                usage.photos += 1;
                usage.bytes += file.bytes as i64;
            } else {
                usage.orphans += 1;
                usage.orphan_bytes += file.bytes as i64;
            }
        }
        usage.missing = (named.len() as u32).saturating_sub(usage.photos);
        Ok(usage)
    }

    /// Removes the files that no trial names and that are older than a week; answers what went.
    ///
    /// # Errors
    /// Where the folder cannot be read; what was removed before stays removed.
    pub fn sweep(&self, named: &[String], now_ms: i64) -> Result<PhotoUsage, BackupError> {
        let named: HashSet<&str> = named.iter().map(String::as_str).collect();
        let mut gone = PhotoUsage::default();
        for file in self.files()? {
            let spared = now_ms.saturating_sub(file.changed_ms) < SPARED_MS;
            if !named.contains(file.name.as_str()) && !spared {
                let path = self.file(&file.name);
                fs::remove_file(&path).map_err(BackupError::io(&path))?;
                gone.orphans += 1;
                gone.orphan_bytes += file.bytes as i64;
            }
        }
        self.sweep_small();
        Ok(gone)
    }

    /// Whether a photograph of that content is there already.
    pub(super) fn has(&self, name: &str, bytes: u64) -> bool {
        let facts = fs::metadata(self.file(name));
        facts.is_ok_and(|facts| facts.is_file() && facts.len() == bytes)
    }

    /// Writes a photograph under a temporary name and gives it its own once all of it is there and
    /// its content is what its name says.
    pub(super) fn receive(&self, name: &str, from: impl Read) -> Result<(), BackupError> {
        fs::create_dir_all(&self.path).map_err(BackupError::io(&self.path))?;
        let half = self.file(&[name, ".half"].concat());
        let written = self.written(name, &half, from);
        if written.is_err() {
            // Half a picture is of no use; the error is what matters.
            let _ = fs::remove_file(&half);
        }
        written
    }

    fn written(&self, name: &str, half: &Path, mut from: impl Read) -> Result<(), BackupError> {
        let io = BackupError::io(half);
        let mut to = File::create(half).map_err(&io)?;
        let mut hash = Sha256::new();
        let mut piece = vec![0; PIECE];
        loop {
            let read = from
                .read(&mut piece)
                .map_err(|_| BackupError::damaged(name))?;
            let bytes = piece.get(..read).unwrap_or_default();
            if bytes.is_empty() {
                break;
            }
            hash.update(bytes);
            std::io::Write::write_all(&mut to, bytes).map_err(&io)?;
        }
        if !name.starts_with(&hex(&hash.finalize())) {
            return Err(BackupError::damaged(name));
        }
        to.sync_all().map_err(&io)?;
        fs::rename(half, self.file(name)).map_err(&io)
    }

    pub(crate) fn remove(&self, name: &str) {
        // An orphan that stays is found by the next sweep.
        let _ = fs::remove_file(self.file(name));
    }

    fn files(&self) -> Result<Vec<Found>, BackupError> {
        let io = BackupError::io(&self.path);
        if !self.path.is_dir() {
            return Ok(Vec::new());
        }
        let mut all = Vec::new();
        for entry in fs::read_dir(&self.path).map_err(&io)? {
            let entry = entry.map_err(&io)?;
            let facts = entry.metadata().map_err(&io)?;
            if let (true, Ok(name)) = (facts.is_file(), entry.file_name().into_string()) {
                let changed = facts.modified().ok();
                let since = changed.and_then(|at| at.duration_since(UNIX_EPOCH).ok());
                all.push(Found {
                    name,
                    bytes: facts.len(),
                    changed_ms: since.map_or(0, |since| since.as_millis() as i64),
                });
            }
        }
        Ok(all)
    }
}

struct Found {
    name: String,
    bytes: u64,
    changed_ms: i64,
}

/// The SHA-256 of a file and its first four bytes.
fn hashed(file: &mut File) -> std::io::Result<(String, [u8; 4])> {
    let mut hash = Sha256::new();
    let mut first = None;
    let mut piece = vec![0; PIECE];
    loop {
        let read = file.read(&mut piece)?;
        let bytes = piece.get(..read).unwrap_or_default();
        if bytes.is_empty() {
            return Ok((hex(&hash.finalize()), first.unwrap_or_default()));
        }
        first = first.or(bytes.first_chunk().copied());
        hash.update(bytes);
    }
}
