//! Renders the demonstration's photographs into `demo/photos/`, each with its truth beside it.
//!
//! The story: a right-handed bow called Heron, shot at 20 yards (18.288 m). With pair B's thick
//! spacers on the left, bare shafts land 61 mm to the right of the fletched ones; after the swap
//! about 5 mm. Paper shot before the swap shows the nock to the left by about 22 mm.

use std::error::Error;
use std::path::Path;

use shimwright::frame::{ArrowKind, PointMm};
use shimwright_tests::render::{
    Camera, Coding, Exif, Hole, Inside, Light, Optics, Paster, Photo, Pose, RingFace, Scene,
    Seeded, Shadow, Sheet, Staple, Tear, Tone, Truth, Wall, dn, seeded,
};
use shimwright_tests::shots::zone_numbers;

const SHAFT_MM: f32 = 6.2;
const F35_MM: f64 = 26.0;
const K1: f64 = 0.011;

/// Impacts before the swap, mm on an A4 sheet lying across.
const BEFORE: [(ArrowKind, f64, f64); 6] = [
    (ArrowKind::Fletched, -38.0, 6.0),
    (ArrowKind::Fletched, -30.5, -5.5),
    (ArrowKind::Fletched, -26.0, 9.0),
    (ArrowKind::Bare, 20.5, 2.0),
    (ArrowKind::Bare, 38.0, 9.0),
    (ArrowKind::Bare, 30.5, -6.0),
];

/// Impacts after the swap.
const AFTER: [(ArrowKind, f64, f64); 6] = [
    (ArrowKind::Fletched, -6.0, 6.0),
    (ArrowKind::Fletched, 5.0, -2.0),
    (ArrowKind::Fletched, 0.0, 14.0),
    (ArrowKind::Bare, 14.0, 9.0),
    (ArrowKind::Bare, -5.0, -5.0),
    (ArrowKind::Bare, 7.0, 6.5),
];

/// Fletched shafts and fixed-blade broadheads on a 40 cm face, after the swap.
const FACE: [(ArrowKind, f64, f64); 6] = [
    (ArrowKind::Fletched, -9.0, 4.0),
    (ArrowKind::Fletched, 3.0, -12.0),
    (ArrowKind::Fletched, 8.0, 16.0),
    (ArrowKind::Broadhead, 30.0, -6.0),
    (ArrowKind::Broadhead, 0.0, 38.0),
    (ArrowKind::Broadhead, -20.0, -24.0),
];

/// Tears of fletched shafts before the swap: where the point went through, and nock minus point.
const TEARS: [((f64, f64), (f64, f64)); 3] = [
    ((-38.0, 72.0), (-23.0, 3.0)),
    ((34.0, 6.0), (-19.5, -2.0)),
    ((-22.0, -66.0), (-25.0, 4.5)),
];

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args()
        .nth(1)
        .unwrap_or_else(|| "demo/photos".into());
    let folder = Path::new(&folder);
    std::fs::create_dir_all(folder)?;
    let wide = (4032, 3024);
    let before = Pose {
        tilt_rad: 0.21,
        tilt_axis_rad: 0.5,
        roll_rad: 0.02,
        ..look(300.0, 3.0, -6.0)
    };
    shoot(
        &sheet(&BEFORE, (-31.0, 3.0), 11),
        wide,
        &before,
        1,
        101,
        &folder.join("before.jpg"),
    )?;
    let after = Pose {
        tilt_rad: 0.17,
        tilt_axis_rad: 2.4,
        roll_rad: -0.035,
        ..look(312.0, -5.0, 2.0)
    };
    shoot(
        &sheet(&AFTER, (0.0, 5.0), 12),
        wide,
        &after,
        1,
        102,
        &folder.join("after.jpg"),
    )?;
    let face_pose = Pose {
        tilt_rad: 0.2,
        tilt_axis_rad: -0.3,
        roll_rad: 0.025,
        ..look(530.0, 6.0, 4.0)
    };
    shoot(
        &face(13),
        wide,
        &face_pose,
        1,
        103,
        &folder.join("face.jpg"),
    )?;
    let paper_pose = Pose {
        tilt_rad: 0.16,
        tilt_axis_rad: 1.2,
        roll_rad: -0.02,
        ..look(315.0, 2.0, -3.0)
    };
    // A phone held upright stores its pixels lying down.
    shoot(
        &paper(14),
        (3024, 4032),
        &paper_pose,
        6,
        104,
        &folder.join("paper.jpg"),
    )
}

fn look(distance_mm: f64, x_mm: f64, y_mm: f64) -> Pose {
    Pose {
        look_at: PointMm::new(x_mm, y_mm),
        ..Pose::square_on(distance_mm)
    }
}

/// Takes the picture and writes it with its truth.
fn shoot(
    scene: &Scene,
    size: (usize, usize),
    pose: &Pose,
    orientation: u8,
    seed: u64,
    to: &Path,
) -> Result<(), Box<dyn Error>> {
    let camera = Camera::new(size.0, size.1, F35_MM, K1, pose);
    let optics = Optics {
        blur_px: 1.0,
        motion_px: [0.7, -0.4],
        noise_dn: 2.0,
        tone: Tone::AfterBlur,
    };
    let exif = Exif {
        make: "Lumen".into(),
        model: "Field 2".into(),
        orientation,
        ..Exif::upright(F35_MM)
    };
    let bytes = Photo::take(scene, &camera, &optics, seed).jpeg(90, Coding::Phone, &exif)?;
    std::fs::write(to, &bytes)?;
    let truth = serde_json::to_string_pretty(&Truth::of(scene, &camera))?;
    std::fs::write(to.with_extension("truth.json"), truth + "\n")?;
    println!("{} {:.2} MB", to.display(), bytes.len() as f64 / 1e6);
    Ok(())
}

/// Afternoon light with the shadow of a roof across the butt.
fn daylight(edge: f32, angle_rad: f32) -> Light {
    Light {
        gain: 0.9,
        slope: [0.07, -0.08],
        corners: 0.14,
        shadows: vec![
            Shadow {
                angle_rad,
                edge,
                soft: 0.09,
                depth: 0.34,
            },
            Shadow {
                angle_rad: angle_rad + 1.9,
                edge: 0.5,
                soft: 0.5,
                depth: 0.25,
            },
        ],
    }
}

fn pierce(scene: &mut Scene, impacts: &[(ArrowKind, f64, f64)], rng: &mut Seeded) {
    for (kind, x, y) in impacts {
        scene.holes.push(Hole::new(
            *kind,
            PointMm::new(*x, *y),
            SHAFT_MM,
            Inside::Dark,
            rng,
        ));
    }
}

/// A plain A4 sheet lying across, with a gummed square to aim at.
fn sheet(impacts: &[(ArrowKind, f64, f64)], aim: (f64, f64), seed: u64) -> Scene {
    let mut rng = seeded(seed);
    let mut scene = Scene::new(
        Sheet::plain(297.0, 210.0),
        Wall::butt(),
        daylight(0.42, 0.5),
    );
    let tint = dn(226, 150, 74);
    scene.pasters.push(Paster {
        at: PointMm::new(aim.0, aim.1),
        side_mm: 50.0,
        angle_rad: 0.04,
        tint,
    });
    for (x, y, angle_rad) in [
        (-136.0, 92.0, 0.9),
        (137.0, 93.0, 2.3),
        (138.0, -91.0, 0.5),
        (-137.0, -93.0, 2.6),
    ] {
        scene.staples.push(Staple {
            at: PointMm::new(x, y),
            angle_rad,
        });
    }
    pierce(&mut scene, impacts, &mut rng);
    scene
}

/// A 40 cm target face with its zone numbers.
fn face(seed: u64) -> Scene {
    let mut rng = seeded(seed);
    let face = RingFace::target(400.0, 0.4).printed(&mut rng, 0.2, 160.0);
    let mut scene = Scene::new(
        Sheet::with_face(420.0, 420.0, face),
        Wall::butt(),
        Light {
            gain: 1.08,
            ..daylight(0.5, 2.6)
        },
    );
    zone_numbers(&mut scene);
    scene.pasters.push(Paster {
        at: PointMm::new(96.0, 61.0),
        side_mm: 20.0,
        angle_rad: 0.3,
        tint: dn(52, 140, 196),
    });
    scene.pasters.push(Paster {
        at: PointMm::new(-70.0, -22.0),
        side_mm: 20.0,
        angle_rad: 1.0,
        tint: dn(196, 52, 50),
    });
    for (x, y, angle_rad) in [
        (-200.0, 200.0, 0.8),
        (201.0, 201.0, 2.3),
        (200.0, -201.0, 0.6),
        (-201.0, -199.0, 2.5),
    ] {
        scene.staples.push(Staple {
            at: PointMm::new(x, y),
            angle_rad,
        });
    }
    pierce(&mut scene, &FACE, &mut rng);
    scene
}

/// A4 paper hanging upright, shot through from about two metres.
fn paper(seed: u64) -> Scene {
    let mut rng = seeded(seed);
    let mut scene = Scene::new(
        Sheet::plain(210.0, 297.0),
        Wall::yard(),
        daylight(0.5, -0.6),
    );
    for (point, vector) in TEARS {
        let (point, vector) = (
            PointMm::new(point.0, point.1),
            PointMm::new(vector.0, vector.1),
        );
        scene
            .tears
            .push(Tear::new(point, vector, SHAFT_MM, 3, &mut rng));
    }
    scene
}
