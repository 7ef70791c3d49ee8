//! Which camera took a photograph, and its focal length in pixels.

use serde::{Deserialize, Serialize};

use super::ExifFacts;

/// Diagonal of the 36 x 24 mm film frame that EXIF's 35 mm focal length refers to, mm.
pub const FILM_DIAGONAL_MM: f64 = 43.266_615_305_567_87;

/// One lens at one setting: photographs with equal keys share a distortion coefficient.
///
/// Zoom, crop or another lens changes the focal length or the size, and so the key.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CameraKey {
    /// Camera maker.
    pub make: String,
    /// Camera model.
    pub model: String,
    /// Focal length as on 35 mm film, mm.
    pub focal_35mm: u32,
    /// Longer side, px.
    pub long_side_px: u32,
    /// Shorter side, px.
    pub short_side_px: u32,
}

impl CameraKey {
    /// The key, if the photograph names its camera and focal length.
    pub fn of(facts: &ExifFacts, width: usize, height: usize) -> Option<Self> {
        Some(Self {
            make: facts.make.clone()?,
            model: facts.model.clone()?,
            focal_35mm: facts.focal_35mm?,
            long_side_px: width.max(height) as u32,
            short_side_px: width.min(height) as u32,
        })
    }
}

/// Focal length in px of a `width` x `height` px picture whose EXIF says `focal_35mm` (by diagonal).
pub fn focal_px(focal_35mm: u32, width: usize, height: usize) -> f64 {
    f64::from(focal_35mm) / FILM_DIAGONAL_MM * (width as f64).hypot(height as f64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn film_frame_itself_has_its_own_focal_length() {
        // 36 x 24 mm at 100 px per mm: 50 mm are 5000 px.
        assert!((focal_px(50, 3600, 2400) - 5000.0).abs() < 1e-9);
    }

    #[test]
    fn key_ignores_how_the_phone_was_held_and_needs_a_named_camera() {
        let facts = ExifFacts {
            make: Some("Bench".into()),
            model: Some("One".into()),
            focal_35mm: Some(26),
            ..ExifFacts::default()
        };
        assert_eq!(
            CameraKey::of(&facts, 4000, 3000),
            CameraKey::of(&facts, 3000, 4000)
        );
        assert_eq!(CameraKey::of(&ExifFacts::default(), 4000, 3000), None);
    }
}
