//! Plain A4 paper with holes or tears.

use rand::RngExt;
use shimwright::frame::{ArrowKind, PointMm};

use super::{Phone, Shot, Size};
use crate::render::{Hole, Inside, Light, Scene, Sheet, Tear, Wall, seeded};

/// Plain paper with six holes, dark or lit from behind.
pub fn paper_holes(seed: u64, size: Size, inside: Inside) -> Shot {
    let mut rng = seeded(seed);
    let phone = Phone::random(&mut rng, size, false, (0.6, 0.95));
    let camera = phone.frame(297.0, 210.0);
    let mut sheet = Sheet::plain(297.0, 210.0);
    if inside == Inside::Lit {
        sheet.tint = sheet.tint.map(|c| c * 0.45);
    }
    let mut scene = Scene::new(sheet, Wall::random(&mut rng), Light::random(&mut rng));
    for i in 0..6 {
        let cell = (f64::from(i % 3) - 1.0, f64::from(i / 3) - 0.5);
        let at = PointMm::new(
            cell.0 * 80.0 + rng.random_range(-25.0..25.0),
            cell.1 * 80.0 + rng.random_range(-22.0..22.0),
        );
        let kind = [ArrowKind::Fletched, ArrowKind::Bare, ArrowKind::Broadhead][i as usize % 3];
        let shaft_mm = rng.random_range(5.2..7.6);
        scene
            .holes
            .push(Hole::new(kind, at, shaft_mm, inside, &mut rng));
    }
    phone.shot(scene, camera, &mut rng, seed)
}

/// Plain paper with three pairs of holes, the two of a pair `apart_mm` from each other.
pub fn hole_pairs(seed: u64, size: Size, apart_mm: f64) -> Shot {
    let mut rng = seeded(seed);
    let phone = Phone::random(&mut rng, size, false, (0.6, 0.95));
    let camera = phone.frame(297.0, 210.0);
    let mut scene = Scene::new(
        Sheet::plain(297.0, 210.0),
        Wall::random(&mut rng),
        Light::random(&mut rng),
    );
    for i in 0..3 {
        let (first, angle) = (
            PointMm::new(
                (f64::from(i) - 1.0) * 80.0 + rng.random_range(-25.0..25.0),
                rng.random_range(-65.0..65.0),
            ),
            rng.random_range(0.0..std::f64::consts::TAU),
        );
        let second = first + PointMm::new(apart_mm * angle.cos(), apart_mm * angle.sin());
        for (at, kind) in [(first, ArrowKind::Fletched), (second, ArrowKind::Bare)] {
            let shaft_mm = rng.random_range(5.2..7.6);
            let hole = Hole::new(kind, at, shaft_mm, Inside::Dark, &mut rng);
            scene.holes.push(hole);
        }
    }
    phone.shot(scene, camera, &mut rng, seed)
}

/// Hanging paper with three tears of 2 to 35 mm, cut by three or four vanes.
pub fn tears(seed: u64, size: Size) -> Shot {
    let mut rng = seeded(seed);
    let phone = Phone::random(&mut rng, size, true, (0.6, 0.95));
    let camera = phone.frame(210.0, 297.0);
    let mut scene = Scene::new(
        Sheet::plain(210.0, 297.0),
        Wall::random(&mut rng),
        Light::random(&mut rng),
    );
    for i in 0..3 {
        let middle = PointMm::new(rng.random_range(-35.0..35.0), (f64::from(i) - 1.0) * 88.0);
        let (length, angle) = (
            rng.random_range(2.0..35.0_f64),
            rng.random_range(0.0..std::f64::consts::TAU),
        );
        let half = PointMm::new(length / 2.0 * angle.cos(), length / 2.0 * angle.sin());
        let vanes = if rng.random_bool(0.8) { 3 } else { 4 };
        let shaft_mm = rng.random_range(5.2..7.6);
        scene.tears.push(Tear::new(
            middle - half,
            half + half,
            shaft_mm,
            vanes,
            &mut rng,
        ));
    }
    phone.shot(scene, camera, &mut rng, seed)
}
