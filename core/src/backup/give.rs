//! Making a backup, a piece at a time.

use std::collections::VecDeque;
use std::fs::File;
use std::io::Read;
use std::path::Path;

use super::BackupError;
use super::manifest::Manifest;
use super::photos::{PhotoFolder, is_photo_name};
use super::zip_write::{Method, ZipWriter};
use crate::store::Dump;

/// Bytes of a photograph that one piece carries.
const PIECE: usize = 1 << 20;

/// The next bytes of a backup.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BackupPiece {
    /// To be appended to the document.
    pub bytes: Vec<u8>,
    /// Bytes of the workshop and its photographs that were read so far.
    pub done_bytes: i64,
    /// Bytes to read in all; close, not exact.
    pub total_bytes: i64,
}

/// A backup being made. To stop, drop it: nothing but the document was written.
#[derive(Debug)]
pub struct Giving {
    dump: Option<Dump>,
    folder: PhotoFolder,
    waiting: VecDeque<String>,
    open: Option<(String, File)>,
    zip: ZipWriter,
    manifest: Option<Manifest>,
    done: u64,
    total: u64,
}

impl Giving {
    /// Begins a backup of the workshop as it is now.
    ///
    /// # Errors
    /// Where the workshop file cannot be read.
    pub fn begin(workshop: &Path, folder: &PhotoFolder, made_ms: i64) -> Result<Self, BackupError> {
        let dump = Dump::begin(workshop)?;
        let mut manifest = Manifest::new(made_ms);
        let mut named = dump.photos()?;
        named.sort_unstable();
        let size = |name: &String| folder.file(name).metadata().map(|facts| facts.len()).ok();
        let (there, missing): (Vec<String>, Vec<String>) = named
            .into_iter()
            .partition(|name| is_photo_name(name) && size(name).is_some());
        manifest.missing_photos = missing;
        let rows = workshop.metadata().map_or(0, |facts| facts.len());
        let photos: u64 = there.iter().filter_map(size).sum();
        let mut zip = ZipWriter::default();
        zip.begin("workshop.json", Method::Deflated);
        Ok(Self {
            dump: Some(dump),
            folder: folder.clone(),
            waiting: there.into(),
            open: None,
            zip,
            manifest: Some(manifest),
            done: 0,
            total: rows + photos,
        })
    }

    /// The next bytes of the backup; `None` after the last.
    ///
    /// # Errors
    /// Where the workshop or a photograph cannot be read: the document is then no backup.
    pub fn next_piece(&mut self) -> Result<Option<BackupPiece>, BackupError> {
        if self.dump.is_some() {
            self.rows()?;
        } else if self.open.is_some() {
            self.photo()?;
        } else if let Some(name) = self.waiting.pop_front() {
            self.open_photo(name)?;
        } else if let Some(manifest) = self.manifest.take() {
            self.close(&manifest)?;
        } else {
            return Ok(None);
        }
        Ok(Some(BackupPiece {
            bytes: self.zip.drain(),
            done_bytes: self.done.min(self.total) as i64,
            total_bytes: self.total as i64,
        }))
    }

    /// Writes the whole backup, asking after each piece whether to go on.
    ///
    /// # Errors
    /// As [`Giving::next_piece`], and where the document cannot be written. `Ok(false)` where it
    /// was told to stop.
    pub fn write_to(
        mut self,
        document: &Path,
        mut go_on: impl FnMut(&BackupPiece) -> bool,
    ) -> Result<bool, BackupError> {
        let io = BackupError::io(document);
        let mut file = File::create_new(document).map_err(&io)?;
        while let Some(piece) = self.next_piece()? {
            std::io::Write::write_all(&mut file, &piece.bytes).map_err(&io)?;
            if !go_on(&piece) {
                return Ok(false);
            }
        }
        file.sync_all().map_err(&io)?;
        Ok(true)
    }

    fn rows(&mut self) -> Result<(), BackupError> {
        let mut rows = Vec::new();
        let more = match &mut self.dump {
            Some(dump) => dump.next(&mut rows)?,
            None => false,
        };
        self.done += rows.len() as u64;
        self.write(&rows)?;
        if !more {
            self.dump = None;
            self.end_part()?;
        }
        Ok(())
    }

    fn open_photo(&mut self, name: String) -> Result<(), BackupError> {
        let path = self.folder.file(&name);
        let file = File::open(&path).map_err(BackupError::io(&path))?;
        self.zip.begin(&["photos/", &name].concat(), Method::Stored);
        self.open = Some((name, file));
        self.photo()
    }

    fn photo(&mut self) -> Result<(), BackupError> {
        let Some((name, file)) = &mut self.open else {
            return Ok(());
        };
        let mut piece = Vec::with_capacity(PIECE);
        let read = file.take(PIECE as u64).read_to_end(&mut piece);
        read.map_err(BackupError::io(&self.folder.file(name)))?;
        self.done += piece.len() as u64;
        self.write(&piece)?;
        if piece.len() < PIECE {
            self.open = None;
            self.end_part()?;
        }
        Ok(())
    }

    /// Writes what the backup says of itself, and the directory of the zip.
    fn close(&mut self, manifest: &Manifest) -> Result<(), BackupError> {
        let text = serde_json::to_vec_pretty(manifest);
        let text = text.map_err(|error| BackupError::not_a_backup(&error.to_string()))?;
        self.zip.begin("manifest.json", Method::Stored);
        self.write(&text)?;
        self.zip.end().map_err(|error| unwritten(&error))?;
        self.zip.finish();
        Ok(())
    }

    fn write(&mut self, bytes: &[u8]) -> Result<(), BackupError> {
        self.zip.write(bytes).map_err(|error| unwritten(&error))
    }

    fn end_part(&mut self) -> Result<(), BackupError> {
        let ended = self.zip.end().map_err(|error| unwritten(&error))?;
        if let (Some(part), Some(manifest)) = (ended, &mut self.manifest) {
            let photo = part.name.strip_prefix("photos/");
            // A picture that has changed on the disk is carried, and told to be damaged.
            if let Some(rotten) = photo.filter(|name| !name.starts_with(&part.sha256)) {
                manifest.missing_photos.push(rotten.to_owned());
            }
            manifest.parts.push(part);
        }
        Ok(())
    }
}

/// Packing in memory fails for no reason of ours.
fn unwritten(error: &std::io::Error) -> BackupError {
    BackupError::Io {
        path: "workshop.json".into(),
        detail: error.to_string(),
    }
}
