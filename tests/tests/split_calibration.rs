//! "Is it real?" fires in one faultless bow of twenty, whatever the number of arrows.

use rand::SeedableRng;
use rand::rngs::StdRng;
use rand_distr::{Distribution, StandardNormal};
use shimwright::evidence::{FaceAccuracy, Shot, TrialEvidence, splits_of};
use shimwright::frame::ArrowKind;
use shimwright::group::Impact;
use shimwright::scatter::{PRIOR_BARE_RATIO, PRIOR_FLETCHED_SD_MM};

const BOWS: u32 = 20_000;

/// Spread of the log scatter from one good shooter to the next (common practice, no source: half an
/// inch to three quarters at 20 yd).
const SHOOTERS_LOG_SD: f64 = 0.25;

/// A faultless bow of some shooter, so many arrows of each kind on one face.
fn faultless(arrows: u32, random: &mut StdRng) -> TrialEvidence {
    let level: f64 = StandardNormal.sample(random);
    let fletched = PRIOR_FLETCHED_SD_MM * (SHOOTERS_LOG_SD * level).exp();
    let bare = PRIOR_BARE_RATIO * fletched;
    let mut impacts = Vec::new();
    for (kind, sd_mm) in [(ArrowKind::Fletched, fletched), (ArrowKind::Bare, bare)] {
        for _ in 0..arrows {
            let (x, y): (f64, f64) = (StandardNormal.sample(random), StandardNormal.sample(random));
            impacts.push(Impact::new(kind, sd_mm * x, sd_mm * y));
        }
    }
    TrialEvidence {
        id: 1,
        fitted: None,
        offset_mm: None,
        rest_mm: 0.0,
        nock_mm: 0.0,
        epoch: 0,
        shooter: None,
        shot: Shot::Face {
            distance_m: 18.288,
            impacts,
            reading: FaceAccuracy::default(),
        },
    }
}

#[test]
fn one_faultless_bow_in_twenty_seems_real() {
    for arrows in [3, 4, 6] {
        let mut random = StdRng::seed_from_u64(5000 + u64::from(arrows));
        let real = (0..BOWS)
            .filter(|_| {
                let trial = faultless(arrows, &mut random);
                splits_of(std::slice::from_ref(&trial))[0][0].x().is_real()
            })
            .count();
        let share = real as f64 / f64::from(BOWS);
        println!("{arrows} + {arrows}: {share:.4}");
        assert!((0.04..=0.06).contains(&share), "{arrows}: {share}");
    }
}
