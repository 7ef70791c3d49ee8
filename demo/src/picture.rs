//! Pixels to lay a scene over: a part of a photograph, or a straight-on picture, as a small JPEG.

use jpeg_encoder::{ColorType, Encoder};
use shimwright::measure::Rectified;
use shimwright::photo::Photo;
use shimwright::scene::PhotoWindow;

const QUALITY: u8 = 86;

/// The window of a photograph, averaged down to at most `width_px` columns.
pub(crate) fn window(
    photo: &Photo,
    window: &PhotoWindow,
    width_px: usize,
) -> Result<Vec<u8>, String> {
    let step = (window.width_px / width_px as f64).max(1.0);
    let (columns, rows) = (
        (window.width_px / step).floor() as usize,
        (window.height_px / step).floor() as usize,
    );
    let mut pixels = Vec::with_capacity(columns * rows * 3);
    for row in 0..rows {
        for column in 0..columns {
            let left = window.left_px + column as f64 * step;
            let top = window.top_px + row as f64 * step;
            for channel in 0..3 {
                pixels.push(mean(photo, channel, (left, top), step));
            }
        }
    }
    jpeg(&pixels, columns, rows)
}

/// A straight-on picture as it is.
pub(crate) fn straight(picture: &Rectified) -> Result<Vec<u8>, String> {
    jpeg(&picture.rgb, picture.width, picture.height)
}

/// Mean of the pixels in a square of the photograph.
fn mean(photo: &Photo, channel: usize, (left, top): (f64, f64), step: f64) -> u8 {
    let view = photo.channel(channel);
    let whole = |low: f64, limit: usize| {
        let from = (low.max(0.0) as usize).min(limit.saturating_sub(1));
        let to = ((low + step) as usize).clamp(from + 1, limit.max(from + 1));
        from..to.min(limit.max(1))
    };
    let (columns, rows) = (whole(left, view.width()), whole(top, view.height()));
    let count = (columns.len() * rows.len()).max(1) as u32;
    let sum: u32 = rows
        .flat_map(|y| columns.clone().map(move |x| (x, y)))
        .map(|(x, y)| u32::from(view.at(x, y)))
        .sum();
    (sum / count) as u8
}

fn jpeg(rgb: &[u8], width: usize, height: usize) -> Result<Vec<u8>, String> {
    let too_large = |_| "the picture is too large for a JPEG".to_owned();
    let width = u16::try_from(width).map_err(too_large)?;
    let height = u16::try_from(height).map_err(too_large)?;
    let mut out = Vec::new();
    Encoder::new(&mut out, QUALITY)
        .encode(rgb, width, height, ColorType::Rgb)
        .map_err(|e| format!("the picture cannot be written as JPEG: {e}"))?;
    Ok(out)
}
