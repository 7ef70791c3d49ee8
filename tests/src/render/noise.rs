//! Seeded randomness and the value noise that paper fibres, straw and torn edges are made of.

use std::sync::OnceLock;

use rand::rngs::Xoshiro256PlusPlus;
use rand::{RngExt, SeedableRng};

/// The generator of every photograph: named, so that its sequence stays the same.
pub type Seeded = Xoshiro256PlusPlus;

/// The generator for `seed`.
pub fn seeded(seed: u64) -> Seeded {
    Seeded::seed_from_u64(seed)
}

const SIDE: usize = 256;

fn table() -> &'static [f32] {
    static TABLE: OnceLock<Vec<f32>> = OnceLock::new();
    TABLE.get_or_init(|| {
        let mut rng = seeded(0x5eed);
        (0..SIDE * SIDE)
            .map(|_| rng.random_range(-1.0..1.0))
            .collect()
    })
}

/// Smooth noise in -1..1 with features about one unit wide, repeating every 256 units.
pub(super) fn value_noise(x: f32, y: f32) -> f32 {
    let (fx, fy) = (floor(x), floor(y));
    let (ix, iy) = (fx as usize & (SIDE - 1), fy as usize & (SIDE - 1));
    let (fx, fy) = (fx as f32, fy as f32);
    let (jx, jy) = ((ix + 1) & (SIDE - 1), (iy + 1) & (SIDE - 1));
    let (tx, ty) = (ease(x - fx), ease(y - fy));
    let t = table();
    let top = t[iy * SIDE + ix] + tx * (t[iy * SIDE + jx] - t[iy * SIDE + ix]);
    let low = t[jy * SIDE + ix] + tx * (t[jy * SIDE + jx] - t[jy * SIDE + ix]);
    top + ty * (low - top)
}

/// Without the library call, which costs more than the rest of a look-up.
fn floor(v: f32) -> i32 {
    let whole = v as i32;
    whole - i32::from(whole as f32 > v)
}

fn ease(t: f32) -> f32 {
    t * t * (3.0 - 2.0 * t)
}

/// A closed ragged curve: a factor around 1 for each direction.
#[derive(Debug, Clone)]
pub(super) struct Ragged {
    factor: [f32; Self::STEPS],
}

impl Ragged {
    const STEPS: usize = 96;

    /// Waves 2 to 14 round the curve, together of relative size `amount`. Wave 1 is left out: it
    /// would move the middle, and the middle is the truth.
    pub(super) fn new(rng: &mut Seeded, amount: f32) -> Self {
        let mut factor = [1.0_f32; Self::STEPS];
        for wave in 2..=14_u8 {
            let wave = f32::from(wave);
            let size = amount * rng.random_range(-1.0..1.0) / wave.powf(0.6);
            let phase = rng.random_range(0.0..std::f32::consts::TAU);
            for (i, f) in factor.iter_mut().enumerate() {
                *f += size
                    * (wave * i as f32 * std::f32::consts::TAU / Self::STEPS as f32 + phase).cos();
            }
        }
        Self { factor }
    }

    /// The same curve with a flap of paper standing into it: `depth` of the radius over about
    /// `width` rad.
    pub(super) fn with_flap(mut self, angle: f32, width: f32, depth: f32) -> Self {
        for (i, f) in self.factor.iter_mut().enumerate() {
            let turn = i as f32 * std::f32::consts::TAU / Self::STEPS as f32 - angle;
            let off = (turn + std::f32::consts::PI).rem_euclid(std::f32::consts::TAU)
                - std::f32::consts::PI;
            *f -= depth * (1.0 - (2.0 * off / width).powi(2)).max(0.0);
        }
        self
    }

    /// The factor in direction `angle`, rad.
    pub(super) fn at(&self, angle: f32) -> f32 {
        let t =
            angle.rem_euclid(std::f32::consts::TAU) / std::f32::consts::TAU * Self::STEPS as f32;
        let i = t as usize % Self::STEPS;
        let next = self.factor[(i + 1) % Self::STEPS];
        self.factor[i] + t.fract() * (next - self.factor[i])
    }
}
