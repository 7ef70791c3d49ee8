//! Reading a zip that anybody may have made: names, sizes and counts are checked before a byte of
//! a part is believed, and nothing is ever written under a name that the zip gives.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::{Read, Seek, SeekFrom, Take};
use std::path::{Path, PathBuf};

use flate2::read::DeflateDecoder;

use super::BackupError;

/// Parts a backup may have: ten times the photographs of a large workshop.
const MOST_PARTS: u64 = 100_000;
/// Bytes of the directory: those parts with the longest names a backup gives.
const DIRECTORY_BYTES: u64 = 32 << 20;
/// The end record and the longest comment after it.
const TAIL: u64 = 22 + 0xffff;
/// How many times smaller a deflated part may be: rows of a workshop reach thirty.
const RATIO: u64 = 300;

#[derive(Debug, Clone, Copy)]
struct Entry {
    deflated: bool,
    packed: u64,
    size: u64,
    at: u64,
}

/// A zip being read.
#[derive(Debug)]
pub(super) struct ZipReader {
    file: File,
    path: PathBuf,
    entries: BTreeMap<String, Entry>,
}

/// The bytes of one part.
pub(super) enum PartReader<'a> {
    Stored(Take<&'a mut File>),
    Deflated(Take<DeflateDecoder<Take<&'a mut File>>>),
}

impl Read for PartReader<'_> {
    fn read(&mut self, into: &mut [u8]) -> std::io::Result<usize> {
        match self {
            Self::Stored(from) => from.read(into),
            Self::Deflated(from) => from.read(into),
        }
    }
}

impl ZipReader {
    pub(super) fn open(path: &Path) -> Result<Self, BackupError> {
        let io = BackupError::io(path);
        let mut file = File::open(path).map_err(&io)?;
        let length = file.metadata().map_err(&io)?.len();
        let (count, size, start) = directory(&mut file, length, path)?;
        if count > MOST_PARTS || size > DIRECTORY_BYTES {
            return Err(BackupError::not_a_backup(
                "it has more parts than a workshop",
            ));
        }
        if start.checked_add(size).is_none_or(|end| end > length) {
            return Err(BackupError::not_a_backup("its directory is cut off"));
        }
        let bytes = read_at(&mut file, start, size, path)?;
        let entries = entries(&bytes, count, start)
            .ok_or_else(|| BackupError::not_a_backup("its directory cannot be read"))?;
        Ok(Self {
            file,
            path: path.to_owned(),
            entries,
        })
    }

    /// The unpacked size of a part.
    pub(super) fn size(&self, name: &str) -> Option<u64> {
        self.entries.get(name).map(|entry| entry.size)
    }

    /// The bytes of a part, at most as many as its directory entry says.
    pub(super) fn part(&mut self, name: &str) -> Result<PartReader<'_>, BackupError> {
        let lacks = || BackupError::not_a_backup(&["it has no part ", name].concat());
        let entry = *self.entries.get(name).ok_or_else(lacks)?;
        let damaged = || BackupError::damaged(name);
        let header = read_at(&mut self.file, entry.at, 30, &self.path).map_err(|_| damaged())?;
        let local = Fields(&header);
        if local.u32(0) != Some(0x0403_4b50) {
            return Err(damaged());
        }
        let skipped = u64::from(local.u16(26).unwrap_or(0)) + u64::from(local.u16(28).unwrap_or(0));
        let data = entry.at.checked_add(30 + skipped).ok_or_else(damaged)?;
        self.file
            .seek(SeekFrom::Start(data))
            .map_err(BackupError::io(&self.path))?;
        let packed = (&mut self.file).take(entry.packed);
        Ok(if entry.deflated {
            PartReader::Deflated(DeflateDecoder::new(packed).take(entry.size))
        } else {
            PartReader::Stored(packed)
        })
    }
}

/// Entries, bytes and place of the directory.
fn directory(file: &mut File, length: u64, path: &Path) -> Result<(u64, u64, u64), BackupError> {
    let tail = length.min(TAIL);
    let bytes = read_at(file, length - tail, tail, path)?;
    let no_zip = || BackupError::not_a_backup("it is no zip file");
    let mut places = (0..bytes.len().saturating_sub(21)).rev();
    let end = places.find(|&at| bytes[at..].starts_with(b"PK\x05\x06"));
    let end = end.ok_or_else(no_zip)?;
    let fields = Fields(&bytes[end..]);
    let small = |at| fields.u16(at).map(u64::from);
    let wide = |at| fields.u32(at).map(u64::from);
    let classic = small(10).zip(wide(12)).zip(wide(16));
    let ((count, size), start) = classic.ok_or_else(no_zip)?;
    let is_64 = count == 0xffff || size == 0xffff_ffff || start == 0xffff_ffff;
    let locator = end.checked_sub(20).map(|at| Fields(&bytes[at..end]));
    let locator = locator.filter(|locator| is_64 && locator.u32(0) == Some(0x0706_4b50));
    let Some(locator) = locator else {
        return Ok((count, size, start));
    };
    let at = locator.u64(8).ok_or_else(no_zip)?;
    let record = read_at(file, at, 56, path).map_err(|_| no_zip())?;
    let record = Fields(&record);
    let found = record.u64(32).zip(record.u64(40)).zip(record.u64(48));
    let found = found.filter(|_| record.u32(0) == Some(0x0606_4b50));
    found.map(|((c, z), s)| (c, z, s)).ok_or_else(no_zip)
}

/// The entries of a directory; `None` where it is malformed, names a part twice, or names one that
/// no backup has.
fn entries(bytes: &[u8], count: u64, directory_at: u64) -> Option<BTreeMap<String, Entry>> {
    let mut entries = BTreeMap::new();
    let mut rest = bytes;
    for _ in 0..count {
        let fields = Fields(rest);
        if fields.u32(0)? != 0x0201_4b50 {
            return None;
        }
        let name_end = 46 + usize::from(fields.u16(28)?);
        let extra_end = name_end + usize::from(fields.u16(30)?);
        let next = extra_end + usize::from(fields.u16(32)?);
        let name = std::str::from_utf8(rest.get(46..name_end)?).ok()?;
        let mut entry = Entry {
            deflated: fields.u16(10)? == 8,
            packed: fields.u32(20)?.into(),
            size: fields.u32(24)?.into(),
            at: fields.u32(42)?.into(),
        };
        widen(&mut entry, Fields(rest.get(name_end..extra_end)?))?;
        let is_folder = name.ends_with('/') && entry.size == 0;
        let encrypted = fields.u16(8)? & 1 == 1;
        let known_method = matches!(fields.u16(10)?, 0 | 8);
        let honest = entry.at < directory_at
            && entry.packed <= directory_at
            && entry.size <= entry.packed.saturating_mul(RATIO).saturating_add(4096)
            && (entry.deflated || entry.size == entry.packed);
        if encrypted || !known_method || !honest || !(is_folder || is_name_of_a_part(name)) {
            return None;
        }
        if !is_folder && entries.insert(name.to_owned(), entry).is_some() {
            return None;
        }
        rest = rest.get(next..)?;
    }
    Some(entries)
}

/// Takes the wide numbers of a zip64 field, in the order the format gives them.
fn widen(entry: &mut Entry, extra: Fields) -> Option<()> {
    let mut at = 0;
    while let (Some(kind), Some(length)) = (extra.u16(at), extra.u16(at + 2)) {
        if kind == 1 {
            let mut from = at + 4;
            for field in [&mut entry.size, &mut entry.packed, &mut entry.at] {
                if *field == 0xffff_ffff {
                    *field = extra.u64(from)?;
                    from += 8;
                }
            }
        }
        at += 4 + usize::from(length);
    }
    Some(())
}

/// A name that a backup gives its parts: no path can lead out of it.
fn is_name_of_a_part(name: &str) -> bool {
    match name.strip_prefix("photos/") {
        Some(photo) => super::photos::is_photo_name(photo),
        None => matches!(name, "workshop.json" | "manifest.json"),
    }
}

fn read_at(file: &mut File, at: u64, bytes: u64, path: &Path) -> Result<Vec<u8>, BackupError> {
    let io = BackupError::io(path);
    file.seek(SeekFrom::Start(at)).map_err(&io)?;
    let mut read = vec![0; usize::try_from(bytes).unwrap_or(0)];
    file.read_exact(&mut read).map_err(&io)?;
    Ok(read)
}

/// Little-endian numbers at places of a record.
#[derive(Clone, Copy)]
struct Fields<'a>(&'a [u8]);

impl Fields<'_> {
    fn u16(self, at: usize) -> Option<u16> {
        let bytes = self.0.get(at..at + 2)?;
        Some(u16::from_le_bytes(bytes.try_into().ok()?))
    }

    fn u32(self, at: usize) -> Option<u32> {
        let bytes = self.0.get(at..at + 4)?;
        Some(u32::from_le_bytes(bytes.try_into().ok()?))
    }

    fn u64(self, at: usize) -> Option<u64> {
        let bytes = self.0.get(at..at + 8)?;
        Some(u64::from_le_bytes(bytes.try_into().ok()?))
    }
}
