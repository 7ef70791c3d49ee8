//! Arrow holes in paper: ragged, with a torn rim, dark or lit from behind.

use rand::RngExt;
use shimwright::frame::{ArrowKind, PointMm};

use super::noise::{Ragged, Seeded, value_noise};
use super::paint::{Paint, Rgb, Spot, blend, dn, shade, to_segment};

/// What is seen through a hole.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Inside {
    /// The dark of a butt.
    Dark,
    /// Daylight behind the sheet.
    Lit,
}

/// A hole where an arrow was pulled.
#[derive(Debug, Clone)]
pub struct Hole {
    /// Which arrow made it.
    pub kind: ArrowKind,
    /// Where the arrow's axis went through.
    pub at: PointMm,
    /// Radius of the hole, mm.
    pub radius_mm: f32,
    /// Paper gives unevenly: the middle of what is seen misses the axis by this much.
    off_mm: [f32; 2],
    outline: Ragged,
    rim: Ragged,
    rim_mm: f32,
    rim_tint: Rgb,
    inside: Rgb,
    /// How much lighter or darker a side of what is seen inside is.
    depth: f32,
    lit_from: f32,
    blades: Vec<Blade>,
}

/// Where a spot lies as seen from a hole.
struct Seen {
    /// Signed distance to the torn edge, mm, negative inside.
    d: f32,
    angle: f32,
    out_mm: f32,
}

#[derive(Debug, Clone)]
struct Blade {
    angle: f32,
    length_mm: f32,
    width_mm: f32,
}

impl Hole {
    /// A hole of a shaft of `shaft_mm` diameter; what is random about it comes from `rng`.
    pub fn new(
        kind: ArrowKind,
        at: PointMm,
        shaft_mm: f32,
        inside: Inside,
        rng: &mut Seeded,
    ) -> Self {
        // A butt's hole is seen to have walls; the daylight behind a sheet is even.
        let (inside, depth) = match inside {
            Inside::Dark => (shade(dn(36, 32, 29), rng.random_range(0.5..1.3)), 0.3),
            Inside::Lit => (shade(dn(252, 252, 250), rng.random_range(1.1..1.6)), 0.0),
        };
        Self {
            kind,
            at,
            // Paper gives: the hole of a shaft is a little smaller than the shaft.
            radius_mm: shaft_mm / 2.0 * rng.random_range(0.88..1.06),
            outline: torn(rng),
            off_mm: [rng.random_range(-0.13..0.13), rng.random_range(-0.13..0.13)],
            rim: Ragged::new(rng, 0.7),
            rim_mm: rng.random_range(0.2..1.1),
            rim_tint: shade(dn(226, 221, 208), rng.random_range(0.8..1.1)),
            inside,
            depth,
            lit_from: rng.random_range(0.0..std::f32::consts::TAU),
            blades: blades(kind, rng),
        }
    }

    fn seen(&self, spot: Spot) -> Seen {
        let x = spot.x - self.at.x_mm as f32 - self.off_mm[0];
        let y = spot.y - self.at.y_mm as f32 - self.off_mm[1];
        let angle = y.atan2(x);
        Seen {
            d: self.distance(x, y, angle),
            angle,
            out_mm: x.hypot(y),
        }
    }

    /// Signed distance to the torn edge, mm, negative inside.
    fn distance(&self, x: f32, y: f32, angle: f32) -> f32 {
        let round = x.hypot(y) - self.radius_mm * self.outline.at(angle);
        self.blades.iter().fold(round, |near, blade| {
            let tip = [
                blade.length_mm * blade.angle.cos(),
                blade.length_mm * blade.angle.sin(),
            ];
            let (d, along) = to_segment(x, y, [0.0, 0.0], tip);
            let ragged = 0.25 * value_noise(x * 2.3 + 17.0, y * 2.3);
            near.min(d - blade.width_mm * (1.0 - 0.8 * along) / 2.0 * (1.0 + ragged))
        })
    }
}

/// The torn outline: ragged, and every second one with a flap of paper standing in.
fn torn(rng: &mut Seeded) -> Ragged {
    let amount = rng.random_range(0.07..0.2);
    let outline = Ragged::new(rng, amount);
    if rng.random_bool(0.5) {
        let (angle, width) = (
            rng.random_range(0.0..std::f32::consts::TAU),
            rng.random_range(0.5..1.3),
        );
        return outline.with_flap(angle, width, rng.random_range(0.1..0.4));
    }
    outline
}

fn blades(kind: ArrowKind, rng: &mut Seeded) -> Vec<Blade> {
    if kind != ArrowKind::Broadhead {
        return Vec::new();
    }
    let count = if rng.random_bool(0.6) { 3 } else { 2 };
    let first = rng.random_range(0.0..std::f32::consts::TAU);
    // Fixed heads cut 25 to 32 mm (common practice, no source).
    let length_mm = rng.random_range(12.5..15.5);
    (0..count)
        .map(|i| Blade {
            angle: first + i as f32 * std::f32::consts::TAU / count as f32,
            length_mm,
            width_mm: rng.random_range(0.8..1.5),
        })
        .collect()
}

impl Paint for Hole {
    fn bounds(&self) -> (f32, f32, f32) {
        let reach = self
            .blades
            .iter()
            .fold(self.radius_mm * 1.3, |r, b| r.max(b.length_mm));
        (self.at.x_mm as f32, self.at.y_mm as f32, reach + 3.5)
    }

    fn paint(&self, spot: Spot, colour: &mut Rgb) {
        let Seen { d, angle, .. } = self.seen(spot);
        if d > 3.2 {
            return;
        }
        // Paper dented towards the hole is turned towards or away from the light.
        let facing = (angle - self.lit_from).cos();
        let dent = 0.10 * facing * (1.0 - d.max(0.0) / 3.2).powi(2);
        *colour = shade(*colour, 1.0 + dent);
        let rim_mm = (self.rim_mm * self.rim.at(angle)).max(0.0);
        let rim = shade(self.rim_tint, 0.86 + 0.2 * facing);
        blend(colour, rim, spot.cover(d - rim_mm));
    }

    fn open(&self, spot: Spot, colour: &mut Rgb) {
        let Seen { d, angle, out_mm } = self.seen(spot);
        let facing = (angle - self.lit_from).cos();
        let depth = 1.0 - self.depth * facing * (out_mm / self.radius_mm).min(1.0);
        blend(colour, shade(self.inside, depth), spot.cover(d));
    }
}
