//! Rows about refusals and warnings: what must not be measured with a straight face.

use rand::RngExt;
use shimwright::frame::{ArrowKind, PointMm};
use shimwright::measure::{PhotoSession, Reference, Tap, Up};

use super::Plan;
use super::figures::{Bar, Row, Spread, share};
use super::plane::{SHEET, fit, says_not_flat, sheet_reference};
use crate::render::{Shaft, seeded};
use crate::shots::{self, tap};

/// Sheets that bulge or sink by 2 to 5 mm must be told from flat ones.
pub fn bowed(plan: &Plan) -> Row {
    let (mut flagged, mut bent, mut false_alarm, mut flat) = (0, 0, 0, 0);
    let mut notes = Vec::new();
    for seed in plan.seeds() {
        let mut rng = seeded(seed ^ 0xB0E);
        let bow = rng.random_range(2.0..5.0) * if seed % 2 == 0 { 1.0 } else { -1.0 };
        for bow_mm in [0.0, bow] {
            let shot = shots::bowed(seed, plan.size, (210.0, 297.0), bow_mm);
            let reference = sheet_reference(&shot, (210.0, 297.0), &mut rng);
            // A refusal warns just as well.
            let kind = if bow_mm == 0.0 { SHEET } else { "bowed sheet" };
            let warned =
                fit(&plan.jpeg(kind, &shot), &reference, None).map_or(true, |p| says_not_flat(&p));
            if bow_mm == 0.0 {
                flat += 1;
                false_alarm += usize::from(warned);
            } else {
                bent += 1;
                flagged += usize::from(warned);
            }
            if warned == (bow_mm == 0.0) {
                notes.push(format!("seed {seed}: bow {bow_mm:.1} mm, flagged {warned}"));
            }
        }
    }
    let mut row = Row::new("sheet bowed 2 mm or more", bent + flat)
        .with(
            "bowed ones flagged, share",
            share(flagged, bent),
            Bar::AtLeast(1.0),
        )
        .with(
            "flat ones flagged, share",
            share(false_alarm, flat),
            Bar::AtMost(0.0),
        );
    row.notes = notes;
    row
}

/// Letter taken as A4, A4 taken as Letter, and both turned by a quarter.
pub fn other_sheet(plan: &Plan) -> Row {
    const A4: (f64, f64) = (210.0, 297.0);
    const LETTER: (f64, f64) = (215.9, 279.4);
    let (mut refused, mut asked, mut right_refused) = (0, 0, 0);
    let mut notes = Vec::new();
    for seed in plan.few() {
        for (is, other) in [(A4, LETTER), (LETTER, A4)] {
            let shot = shots::sheet(seed, plan.size, is.0 as f32, is.1 as f32);
            let jpeg = plan.jpeg(if is == A4 { SHEET } else { "letter" }, &shot);
            let mut rng = seeded(seed ^ 0x0A4);
            let mut ask = |size| fit(&jpeg, &sheet_reference(&shot, size, &mut rng), None);
            right_refused += usize::from(ask(is).is_err());
            for wrong in [other, (is.1, is.0), (other.1, other.0)] {
                asked += 1;
                match ask(wrong) {
                    Err(_) => refused += 1,
                    Ok(_) => notes.push(format!("seed {seed}: {is:?} taken as {wrong:?}")),
                }
            }
        }
    }
    let mut row = Row::new(
        "Letter as A4, A4 as Letter, turned sheets",
        plan.few().count() * 2,
    )
    .with(
        "wrong ones refused, share",
        share(refused, asked),
        Bar::AtLeast(1.0),
    )
    .with(
        "right ones refused, photographs",
        right_refused as f64,
        Bar::AtMost(0.0),
    );
    row.notes = notes;
    row
}

/// One ring alone fixes no scale.
pub fn single_rings(plan: &Plan) -> Row {
    let (mut refused, mut photos) = (0, 0);
    for seed in plan.few() {
        let shot = shots::single_ring(seed, plan.size, 100.0);
        let at = |x: f64, y: f64| shot.camera.to_px(PointMm::new(x, y));
        let reference = Reference::Rings {
            face: String::new(),
            radii_mm: Some(vec![100.0]),
            centre_px: at(0.0, 0.0),
            up: Up::Picture,
        };
        photos += 1;
        refused += usize::from(fit(&shot.jpeg(), &reference, None).is_err());
    }
    Row::new("single ring", photos).with(
        "refused, share",
        share(refused, photos),
        Bar::AtLeast(1.0),
    )
}

/// A shaft still standing must not be read as a hole: its tap stays a tap, or stays near the truth.
pub(super) fn standing_shafts(plan: &Plan) -> Row {
    let (mut asked, mut kept, mut error) = (0, 0, Spread::default());
    for seed in plan.few() {
        let mut shot = shots::sheet(seed, plan.size, 297.0, 210.0);
        let mut rng = seeded(seed ^ 0x54AF7);
        for i in 0..3 {
            let at = PointMm::new(f64::from(i) * 70.0 - 70.0, rng.random_range(-50.0..50.0));
            let lean = [rng.random_range(-0.05..0.05), rng.random_range(-0.05..0.05)];
            let shaft_mm = rng.random_range(5.2..7.6);
            shot.scene.shafts.push(Shaft {
                at,
                shaft_mm,
                lean,
                length_mm: 600.0,
            });
        }
        let reference = sheet_reference(&shot, (297.0, 210.0), &mut rng);
        let session = PhotoSession::open(&shot.jpeg())
            .and_then(|mut s| s.fit(&reference, None, None).map(|_| s));
        let Ok(session) = session else { continue };
        for shaft in &shot.scene.shafts {
            let at = shot.camera.to_px(shaft.at);
            let sd_px = 0.8 * shot.camera.px_per_mm(at.x_px, at.y_px);
            let tap = Tap {
                kind: ArrowKind::Fletched,
                px: tap(&mut rng, at, sd_px),
                sd_px: Some(sd_px),
                shaft_mm: None,
            };
            asked += 1;
            match session.snap(&tap) {
                Ok((impact, _)) if impact.snapped => {
                    error.push((PointMm::new(impact.x_mm, impact.y_mm) - shaft.at).norm_mm());
                }
                _ => kept += 1,
            }
        }
    }
    Row::new("standing shaft, three a sheet", plan.few().count())
        .with("not snapped, share", share(kept, asked), Bar::AtLeast(0.95))
        .with(
            "largest error where snapped, mm",
            if error.count() == 0 { 0.0 } else { error.max() },
            Bar::None,
        )
}
