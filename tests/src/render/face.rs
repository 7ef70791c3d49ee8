//! Ring faces.

use rand::RngExt;

use super::noise::Seeded;
use super::paint::{Rgb, Spot, blend, dn};

/// One printed disc of a face: everything inside `radius_mm` has this colour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Zone {
    /// Outer radius, mm.
    pub radius_mm: f32,
    /// Ink.
    pub ink: Rgb,
    /// Width of the dividing line just inside the radius, mm; 0 for none.
    pub line_mm: f32,
    /// Colour of the dividing line.
    pub line: Rgb,
}

/// Concentric zones, from the outside in.
#[derive(Debug, Clone, PartialEq)]
pub struct RingFace {
    /// Zones, largest first.
    pub zones: Vec<Zone>,
}

fn gold() -> Rgb {
    dn(246, 208, 42)
}
fn red() -> Rgb {
    dn(206, 44, 48)
}
fn blue() -> Rgb {
    dn(58, 150, 206)
}
fn black() -> Rgb {
    dn(34, 33, 35)
}
fn white() -> Rgb {
    dn(234, 233, 229)
}

impl RingFace {
    /// A ten-zone target face of `diameter_mm` with the inner ten (World Archery book 2, from
    /// memory: zones of equal width, colours gold, red, blue, black, white in pairs).
    pub fn target(diameter_mm: f32, line_mm: f32) -> Self {
        let inks = [white(), black(), blue(), red(), gold()];
        let step = diameter_mm / 20.0;
        let mut zones = Vec::new();
        for zone in 0..10_usize {
            let ink = inks[zone / 2];
            // No line where black ends on white: the ink itself is the edge.
            let plain = zone == 2;
            let line = if zone / 2 == 1 { white() } else { black() };
            let line_mm = if plain { 0.0 } else { line_mm };
            zones.push(Zone {
                radius_mm: step * (10 - zone) as f32,
                ink,
                line_mm,
                line,
            });
        }
        zones.push(Zone {
            radius_mm: step / 2.0,
            ink: gold(),
            line_mm,
            line: black(),
        });
        Self { zones }
    }

    /// A field face of `diameter_mm` (from memory: zones 1 to 4 black, 5 and 6 yellow, at 1, .8,
    /// .6, .4, .2 and .1 of the diameter).
    pub fn field(diameter_mm: f32, line_mm: f32) -> Self {
        let radius = diameter_mm / 2.0;
        let zone = |share: f32, ink: Rgb, line: Rgb, line_mm: f32| Zone {
            radius_mm: radius * share,
            ink,
            line_mm,
            line,
        };
        Self {
            zones: vec![
                zone(1.0, black(), white(), 0.0),
                zone(0.8, black(), white(), line_mm),
                zone(0.6, black(), white(), line_mm),
                zone(0.4, black(), white(), line_mm),
                zone(0.2, gold(), black(), 0.0),
                zone(0.1, gold(), black(), line_mm),
            ],
        }
    }

    /// Only one ring of `radius_mm`: a reference that must be refused.
    pub fn single(radius_mm: f32) -> Self {
        Self {
            zones: vec![Zone {
                radius_mm,
                ink: black(),
                line_mm: 0.0,
                line: white(),
            }],
        }
    }

    /// Radii of the zones as printed, mm.
    pub fn radii_mm(&self) -> Vec<f32> {
        self.zones.iter().map(|z| z.radius_mm).collect()
    }

    /// The face as a printer delivers it: each radius off by up to a few tenths, except the one
    /// at `scale_radius_mm`, which the truth hangs on.
    #[must_use]
    pub fn printed(mut self, rng: &mut Seeded, sd_mm: f32, scale_radius_mm: f32) -> Self {
        for zone in &mut self.zones {
            let off = sd_mm * rng.random_range(-1.7..1.7_f32);
            if (zone.radius_mm - scale_radius_mm).abs() > 1.0 {
                zone.radius_mm += off;
            }
        }
        self
    }

    pub(super) fn paint(&self, at: [f32; 2], spot: Spot, colour: &mut Rgb) {
        let r = (spot.x - at[0]).hypot(spot.y - at[1]);
        let pixel = 1.0 / spot.scale;
        for zone in &self.zones {
            if r > zone.radius_mm + pixel {
                break;
            }
            let outer = spot.cover(r - zone.radius_mm);
            let inner = spot.cover(r - zone.radius_mm + zone.line_mm);
            for (c, (line, ink)) in colour.iter_mut().zip(zone.line.into_iter().zip(zone.ink)) {
                *c += outer * (line - *c) + inner * (ink - line);
            }
        }
        cross(at, spot, colour);
    }
}

/// The small cross in the middle.
fn cross(at: [f32; 2], spot: Spot, colour: &mut Rgb) {
    let (dx, dy) = ((spot.x - at[0]).abs(), (spot.y - at[1]).abs());
    if dx < 3.0 && dy < 3.0 {
        let a = spot.cover(dx - 2.0) * spot.cover(dy - 0.25);
        let b = spot.cover(dy - 2.0) * spot.cover(dx - 0.25);
        blend(colour, black(), a.max(b));
    }
}
