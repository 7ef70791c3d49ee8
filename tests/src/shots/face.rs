//! Ring faces with holes and clutter.

use rand::RngExt;
use shimwright::frame::{ArrowKind, PointMm};

use super::{Phone, Shot, Size};
use crate::render::{
    Digit, Dot, Hole, Inside, Light, Paster, RingFace, Scene, Seeded, Sheet, Staple, Torn, Wall,
    Wound, dn, seeded,
};

/// What to put on a face.
#[derive(Debug, Clone, Copy)]
pub struct FaceShot {
    /// Holes.
    pub holes: usize,
    /// Pasters, staples and pen dots.
    pub clutter: bool,
    /// Printed zone numbers.
    pub digits: bool,
}

/// Diameter of the face photographed, mm, and its one scale ring: where black ends on white.
const DIAMETER_MM: f32 = 400.0;
const SCALE_RADIUS_MM: f32 = 160.0;
/// Holes lie at least this far apart, mm.
const APART_MM: f64 = 11.0;

/// A 40 cm target face, printed with the tolerance of a printer, on 420 mm paper.
pub fn face(seed: u64, size: Size, what: FaceShot) -> Shot {
    let mut rng = seeded(seed);
    let phone = Phone::random(&mut rng, size, false, (0.7, 0.97));
    let camera = phone.frame(400.0, 400.0);
    let line_mm = rng.random_range(0.3..0.6);
    let face = RingFace::target(DIAMETER_MM, line_mm).printed(&mut rng, 0.2, SCALE_RADIUS_MM);
    let sheet = Sheet::with_face(420.0, 420.0, face);
    let mut scene = Scene::new(sheet, Wall::random(&mut rng), Light::random(&mut rng));
    pierce(&mut scene, what.holes, &mut rng);
    if what.clutter {
        strew(&mut scene, &mut rng);
    }
    if what.digits {
        zone_numbers(&mut scene);
    }
    phone.shot(scene, camera, &mut rng, seed)
}

/// A face with torn holes of 6 mm shafts and clutter, as a phone hands it out. None lies on black
/// print, in which a nearly black hole shows by its torn rim only.
pub fn torn_face(seed: u64, size: Size) -> Shot {
    let nothing = FaceShot {
        holes: 0,
        clutter: true,
        digits: false,
    };
    let mut shot = face(seed, size, nothing);
    let mut rng = seeded(seed ^ 0x70E2);
    for torn in TORN {
        let at = loop {
            let at = free_place(&shot.scene, &mut rng, 190.0, APART_MM);
            let apart = |w: &Wound| (w.at - at).norm_mm() > APART_MM;
            let black = (118.0..162.0).contains(&at.norm_mm());
            let pasted = shot
                .scene
                .pasters
                .iter()
                .any(|p| (p.at - at).norm_mm() < 18.0);
            if !black && !pasted && shot.scene.wounds.iter().all(apart) {
                break at;
            }
        };
        let shaft_mm = rng.random_range(5.4..6.6);
        shot.scene
            .wounds
            .push(Wound::new(at, shaft_mm, torn, &mut rng));
    }
    shot.finished = true;
    shot
}

/// As often as on real faces.
const TORN: [Torn; 12] = [
    Torn::Open,
    Torn::Open,
    Torn::Open,
    Torn::Open,
    Torn::Open,
    Torn::Ragged,
    Torn::Ragged,
    Torn::Ragged,
    Torn::Ragged,
    Torn::Closed,
    Torn::Closed,
    Torn::Ragged,
];

/// Nothing but one black disc of `radius_mm`.
pub fn single_ring(seed: u64, size: Size, radius_mm: f32) -> Shot {
    let mut rng = seeded(seed);
    let phone = Phone::random(&mut rng, size, false, (0.6, 0.9));
    let camera = phone.frame(f64::from(radius_mm) * 2.2, f64::from(radius_mm) * 2.2);
    let side = radius_mm * 2.6;
    let sheet = Sheet::with_face(side, side, RingFace::single(radius_mm));
    let scene = Scene::new(sheet, Wall::random(&mut rng), Light::random(&mut rng));
    phone.shot(scene, camera, &mut rng, seed)
}

fn free_place(scene: &Scene, rng: &mut Seeded, out_to_mm: f64, apart_mm: f64) -> PointMm {
    loop {
        let (r, a) = (
            rng.random_range(0.0..out_to_mm),
            rng.random_range(0.0..std::f64::consts::TAU),
        );
        let at = PointMm::new(r * a.cos(), r * a.sin());
        if scene.holes.iter().all(|h| (h.at - at).norm_mm() > apart_mm) {
            return at;
        }
    }
}

fn pierce(scene: &mut Scene, count: usize, rng: &mut Seeded) {
    for i in 0..count {
        let kind = [
            ArrowKind::Fletched,
            ArrowKind::Bare,
            ArrowKind::Fletched,
            ArrowKind::Broadhead,
        ][i % 4];
        let apart = if kind == ArrowKind::Broadhead {
            2.0 * APART_MM
        } else {
            APART_MM
        };
        let at = free_place(scene, rng, 182.0, apart);
        let shaft_mm = rng.random_range(5.2..7.6);
        let hole = Hole::new(kind, at, shaft_mm, Inside::Dark, rng);
        scene.holes.push(hole);
    }
}

fn strew(scene: &mut Scene, rng: &mut Seeded) {
    for _ in 0..2 {
        let at = free_place(scene, rng, 170.0, 24.0);
        let tint = [
            dn(60, 145, 200),
            dn(200, 50, 50),
            dn(238, 205, 60),
            dn(40, 40, 42),
        ][rng.random_range(0..4_usize)];
        scene.pasters.push(Paster {
            at,
            side_mm: 20.0,
            angle_rad: rng.random_range(0.0..1.5),
            tint,
        });
    }
    for _ in 0..3 {
        let at = free_place(scene, rng, 195.0, 14.0);
        scene.staples.push(Staple {
            at,
            angle_rad: rng.random_range(0.0..3.1),
        });
    }
    for _ in 0..3 {
        let at = free_place(scene, rng, 150.0, 9.0);
        scene.dots.push(Dot {
            at,
            radius_mm: rng.random_range(0.7..1.4),
            ink: dn(30, 40, 90),
        });
    }
}

/// Prints the zone numbers 1 to 8 below the middle of a 40 cm target face.
pub fn zone_numbers(scene: &mut Scene) {
    for zone in 1..=8_u8 {
        let from_middle = f64::from(10 - zone) * 20.0 + 10.0;
        let ink = if zone == 3 || zone == 4 {
            dn(225, 225, 222)
        } else {
            dn(30, 30, 32)
        };
        scene.digits.push(Digit {
            at: PointMm::new(0.0, -from_middle),
            height_mm: 7.0,
            value: zone,
            ink,
        });
    }
}
