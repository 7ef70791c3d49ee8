//! The row about paper tears.

use rand::RngExt;
use shimwright::frame::PointMm;
use shimwright::measure::{PhotoSession, TearTap};

use super::Plan;
use super::figures::{Bar, Row, Spread, share};
use super::plane::sheet_reference;
use crate::render::seeded;
use crate::shots::{self, normal, tap};

/// Tears from one tap and the shaft diameter.
pub fn tears(plan: &Plan) -> Row {
    let (mut error, mut told) = (Spread::default(), Spread::default());
    let (mut count, mut notes) = (0, Vec::new());
    for seed in plan.seeds() {
        let shot = shots::tears(seed, plan.size);
        let mut rng = seeded(seed ^ 0x7EA2);
        let reference = sheet_reference(&shot, (210.0, 297.0), &mut rng);
        count += shot.scene.tears.len();
        let session = PhotoSession::open(&shot.jpeg())
            .and_then(|mut s| s.fit(&reference, None, None).map(|_| s));
        let Ok(session) = session else {
            notes.push(format!("seed {seed}: the sheet was refused"));
            continue;
        };
        for tear in &shot.scene.tears {
            let t = rng.random_range(0.0..1.0);
            let on = PointMm::new(
                tear.point.x_mm + t * tear.vector().x_mm,
                tear.point.y_mm + t * tear.vector().y_mm,
            );
            let at = shot.camera.to_px(on);
            let sd_px = 0.8 * shot.camera.px_per_mm(at.x_px, at.y_px);
            // The shaft's diameter is read off a rule or a label to a tenth or two.
            let shaft_mm = f64::from(tear.shaft_mm) + normal(&mut rng, 0.1);
            let tap = TearTap {
                px: tap(&mut rng, at, sd_px),
                shaft_mm,
                sd_px: Some(sd_px),
                nock_px: None,
            };
            let Ok((read, _)) = session.tear(&tap) else {
                continue;
            };
            if !read.accepted {
                notes.push(format!(
                    "seed {seed}: {:.0} mm tear not accepted: {:?}",
                    tear.vector().norm_mm(),
                    read.reason
                ));
                continue;
            }
            let off = (PointMm::new(read.x_mm, read.y_mm) - tear.vector()).norm_mm();
            error.push(off);
            told.push(off / std::f64::consts::SQRT_2 / read.sd_mm);
            if off > 1.2 {
                notes.push(format!(
                    "seed {seed}: {:.0} mm tear {off:.2} mm off",
                    tear.vector().norm_mm()
                ));
            }
        }
    }
    let mut row = Row::new("tear from one tap", plan.count as usize)
        .with(
            "accepted, share",
            share(error.count(), count),
            Bar::AtLeast(0.90),
        )
        .with("rms, mm", error.rms(), Bar::AtMost(0.5))
        .with("95 % within, mm", error.p95(), Bar::AtMost(0.9))
        .with("largest, mm", error.max(), Bar::None)
        .with("error / stated sd, rms", told.rms(), Bar::AtMost(1.6));
    row.notes = notes;
    row
}
