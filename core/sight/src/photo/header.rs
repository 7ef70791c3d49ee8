//! What a JPEG file says about itself, read before anything is decoded or allocated.
//!
//! Marker layout: ITU-T T.81 (1992), Annex B.

use super::PhotoError;

/// Smallest side that can be measured, px. Chosen by hand; not tuned.
pub const MIN_SIDE_PX: usize = 64;
/// Largest picture decoded, millions of px: above the 50 MP that phones write, and 64 MB as one plane.
pub const MAX_MEGAPIXELS: usize = 64;

/// The facts of the frame header and the raw EXIF block.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Header<'a> {
    /// Stored width, px.
    pub width: usize,
    /// Stored height, px.
    pub height: usize,
    /// 1 for greyscale, 3 for colour.
    pub components: u8,
    /// Several passes over the whole picture.
    pub progressive: bool,
    /// TIFF bytes of the EXIF block, if any.
    pub exif: Option<&'a [u8]>,
}

struct Segment<'a> {
    marker: u8,
    body: &'a [u8],
}

/// Splits the segments up to the first scan; `None` at the end or where the file stops making sense.
struct Segments<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl<'a> Iterator for Segments<'a> {
    type Item = Segment<'a>;

    fn next(&mut self) -> Option<Segment<'a>> {
        let skipped = self
            .bytes
            .get(self.at..)?
            .windows(2)
            .position(|w| matches!(w, [0xff, m] if *m != 0 && *m != 0xff))?;
        let start = self.at + skipped;
        let marker = *self.bytes.get(start + 1)?;
        if matches!(marker, 0x01 | 0xd0..=0xd9) {
            self.at = start + 2;
            return Some(Segment { marker, body: &[] });
        }
        let length = self.bytes.get(start + 2..start + 4)?;
        let length = usize::from(u16::from_be_bytes([length[0], length[1]]));
        let body = self.bytes.get(start + 4..start + 2 + length)?;
        self.at = start + 2 + length;
        Some(Segment { marker, body })
    }
}

/// Reads the header and checks it against the caps.
///
/// # Errors
/// [`PhotoError`] for anything that is not an 8-bit grey or three-component baseline or
/// progressive JPEG of an acceptable size whose end is present.
pub fn read(bytes: &[u8]) -> Result<Header<'_>, PhotoError> {
    if !bytes.starts_with(&[0xff, 0xd8, 0xff]) {
        return Err(PhotoError::NotJpeg);
    }
    let mut exif = None;
    let mut frame = None;
    let mut segments = Segments { bytes, at: 2 };
    for segment in segments.by_ref() {
        match segment.marker {
            0xe1 if exif.is_none() => exif = segment.body.strip_prefix(b"Exif\0\0"),
            0xc0..=0xc3 | 0xc5..=0xc7 | 0xc9..=0xcb | 0xcd..=0xcf => {
                frame.get_or_insert(parse_frame(&segment)?);
            }
            0xda => break,
            _ => {}
        }
    }
    let mut header = frame.ok_or_else(|| damaged("no frame header"))?;
    header.exif = exif;
    check_caps(&header, bytes, segments.at)?;
    Ok(header)
}

fn damaged(detail: &str) -> PhotoError {
    PhotoError::Damaged {
        detail: detail.to_owned(),
    }
}

fn parse_frame<'a>(segment: &Segment<'a>) -> Result<Header<'a>, PhotoError> {
    let &[precision, h1, h0, w1, w0, components, ..] = segment.body else {
        return Err(damaged("frame header cut short"));
    };
    let kind = match (segment.marker, precision, components) {
        (0xc3 | 0xc5..=0xc7, ..) => Some("lossless or hierarchical"),
        (0xc9.., ..) => Some("arithmetic-coded"),
        (_, 12, _) => Some("12-bit"),
        (_, 16, _) => Some("16-bit"),
        (_, _, 4) => Some("CMYK"),
        (_, 8, 1 | 3) => None,
        _ => Some("unusual"),
    };
    match kind {
        Some(kind) => Err(PhotoError::Unsupported { kind }),
        None => Ok(Header {
            width: usize::from(u16::from_be_bytes([w1, w0])),
            height: usize::from(u16::from_be_bytes([h1, h0])),
            components,
            progressive: segment.marker == 0xc2,
            exif: None,
        }),
    }
}

fn check_caps(header: &Header<'_>, bytes: &[u8], scan_start: usize) -> Result<(), PhotoError> {
    let (width, height) = (header.width, header.height);
    if width.min(height) < MIN_SIDE_PX || width * height > MAX_MEGAPIXELS * 1_000_000 {
        return Err(PhotoError::Size {
            width,
            height,
            min_side: MIN_SIDE_PX,
            max_megapixels: MAX_MEGAPIXELS,
        });
    }
    let scan = bytes.get(scan_start..).unwrap_or_default();
    // Each 8 x 8 luma block of a baseline file costs two Huffman codes of at least one bit.
    let least_bytes = width.div_ceil(8) * height.div_ceil(8) / 4;
    if !header.progressive && scan.len() < least_bytes {
        return Err(PhotoError::HeaderLies {
            width,
            height,
            bytes: bytes.len(),
        });
    }
    if !scan.windows(2).any(|w| w == [0xff, 0xd9]) {
        return Err(damaged("the end of the picture is missing"));
    }
    Ok(())
}
