//! A copy of a JPEG that holds the picture and nothing about who took it, where and with what.
//!
//! Format: ITU-T T.81 (JPEG), annex B. Kept are the segments that decoders need for the pixels and
//! their colours; gone are EXIF, XMP, IPTC, comments, maker notes, embedded previews, and whatever
//! follows the end of the image (second pictures, films). An orientation is written anew, alone.

use super::AlbumError;
use crate::photo::{ExifFacts, Orientation, PhotoError};

const MARKER: u8 = 0xff;
const SOI: u8 = 0xd8;
const EOI: u8 = 0xd9;
const SOS: u8 = 0xda;
const APP0: u8 = 0xe0;
const APP1: u8 = 0xe1;
const APP2: u8 = 0xe2;
const APP14: u8 = 0xee;
const EXIF: &[u8] = b"Exif\0\0";

/// The same picture without anything that was written beside it.
///
/// # Errors
/// [`PhotoError::NotJpeg`], [`PhotoError::Damaged`] where the file ends within the picture.
pub fn without_metadata(jpeg: &[u8]) -> Result<Vec<u8>, AlbumError> {
    let mut rest = jpeg
        .strip_prefix(&[MARKER, SOI])
        .ok_or(PhotoError::NotJpeg)?;
    let mut kept: Vec<u8> = Vec::with_capacity(jpeg.len());
    let mut orientation = None;
    loop {
        let (segment, after) = segment(rest)?;
        rest = after;
        match segment.marker {
            EOI => break,
            // Readers take the first.
            APP1 => orientation = orientation.or(turned(segment.content)),
            marker if is_picture(marker, segment.content) => kept.extend(segment.whole),
            _ => {}
        }
        if segment.marker == SOS {
            let (scan, after) = scan(rest)?;
            kept.extend(scan);
            rest = after;
        }
    }
    let mut out = vec![MARKER, SOI];
    if let Some(turned @ 2..) = orientation {
        out.extend(orientation_alone(turned));
    }
    out.extend(kept);
    out.extend([MARKER, EOI]);
    Ok(out)
}

/// A marker with its length and content, and what follows it.
struct Segment<'a> {
    marker: u8,
    content: &'a [u8],
    whole: &'a [u8],
}

fn segment(bytes: &[u8]) -> Result<(Segment<'_>, &[u8]), AlbumError> {
    // Any number of fill bytes may stand before a marker.
    let fill = bytes.iter().take_while(|byte| **byte == MARKER).count();
    let from = bytes.get(fill.saturating_sub(1)..).unwrap_or_default();
    let (Some(&MARKER), Some(&marker)) = (from.first(), from.get(1)) else {
        return Err(cut_short());
    };
    if marker == EOI {
        let (whole, after) = from.split_at_checked(2).ok_or_else(cut_short)?;
        return Ok((
            Segment {
                marker,
                content: &[],
                whole,
            },
            after,
        ));
    }
    let length = from.get(2..4).and_then(|two| two.first_chunk::<2>());
    let length = usize::from(u16::from_be_bytes(*length.ok_or_else(cut_short)?));
    let (whole, after) = from.split_at_checked(2 + length).ok_or_else(cut_short)?;
    let content = whole.get(4..).ok_or_else(cut_short)?;
    Ok((
        Segment {
            marker,
            content,
            whole,
        },
        after,
    ))
}

/// The coded pixels up to the next marker that is neither stuffing nor a restart.
fn scan(bytes: &[u8]) -> Result<(&[u8], &[u8]), AlbumError> {
    let ends = bytes.windows(2).position(|two| match two {
        [MARKER, next] => !matches!(*next, 0x00 | 0xd0..=0xd7 | MARKER),
        _ => false,
    });
    bytes
        .split_at_checked(ends.ok_or_else(cut_short)?)
        .ok_or_else(cut_short)
}

/// Whether decoders need a segment: tables, frames, scans, and how colours are meant.
fn is_picture(marker: u8, content: &[u8]) -> bool {
    match marker {
        // Frames, Huffman and arithmetic tables, scan, quantisation, lines, restarts.
        0xc0..=0xcf | SOS | 0xdb | 0xdc | 0xdd => true,
        // A JFIF header may carry a thumbnail behind its 14 bytes; JFXX holds nothing else.
        APP0 => content.starts_with(b"JFIF\0") && content.len() == 14,
        APP2 => content.starts_with(b"ICC_PROFILE\0"),
        APP14 => content.starts_with(b"Adobe"),
        _ => false,
    }
}

/// How an EXIF block says the picture is turned; `None` where it is none.
fn turned(content: &[u8]) -> Option<u8> {
    let facts = ExifFacts::parse(content.strip_prefix(EXIF)?);
    (1..=8).find(|value| Orientation::from_exif(u32::from(*value)) == facts.orientation)
}

/// An EXIF block that says nothing but the orientation (TIFF 6.0, tag 274).
fn orientation_alone(value: u8) -> Vec<u8> {
    let entry = [0x12, 0x01, 3, 0, 1, 0, 0, 0, value, 0, 0, 0];
    let tiff = [b"II*\0\x08\0\0\0\x01\0".as_slice(), &entry, &[0; 4]].concat();
    let length = 2 + EXIF.len() + tiff.len();
    let head = [MARKER, APP1, 0, length as u8];
    [head.as_slice(), EXIF, &tiff].concat()
}

fn cut_short() -> AlbumError {
    let detail = "the file ends within the picture".into();
    PhotoError::Damaged { detail }.into()
}
