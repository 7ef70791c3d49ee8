//! Light and shadow over the picture.

use super::noise::Seeded;
use rand::RngExt;

/// The soft edge of a shadow across the picture.
#[derive(Debug, Clone, Copy)]
pub struct Shadow {
    /// Direction from light to shadow in the picture, rad.
    pub angle_rad: f32,
    /// Where the edge lies from the middle, in half diagonals, -1 to 1.
    pub edge: f32,
    /// Width of the soft edge, in half diagonals.
    pub soft: f32,
    /// How much of the light is lost, 0 to 0.7.
    pub depth: f32,
}

/// How the light falls over the picture.
#[derive(Debug, Clone)]
pub struct Light {
    /// Overall factor.
    pub gain: f32,
    /// Change over half a diagonal to the right and down, relative.
    pub slope: [f32; 2],
    /// Fall-off towards the corners, relative.
    pub corners: f32,
    /// Shadows.
    pub shadows: Vec<Shadow>,
}

impl Light {
    /// Even light.
    pub fn even() -> Self {
        Self {
            gain: 1.0,
            slope: [0.0, 0.0],
            corners: 0.0,
            shadows: Vec::new(),
        }
    }

    /// Uneven light with a shadow, as outdoors.
    pub fn random(rng: &mut Seeded) -> Self {
        let shadow = Shadow {
            angle_rad: rng.random_range(0.0..std::f32::consts::TAU),
            edge: rng.random_range(-0.5..0.5),
            soft: rng.random_range(0.15..0.8),
            depth: rng.random_range(0.0..0.4),
        };
        Self {
            gain: rng.random_range(0.75..1.05),
            slope: [rng.random_range(-0.15..0.15), rng.random_range(-0.15..0.15)],
            corners: rng.random_range(0.0..0.15),
            shadows: vec![shadow],
        }
    }

    /// The light prepared for many positions.
    pub(super) fn prepared(&self) -> Field {
        let shadows = self.shadows.iter().map(|s| {
            let per = 1.0 / s.soft;
            [
                s.angle_rad.cos() * per,
                s.angle_rad.sin() * per,
                s.edge * per,
                s.depth,
            ]
        });
        Field {
            gain: self.gain,
            slope: self.slope,
            corners: self.corners,
            shadows: shadows.collect(),
        }
    }
}

/// A light with its directions worked out.
pub(super) struct Field {
    gain: f32,
    slope: [f32; 2],
    corners: f32,
    shadows: Vec<[f32; 4]>,
}

impl Field {
    /// Factor at a position given in half diagonals from the middle.
    pub(super) fn at(&self, x: f32, y: f32) -> f32 {
        let mut light = self.gain * (1.0 + self.slope[0] * x + self.slope[1] * y);
        light *= 1.0 - self.corners * (x * x + y * y);
        for [across, down, edge, depth] in &self.shadows {
            let t = x * across + y * down - edge;
            light *= 1.0 - depth * (0.5 + 0.5 * t / (1.0 + t.abs()));
        }
        light.max(0.0)
    }
}
