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
    slit_mm: Vec<f32>,
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
            slit_mm: (0..vanes).map(|_| rng.random_range(0.5..1.2)).collect(),
            ragged_mm: rng.random_range(0.15..0.4),
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
        let (body, _) = to_segment(x, y, point, nock);
        let rag = value_noise(x * 0.9 + self.offset[0], y * 0.9 + self.offset[1])
            + 0.5 * value_noise(x * 2.1 + self.offset[1], y * 2.1);
        let body = body - radius + self.ragged_mm * rag;
        self.vanes_rad
            .iter()
            .zip(&self.slit_mm)
            .fold(body, |near, (angle, width)| {
                let reach = radius + self.vane_mm;
                let tip = [nock[0] + reach * angle.cos(), nock[1] + reach * angle.sin()];
                let (d, along) = to_segment(x, y, nock, tip);
                near.min(d - width * (1.0 - 0.55 * along) / 2.0 + 0.12 * rag)
            })
    }
}

impl Paint for Tear {
    fn bounds(&self) -> (f32, f32, f32) {
        let reach = self.vector().norm_mm() as f32 / 2.0 + self.shaft_mm / 2.0 + self.vane_mm + 4.0;
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
