//! A picture as a PNG file (ISO/IEC 15948): eight bits a channel, in one piece.

use flate2::Crc;

use super::SheetError;
use super::embed::deflated;

const SIGNATURE: [u8; 8] = *b"\x89PNG\r\n\x1a\n";
/// Bits a channel, red green blue and opacity, then the only packing, the only filters, not interlaced.
const KIND: [u8; 5] = [8, 6, 0, 0, 0];
const PIXEL_BYTES: usize = 4;
/// Each byte less the one above it: most of a sheet is as what stands above it.
const UP: u8 = 2;

/// The file of a picture whose rows lie one after another, four bytes a pixel.
pub(super) fn file(width: u32, height: u32, pixels: &[u8]) -> Result<Vec<u8>, SheetError> {
    let mut file = SIGNATURE.to_vec();
    let size = [width.to_be_bytes(), height.to_be_bytes()].concat();
    chunk(&mut file, *b"IHDR", &[&size[..], &KIND].concat());
    let rows = filtered(width as usize * PIXEL_BYTES, pixels);
    chunk(&mut file, *b"IDAT", &deflated(&rows)?);
    chunk(&mut file, *b"IEND", &[]);
    Ok(file)
}

fn filtered(row_bytes: usize, pixels: &[u8]) -> Vec<u8> {
    let mut filtered = Vec::with_capacity(pixels.len() + pixels.len() / row_bytes.max(1));
    let mut above = &vec![0; row_bytes][..];
    for row in pixels.chunks_exact(row_bytes) {
        filtered.push(UP);
        filtered.extend(
            row.iter()
                .zip(above)
                .map(|(here, up)| here.wrapping_sub(*up)),
        );
        above = row;
    }
    filtered
}

fn chunk(file: &mut Vec<u8>, name: [u8; 4], content: &[u8]) {
    file.extend((content.len() as u32).to_be_bytes());
    let from = file.len();
    file.extend(name);
    file.extend(content);
    let mut check = Crc::new();
    check.update(&file[from..]);
    file.extend(check.sum().to_be_bytes());
}
