//! Small copies.

use jpeg_encoder::{ColorType, Encoder};

use super::AlbumError;
use crate::photo::{self, Photo, Planes};

/// Of what a small copy keeps; fine enough that holes of arrows are seen.
const QUALITY: u8 = 86;

/// A copy whose longer side is at most `side_px` (16 to 1024; other sides are taken as the nearest
/// of these), upright, as JPEG without metadata. Each pixel is the mean of those it stands for.
///
/// # Errors
/// [`AlbumError::Photo`] for bytes that are no photograph.
pub fn thumbnail(jpeg: &[u8], side_px: u32) -> Result<Vec<u8>, AlbumError> {
    let photo = photo::decode(jpeg, Planes::Colour)?;
    let (width, height) = (photo.width(), photo.height());
    let side = f64::from(side_px.clamp(16, 1024));
    let step = (width.max(height) as f64 / side).max(1.0);
    let scaled = |length: usize| ((length as f64 / step) as usize).max(1);
    let (columns, rows) = (scaled(width), scaled(height));
    let mut rgb = Vec::with_capacity(3 * columns * rows);
    for row in 0..rows {
        for column in 0..columns {
            let corner = (column as f64 * step, row as f64 * step);
            rgb.extend([0, 1, 2].map(|channel| mean(&photo, channel, corner, step)));
        }
    }
    encoded(&rgb, columns, rows)
}

/// Mean of the pixels in a square of the photograph.
fn mean(photo: &Photo, channel: usize, (left, top): (f64, f64), step: f64) -> u8 {
    let view = photo.channel(channel);
    let span = |low: f64, limit: usize| {
        let from = (low.max(0.0) as usize).min(limit.saturating_sub(1));
        from..((low + step) as usize).clamp(from + 1, limit.max(from + 1))
    };
    let (columns, rows) = (span(left, view.width()), span(top, view.height()));
    let count = (columns.len() * rows.len()).max(1) as u32;
    let lines = rows.flat_map(|y| columns.clone().map(move |x| (x, y)));
    let sum: u32 = lines.map(|(x, y)| u32::from(view.at(x, y))).sum();
    (sum / count) as u8
}

/// Pixels (red, green, blue by rows) as JPEG.
///
/// # Errors
/// [`AlbumError::Pack`] where a side is longer than JPEG can say.
pub fn encoded(rgb: &[u8], width: usize, height: usize) -> Result<Vec<u8>, AlbumError> {
    let refused = |detail: String| AlbumError::Pack { detail };
    let side = |length: usize| u16::try_from(length).map_err(|error| refused(error.to_string()));
    let (width, height) = (side(width)?, side(height)?);
    let mut out = Vec::new();
    Encoder::new(&mut out, QUALITY)
        .encode(rgb, width, height, ColorType::Rgb)
        .map_err(|error| refused(error.to_string()))?;
    Ok(out)
}
