//! Sheets, cards and printed marks as references.

use rand::RngExt;

use super::{Phone, Shot, Size};
use crate::render::{Light, Print, Scene, Sheet, Wall, seeded};

/// A plain sheet, flat, with nothing on it.
pub fn sheet(seed: u64, size: Size, width_mm: f32, height_mm: f32) -> Shot {
    bowed(seed, size, (width_mm, height_mm), 0.0)
}

/// A sheet whose middle stands out by `bow_mm` (negative: sinks in).
pub fn bowed(seed: u64, size: Size, (width_mm, height_mm): (f32, f32), bow_mm: f64) -> Shot {
    let mut rng = seeded(seed);
    let phone = Phone::random(&mut rng, size, height_mm > width_mm, (0.5, 0.95));
    let camera = phone
        .frame(width_mm.into(), height_mm.into())
        .with_bow(bow_mm, width_mm.into());
    let scene = Scene::new(
        Sheet::plain(width_mm, height_mm),
        Wall::random(&mut rng),
        Light::random(&mut rng),
    );
    phone.shot(scene, camera, &mut rng, seed)
}

/// An ID-1 card, alone on the butt, with room around it.
pub fn card(seed: u64, size: Size) -> Shot {
    let mut rng = seeded(seed);
    let phone = Phone::random(&mut rng, size, false, (0.3, 0.45));
    let camera = phone.frame(85.60, 53.98);
    let scene = Scene::new(
        Sheet::card(),
        Wall::random(&mut rng),
        Light::random(&mut rng),
    );
    phone.shot(scene, camera, &mut rng, seed)
}

/// A sheet with four square marks whose outer edges span `outer` mm.
pub fn marks(seed: u64, size: Size, outer: (f32, f32), side_mm: f32) -> Shot {
    let mut rng = seeded(seed);
    let phone = Phone::random(&mut rng, size, outer.1 > outer.0, (0.5, 0.9));
    let camera = phone.frame(outer.0.into(), outer.1.into());
    let print = Print::Squares {
        width_mm: outer.0 - side_mm,
        height_mm: outer.1 - side_mm,
        side_mm,
    };
    // The paper itself is cut anyhow: only the marks are to be trusted.
    let margin = rng.random_range(9.0..12.0);
    let sheet = Sheet {
        print,
        ..Sheet::plain(outer.0 + 2.0 * margin, outer.1 + 2.0 * margin)
    };
    let scene = Scene::new(sheet, Wall::random(&mut rng), Light::random(&mut rng));
    phone.shot(scene, camera, &mut rng, seed)
}
