//! Holes as arrows really leave them: torn, with flaps, some closed to a crack.
//!
//! After photographs of arrow holes in paper faces: nearly black inside, flaps in the zone's colour
//! and grey-white standing into it, a light crescent torn on the side away from the light.

use rand::RngExt;
use shimwright::frame::PointMm;

use super::noise::Seeded;
use super::paint::{Paint, Rgb, Spot, blend, dn, shade};

/// How much of the hole its flaps leave open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Torn {
    /// Most of it.
    Open,
    /// Half of it.
    Ragged,
    /// A crack.
    Closed,
}

/// A torn hole.
#[derive(Debug, Clone)]
pub struct Wound {
    /// Where the arrow's axis went through: the middle of the whole wound.
    pub at: PointMm,
    /// How much of it is open.
    pub torn: Torn,
    radius_mm: f32,
    inside: Rgb,
    flaps: Vec<Flap>,
    crescent_mm: f32,
    below: f32,
}

/// A tongue of paper between two tears.
#[derive(Debug, Clone)]
struct Flap {
    from: f32,
    width: f32,
    /// How far it reaches in, a share of the radius.
    depth: f32,
    /// 1 pointed, larger blunter.
    blunt: f32,
    /// Light on it, and how much of its print is torn off to the grey-white of the paper.
    light: f32,
    bare: f32,
}

/// Width of a tear between two flaps, mm.
const TEAR_MM: f32 = 0.3;

impl Wound {
    /// A wound of a shaft of `shaft_mm`; what is random about it comes from `rng`.
    pub fn new(at: PointMm, shaft_mm: f32, torn: Torn, rng: &mut Seeded) -> Self {
        let below = -std::f32::consts::FRAC_PI_2 + rng.random_range(-0.4..0.4);
        Self {
            at,
            torn,
            radius_mm: shaft_mm / 2.0 * rng.random_range(0.95..1.1),
            inside: dn(rng.random_range(2..20), rng.random_range(2..18), 10),
            flaps: flaps(torn, rng),
            crescent_mm: rng.random_range(0.3..1.0),
            below,
        }
    }

    /// Signed distance to the open part, mm, and the flap there.
    fn open_at(&self, r: f32, angle: f32) -> (f32, Option<&Flap>) {
        let turn = std::f32::consts::TAU;
        let flap = self
            .flaps
            .iter()
            .find(|f| (angle - f.from).rem_euclid(turn) < f.width);
        let Some(flap) = flap else {
            return (r - self.radius_mm, None);
        };
        let across = 2.0 * (angle - flap.from).rem_euclid(turn) / flap.width - 1.0;
        let reach = flap.depth * (1.0 - across.abs().powf(flap.blunt));
        let tear = (1.0 - across.abs()) * flap.width / 2.0 * r - TEAR_MM / 2.0;
        let edge = r - self.radius_mm * (1.0 - reach);
        (edge.min(tear).max(r - self.radius_mm), Some(flap))
    }
}

fn flaps(torn: Torn, rng: &mut Seeded) -> Vec<Flap> {
    let (deep, blunt) = match torn {
        Torn::Open => (0.1..0.5_f32, 1.0..2.5_f32),
        Torn::Ragged => (0.25..0.95, 1.0..4.0),
        Torn::Closed => (0.8..1.0, 4.0..9.0),
    };
    let mut from = rng.random_range(0.0..std::f32::consts::TAU);
    let end = from + std::f32::consts::TAU;
    let mut flaps = Vec::new();
    while from < end - 0.3 {
        let width = rng.random_range(0.7..1.8_f32).min(end - from);
        flaps.push(Flap {
            from,
            width,
            depth: rng.random_range(deep.clone()),
            blunt: rng.random_range(blunt.clone()),
            light: rng.random_range(0.45..1.25),
            bare: if rng.random_bool(0.35) {
                rng.random_range(0.4..0.9)
            } else {
                0.1
            },
        });
        from += width;
    }
    flaps
}

impl Paint for Wound {
    fn bounds(&self) -> (f32, f32, f32) {
        (
            self.at.x_mm as f32,
            self.at.y_mm as f32,
            self.radius_mm + 2.0,
        )
    }

    fn paint(&self, spot: Spot, colour: &mut Rgb) {
        let (x, y) = (spot.x - self.at.x_mm as f32, spot.y - self.at.y_mm as f32);
        let (r, angle) = (x.hypot(y), y.atan2(x));
        let away = (angle - self.below).cos().max(0.0);
        let crescent = spot.cover_soft(r - self.radius_mm - self.crescent_mm * away, 0.3);
        let zone = *colour;
        let mut torn = zone;
        blend(&mut torn, dn(238, 234, 226), 0.55);
        blend(colour, torn, crescent * away.sqrt());
        let (_, flap) = self.open_at(r, angle);
        if let Some(flap) = flap {
            let mut paper = zone;
            blend(&mut paper, dn(214, 210, 204), flap.bare);
            let bent = flap.light * (0.75 + 0.25 * r / self.radius_mm);
            blend(colour, shade(paper, bent), spot.cover(r - self.radius_mm));
        }
    }

    fn open(&self, spot: Spot, colour: &mut Rgb) {
        let (x, y) = (spot.x - self.at.x_mm as f32, spot.y - self.at.y_mm as f32);
        let (open, _) = self.open_at(x.hypot(y), y.atan2(x));
        blend(colour, self.inside, spot.cover(open));
    }
}
