//! What a phone does to the picture after the sensor: a contrasty tone curve and sharpening.

use super::Photo;

/// Strength of the tone curve: how far from a straight line towards a smooth step.
const CONTRAST: f32 = 0.45;
/// How much of what a 3 x 3 mean takes away is added on top.
const SHARPEN: f32 = 0.9;

impl Photo {
    /// The picture as a phone hands it out.
    #[must_use]
    pub fn phone_finish(&self) -> Self {
        let curve: Vec<u8> = (0..=255_u8).map(tone).collect();
        let toned: Vec<u8> = self.rgb.iter().map(|&v| curve[usize::from(v)]).collect();
        let row = 3 * self.width;
        let mut rgb = toned.clone();
        for y in 1..self.height.saturating_sub(1) {
            for i in y * row + 3..(y + 1) * row - 3 {
                let across = |at: usize| {
                    f32::from(toned[at - 3]) + f32::from(toned[at]) + f32::from(toned[at + 3])
                };
                let mean = (across(i - row) + across(i) + across(i + row)) / 9.0;
                let value = f32::from(toned[i]);
                rgb[i] = (value + SHARPEN * (value - mean) + 0.5).clamp(0.0, 255.0) as u8;
            }
        }
        Self { rgb, ..*self }
    }
}

fn tone(value: u8) -> u8 {
    let v = f32::from(value) / 255.0;
    let step = v * v * (3.0 - 2.0 * v);
    (255.0 * (v + CONTRAST * (step - v)) + 0.5) as u8
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_edge_gains_contrast_and_overshoots_and_an_even_picture_stays_even() {
        let edge = |k: usize| if k % 36 < 18 { 60 } else { 190 };
        let photo = |rgb: Vec<u8>| Photo {
            width: 12,
            height: 8,
            rgb,
        };
        let seen = photo((0..12 * 8 * 3).map(edge).collect()).phone_finish();
        let row = &seen.rgb[4 * 36..5 * 36];
        assert!(row[0] < 60 && row[15] < row[0], "{row:?}");
        assert!(row[35] > 190 && row[18] > row[35], "{row:?}");
        let even = photo(vec![100; 12 * 8 * 3]).phone_finish();
        assert!(even.rgb.iter().all(|&v| v == even.rgb[0]));
    }
}
