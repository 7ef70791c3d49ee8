//! Writing a zip as a stream (PKWARE APPNOTE 6.3.10): sizes and checksums follow each part, zip64
//! records stand where a classic number is too small. Times are left out: 1 January 1980.

use flate2::write::DeflateEncoder;
use flate2::{Compression, Crc};
use sha2::{Digest, Sha256};

use super::manifest::Part;
use crate::store::hex;

const LOCAL: u32 = 0x0403_4b50;
const DESCRIPTOR: u32 = 0x0807_4b50;
const CENTRAL: u32 = 0x0201_4b50;
const END: u32 = 0x0605_4b50;
const END_64: u32 = 0x0606_4b50;
const LOCATOR_64: u32 = 0x0706_4b50;
/// 1 January 1980 as a DOS date.
const DATE: u16 = 0x0021;
/// Version 4.5 of the format: zip64.
const NEEDS: u16 = 45;
/// Sizes follow the data; names are UTF-8.
const FLAGS: u16 = 0x0808;
const SMALL: u64 = 0xffff_ffff;

/// How a part is stored.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Method {
    /// As it is: photographs are compressed already.
    Stored = 0,
    /// Deflated.
    Deflated = 8,
}

#[derive(Debug)]
struct Entry {
    name: String,
    method: Method,
    crc: u32,
    packed: u64,
    size: u64,
    at: u64,
}

#[derive(Debug)]
struct Open {
    entry: Entry,
    crc: Crc,
    sha: Sha256,
    deflater: Option<DeflateEncoder<Vec<u8>>>,
}

/// A zip being written; whoever calls drains [`ZipWriter::out`] as he likes.
#[derive(Debug, Default)]
pub(super) struct ZipWriter {
    /// What was written since it was last drained.
    pub(super) out: Vec<u8>,
    drained: u64,
    entries: Vec<Entry>,
    open: Option<Open>,
}

impl ZipWriter {
    /// Takes what was written so far.
    pub(super) fn drain(&mut self) -> Vec<u8> {
        self.drained += self.out.len() as u64;
        std::mem::take(&mut self.out)
    }

    fn at(&self) -> u64 {
        self.drained + self.out.len() as u64
    }

    /// Begins a part.
    pub(super) fn begin(&mut self, name: &str, method: Method) {
        let entry = Entry {
            name: name.to_owned(),
            method,
            crc: 0,
            packed: 0,
            size: 0,
            at: self.at(),
        };
        put32(&mut self.out, LOCAL);
        for field in [NEEDS, FLAGS, method as u16, 0, DATE] {
            put16(&mut self.out, field);
        }
        for _ in 0..3 {
            put32(&mut self.out, 0);
        }
        put16(&mut self.out, name.len() as u16);
        put16(&mut self.out, 0);
        self.out.extend(name.bytes());
        let deflater = DeflateEncoder::new(Vec::new(), Compression::default());
        self.open = Some(Open {
            entry,
            crc: Crc::new(),
            sha: Sha256::new(),
            deflater: (method == Method::Deflated).then_some(deflater),
        });
    }

    /// Appends to the open part.
    pub(super) fn write(&mut self, bytes: &[u8]) -> std::io::Result<()> {
        let Some(open) = &mut self.open else {
            return Ok(());
        };
        open.crc.update(bytes);
        open.sha.update(bytes);
        open.entry.size += bytes.len() as u64;
        let Some(deflater) = &mut open.deflater else {
            open.entry.packed += bytes.len() as u64;
            self.out.extend_from_slice(bytes);
            return Ok(());
        };
        std::io::Write::write_all(deflater, bytes)?;
        open.entry.packed += deflater.get_ref().len() as u64;
        self.out.append(deflater.get_mut());
        Ok(())
    }

    /// Ends the open part; answers what the manifest says of it.
    pub(super) fn end(&mut self) -> std::io::Result<Option<Part>> {
        let Some(mut open) = self.open.take() else {
            return Ok(None);
        };
        if let Some(deflater) = open.deflater.take() {
            let mut rest = deflater.finish()?;
            open.entry.packed += rest.len() as u64;
            self.out.append(&mut rest);
        }
        open.entry.crc = open.crc.sum();
        put32(&mut self.out, DESCRIPTOR);
        put32(&mut self.out, open.entry.crc);
        // A part is at most as large as its reader allows, far below 4 GiB.
        put32(&mut self.out, open.entry.packed as u32);
        put32(&mut self.out, open.entry.size as u32);
        let part = Part {
            name: open.entry.name.clone(),
            bytes: open.entry.size,
            sha256: hex(&open.sha.finalize()),
        };
        self.entries.push(open.entry);
        Ok(Some(part))
    }

    /// Writes the directory.
    pub(super) fn finish(&mut self) {
        let start = self.at();
        for entry in &self.entries {
            central(entry, &mut self.out);
        }
        let (count, size) = (self.entries.len() as u64, self.at() - start);
        let end_64 = self.at();
        put32(&mut self.out, END_64);
        put64(&mut self.out, 44);
        put16(&mut self.out, NEEDS);
        put16(&mut self.out, NEEDS);
        put32(&mut self.out, 0);
        put32(&mut self.out, 0);
        for field in [count, count, size, start] {
            put64(&mut self.out, field);
        }
        put32(&mut self.out, LOCATOR_64);
        put32(&mut self.out, 0);
        put64(&mut self.out, end_64);
        put32(&mut self.out, 1);
        put32(&mut self.out, END);
        put32(&mut self.out, 0);
        let few = count.min(0xffff) as u16;
        put16(&mut self.out, few);
        put16(&mut self.out, few);
        put32(&mut self.out, size.min(SMALL) as u32);
        put32(&mut self.out, start.min(SMALL) as u32);
        put16(&mut self.out, 0);
    }
}

fn central(entry: &Entry, out: &mut Vec<u8>) {
    let far = entry.at >= SMALL;
    put32(out, CENTRAL);
    for field in [NEEDS, NEEDS, FLAGS, entry.method as u16, 0, DATE] {
        put16(out, field);
    }
    for field in [entry.crc, entry.packed as u32, entry.size as u32] {
        put32(out, field);
    }
    put16(out, entry.name.len() as u16);
    put16(out, if far { 12 } else { 0 });
    for _ in 0..3 {
        put16(out, 0);
    }
    put32(out, 0);
    put32(out, entry.at.min(SMALL) as u32);
    out.extend(entry.name.bytes());
    if far {
        put16(out, 1);
        put16(out, 8);
        put64(out, entry.at);
    }
}

fn put16(out: &mut Vec<u8>, value: u16) {
    out.extend(value.to_le_bytes());
}

fn put32(out: &mut Vec<u8>, value: u32) {
    out.extend(value.to_le_bytes());
}

fn put64(out: &mut Vec<u8>, value: u64) {
    out.extend(value.to_le_bytes());
}
