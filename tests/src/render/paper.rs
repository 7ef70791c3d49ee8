//! The sheet, card or printed marks that give the scale, and the paper itself.

use super::face::RingFace;
use super::noise::value_noise;
use super::paint::{Rgb, Spot, blend, dn, shade};

/// What is printed on a sheet.
#[derive(Debug, Clone)]
pub enum Print {
    /// Nothing.
    Plain,
    /// Concentric rings about a point of the sheet.
    Rings {
        /// The face.
        face: RingFace,
        /// Middle of the rings, mm.
        at: [f32; 2],
    },
    /// Filled black squares of `side_mm` whose middles stand at the corners of a
    /// `width_mm` x `height_mm` rectangle about the sheet's middle.
    Squares {
        /// Between the middles, mm.
        width_mm: f32,
        /// Between the middles, mm.
        height_mm: f32,
        /// Side of one square, mm.
        side_mm: f32,
    },
}

/// A rectangle of paper or card, its middle at the origin of the plane.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// Across, mm.
    pub width_mm: f32,
    /// Up and down, mm.
    pub height_mm: f32,
    /// Radius of the corners, mm (0 for paper, 3.18 for an ID-1 card).
    pub corner_mm: f32,
    /// Colour of the paper.
    pub tint: Rgb,
    /// What is printed on it.
    pub print: Print,
}

impl Sheet {
    /// Plain white paper.
    pub fn plain(width_mm: f32, height_mm: f32) -> Self {
        Self {
            width_mm,
            height_mm,
            corner_mm: 0.0,
            tint: dn(232, 231, 227),
            print: Print::Plain,
        }
    }

    /// A ring face printed in the middle of a sheet.
    pub fn with_face(width_mm: f32, height_mm: f32, face: RingFace) -> Self {
        Self {
            print: Print::Rings {
                face,
                at: [0.0, 0.0],
            },
            ..Self::plain(width_mm, height_mm)
        }
    }

    /// An ID-1 card (85.60 x 53.98 mm, corner radius 3.18 mm: ISO/IEC 7810, from memory).
    pub fn card() -> Self {
        Self {
            corner_mm: 3.18,
            tint: dn(216, 220, 226),
            ..Self::plain(85.60, 53.98)
        }
    }

    /// Signed distance to the sheet's outline, mm, negative inside.
    pub(super) fn distance(&self, spot: Spot) -> f32 {
        let r = self.corner_mm;
        let dx = spot.x.abs() - self.width_mm / 2.0 + r;
        let dy = spot.y.abs() - self.height_mm / 2.0 + r;
        if r > 0.0 && dx > 0.0 && dy > 0.0 {
            dx.hypot(dy) - r
        } else {
            dx.max(dy) - r
        }
    }

    /// Colour of the sheet at a spot, before anything pierced it.
    pub(super) fn colour(&self, spot: Spot) -> Rgb {
        let mut colour = self.tint;
        match &self.print {
            Print::Plain => {}
            Print::Rings { face, at } => face.paint(*at, spot, &mut colour),
            Print::Squares {
                width_mm,
                height_mm,
                side_mm,
            } => {
                let dx = (spot.x.abs() - width_mm / 2.0).abs() - side_mm / 2.0;
                let dy = (spot.y.abs() - height_mm / 2.0).abs() - side_mm / 2.0;
                blend(&mut colour, dn(28, 28, 30), spot.cover(dx) * spot.cover(dy));
            }
        }
        // Fibres, and the slow waviness of paper that catches the light.
        let fibre = 0.006 * value_noise(spot.x * 1.7, spot.y * 1.7);
        let wave = 0.012 * value_noise(spot.x * 0.017 + 3.1, spot.y * 0.013);
        shade(colour, 1.0 + fibre + wave)
    }
}
