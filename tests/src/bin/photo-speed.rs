//! Times the core's way from a JPEG to proposals, and the memory it takes.
//!
//! `photo-speed render FOLDER` writes `light.jpg` and `heavy.jpg`, 12 MP each, with the plane's
//! homography beside them; `photo-speed time FILE REPEATS` prints medians as JSON, ms;
//! `photo-speed fit FILE REPEATS` those of the face being fitted in it, and of suggestions on it;
//! `photo-speed peak FILE` prints the largest resident size, MiB.

use std::error::Error;
use std::path::Path;
use std::time::Instant;

use serde_json::json;
use shimwright::frame::PointMm;
use shimwright::impact;
use shimwright::measure::{PhotoSession, Reference, Up};
use shimwright::photo::{Planes, decode};
use shimwright::plane::{Plane, Source, Window, rectify};
use shimwright_tests::render::{Coding, Photo};
use shimwright_tests::shots::{self, FaceShot, Shot, Size};

const SIDE_MM: f64 = 400.0;
const SIDE_PX: f64 = 1200.0;
const SEED: u64 = 6001;

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match arguments.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        ["render", folder] => render(Path::new(folder)),
        ["time", file, repeats] => time(file, repeats.parse()?),
        ["fit", file, repeats] => fit(file, repeats.parse()?),
        ["peak", file] => peak(file),
        _ => Err("photo-speed render FOLDER | time | fit FILE REPEATS | peak FILE".into()),
    }
}

fn shot() -> Shot {
    shots::face(
        SEED,
        Size::Full,
        FaceShot {
            holes: 12,
            clutter: true,
            digits: false,
        },
    )
}

/// One scene twice: with little noise at a modest quality, and noisy at a high one.
fn render(folder: &Path) -> Result<(), Box<dyn Error>> {
    std::fs::create_dir_all(folder)?;
    for (name, noise_dn, quality) in [("light", 1.0, 84), ("heavy", 3.4, 93)] {
        let mut shot = shot();
        shot.optics.noise_dn = noise_dn;
        let photo = Photo::take(&shot.scene, &shot.camera, &shot.optics, shot.seed);
        let jpeg = photo.jpeg(quality, Coding::Phone, &shot.exif)?;
        std::fs::write(folder.join(name).with_extension("jpg"), jpeg)?;
    }
    let truth = serde_json::to_string(&shot().truth())?;
    Ok(std::fs::write(folder.join("truth.json"), truth)?)
}

fn reference() -> Reference {
    Reference::Rings {
        face: "target-40".into(),
        radii_mm: None,
        centre_px: shot().camera.to_px(PointMm::default()),
        up: Up::Picture,
    }
}

fn plane(bytes: &[u8]) -> Result<Plane, Box<dyn Error>> {
    let mut session = PhotoSession::open(bytes)?;
    session.fit(&reference(), Some(shot().camera.k1), None)?;
    Ok(session.plane().cloned().ok_or("no plane")?)
}

fn time(file: &str, repeats: usize) -> Result<(), Box<dyn Error>> {
    let bytes = std::fs::read(file)?;
    let plane = plane(&bytes)?;
    let mut stages: [Vec<f64>; 5] = Default::default();
    let mut proposals = 0;
    for _ in 0..repeats.max(1) {
        let start = Instant::now();
        let photo = decode(&bytes, Planes::Colour)?;
        let decoded = start.elapsed().as_secs_f64() * 1e3;
        let half = photo.halved().brightest();
        let previewed = start.elapsed().as_secs_f64() * 1e3;
        let window = Window::around(PointMm::default(), SIDE_MM, SIDE_MM, SIDE_MM / SIDE_PX);
        let straight = rectify(&Source::halved(half.grey(), 1), &plane, &window);
        let warped = start.elapsed().as_secs_f64() * 1e3;
        let (step, reach) = (SIDE_MM / SIDE_PX, SIDE_MM / 2.0);
        let corner = PointMm::new(-reach + step / 2.0, reach - step / 2.0);
        proposals = impact::propose(
            &straight.data,
            straight.width,
            step,
            corner,
            Some(PointMm::default()),
            impact::Tones::Dark,
        )
        .len();
        let done = start.elapsed().as_secs_f64() * 1e3;
        let parts = [
            decoded,
            previewed - decoded,
            warped - previewed,
            done - warped,
            done,
        ];
        for (stage, part) in stages.iter_mut().zip(parts) {
            stage.push(part);
        }
    }
    let [decode, preview, warp, propose, total] = stages.map(median);
    println!(
        "{}",
        json!({ "decode": decode, "preview": preview, "warp": warp, "propose": propose, "total": total, "proposals": proposals })
    );
    Ok(())
}

/// The way of a photograph on the phone: opened, its face fitted, holes suggested.
fn fit(file: &str, repeats: usize) -> Result<(), Box<dyn Error>> {
    let bytes = std::fs::read(file)?;
    let reference = reference();
    let mut stages: [Vec<f64>; 3] = Default::default();
    for _ in 0..repeats.max(1) {
        let start = Instant::now();
        let mut session = PhotoSession::open(&bytes)?;
        let opened = start.elapsed().as_secs_f64() * 1e3;
        session.fit(&reference, None, None)?;
        let fitted = start.elapsed().as_secs_f64() * 1e3;
        session.propose()?;
        let suggested = start.elapsed().as_secs_f64() * 1e3;
        let parts = [opened, fitted - opened, suggested - fitted];
        for (stage, part) in stages.iter_mut().zip(parts) {
            stage.push(part);
        }
    }
    let [open, fit, suggest] = stages.map(median);
    println!(
        "{}",
        json!({ "open": open, "fit": fit, "suggest": suggest })
    );
    Ok(())
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(f64::NAN)
}

/// Measures once and asks the kernel for the high-water mark.
fn peak(file: &str) -> Result<(), Box<dyn Error>> {
    let bytes = std::fs::read(file)?;
    let mut session = PhotoSession::open(&bytes)?;
    // Where the middle is, without rendering anything in this process.
    session.fit(&reference(), None, None)?;
    let proposals = session.propose()?.holes.len();
    let status = std::fs::read_to_string("/proc/self/status")?;
    let line = status
        .lines()
        .find(|l| l.starts_with("VmHWM"))
        .ok_or("no VmHWM")?;
    let kib: f64 = line.split_whitespace().nth(1).ok_or("no size")?.parse()?;
    println!(
        "{}",
        json!({ "peak_mib": kib / 1024.0, "proposals": proposals })
    );
    Ok(())
}
