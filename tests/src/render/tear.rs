//! Tears in hanging paper: the body the shaft swept, and the slits of the vanes.

use rand::RngExt;
use shimwright::frame::PointMm;

use super::noise::{Seeded, value_noise};
use super::paint::{Paint, Rgb, Spot, blend, dn, shade, to_segment};

/// The tear of one arrow.
#[derive(Debug, Clone)]
pub struct Tear {
    /// Where the point went through.
    pub point: PointMm,
    /// Where the nock end went through: the tear vector is this minus `point`.
    pub nock: PointMm,
    /// Diameter of the shaft, mm.
    pub shaft_mm: f32,
    /// Directions of the vanes about the nock end, rad.
    pub vanes_rad: Vec<f32>,
    vane_mm: f32,
    slits: Vec<Slit>,
    rip: Option<[[f32; 2]; 2]>,
    gape_mm: f32,
    ragged_mm: f32,
    offset: [f32; 2],
    behind: Rgb,
    lit_from: f32,
}

impl Tear {
    /// A tear of `vector` (nock end minus point) whose point went through at `point`; `vanes` of
    /// them, evenly spaced, or 0 for a bare shaft.
    pub fn new(
        point: PointMm,
        vector: PointMm,
        shaft_mm: f32,
        vanes: usize,
        rng: &mut Seeded,
    ) -> Self {
        let first = rng.random_range(0.0..std::f32::consts::TAU);
        let step = std::f32::consts::TAU / vanes.max(1) as f32;
        Self {
            point,
            nock: point + vector,
            shaft_mm,
            vanes_rad: (0..vanes).map(|i| first + i as f32 * step).collect(),
            vane_mm: rng.random_range(8.0..12.5),
            slits: (0..vanes).map(|_| Slit::new(rng)).collect(),
            rip: rng.random_bool(0.2).then(|| rip(point, vector, rng)),
            gape_mm: rng.random_range(0.0..0.7),
            ragged_mm: rng.random_range(0.2..0.55),
            offset: [rng.random_range(0.0..200.0), rng.random_range(0.0..200.0)],
            behind: shade(dn(40, 40, 43), rng.random_range(0.5..1.2)),
            lit_from: rng.random_range(0.0..std::f32::consts::TAU),
        }
    }

    /// Nock end minus point: left is negative x, low negative y.
    pub fn vector(&self) -> PointMm {
        self.nock - self.point
    }

    fn distance(&self, x: f32, y: f32) -> f32 {
        let nock = [self.nock.x_mm as f32, self.nock.y_mm as f32];
        let point = [self.point.x_mm as f32, self.point.y_mm as f32];
        let radius = self.shaft_mm / 2.0;
        let (body, along) = to_segment(x, y, point, nock);
        let rag = value_noise(x * 0.9 + self.offset[0], y * 0.9 + self.offset[1])
            + 0.5 * value_noise(x * 2.1 + self.offset[1], y * 2.1);
        // Between its two ends the paper gapes a little wider than the shaft.
        let mut near =
            body - radius - self.gape_mm * 4.0 * along * (1.0 - along) * 0.5 + self.ragged_mm * rag;
        for (angle, slit) in self.vanes_rad.iter().zip(&self.slits) {
            near = near.min(
                slit.distance(x - nock[0], y - nock[1], *angle, radius + self.vane_mm) + 0.12 * rag,
            );
        }
        if let Some([from, to]) = self.rip {
            let (d, along) = to_segment(x, y, from, to);
            near = near.min(d - 0.6 * (1.0 - along) + 0.2 * rag);
        }
        near
    }
}

/// The cut of one vane: not quite straight, not quite through the shaft's middle.
#[derive(Debug, Clone)]
struct Slit {
    width_mm: f32,
    aside_mm: f32,
    bend_mm: f32,
}

impl Slit {
    fn new(rng: &mut Seeded) -> Self {
        Self {
            width_mm: rng.random_range(0.5..1.2),
            aside_mm: rng.random_range(-0.15..0.15),
            bend_mm: rng.random_range(-0.2..0.2),
        }
    }

    /// Signed distance of a place seen from the nock end, for a slit of `reach` mm.
    fn distance(&self, x: f32, y: f32, angle: f32, reach: f32) -> f32 {
        let (s, c) = angle.sin_cos();
        let (along, across) = (x * c + y * s, y * c - x * s);
        let t = (along / reach).clamp(0.0, 1.0);
        let middle = self.aside_mm + self.bend_mm * 4.0 * t * (1.0 - t);
        let beyond = (along - reach).max(-along).max(0.0);
        (across - middle).hypot(beyond) - self.width_mm * (1.0 - 0.55 * t) / 2.0
    }
}

/// A rip that runs off the body for no reason of the arrow's.
fn rip(point: PointMm, vector: PointMm, rng: &mut Seeded) -> [[f32; 2]; 2] {
    let t = rng.random_range(0.0..1.0);
    let from = [
        (point.x_mm + t * vector.x_mm) as f32,
        (point.y_mm + t * vector.y_mm) as f32,
    ];
    let (length, angle) = (
        rng.random_range(4.0..9.0_f32),
        rng.random_range(0.0..std::f32::consts::TAU),
    );
    [
        from,
        [
            from[0] + length * angle.cos(),
            from[1] + length * angle.sin(),
        ],
    ]
}

impl Paint for Tear {
    fn bounds(&self) -> (f32, f32, f32) {
        let reach = self.vector().norm_mm() as f32 / 2.0
            + self.shaft_mm / 2.0
            + self.vane_mm.max(9.0)
            + 4.0;
        let middle = self.point + self.nock;
        (middle.x_mm as f32 / 2.0, middle.y_mm as f32 / 2.0, reach)
    }

    fn paint(&self, spot: Spot, colour: &mut Rgb) {
        let d = self.distance(spot.x, spot.y);
        if d > 3.0 {
            return;
        }
        let facing = value_noise(spot.x * 0.4 + self.offset[0], spot.y * 0.4 + self.lit_from);
        *colour = shade(
            *colour,
            1.0 + 0.12 * facing * (1.0 - d.max(0.0) / 3.0).powi(2),
        );
        let fringe = 0.28 + 0.25 * value_noise(spot.x * 1.3, spot.y * 1.3 + self.offset[1]);
        blend(
            colour,
            shade(dn(238, 236, 229), 0.9 + 0.12 * facing),
            spot.cover(d - fringe),
        );
        blend(colour, self.behind, spot.cover(d));
    }
}
