//! Evidence against textbook results: the conjugate normal of Bishop, Pattern Recognition and
//! Machine Learning (2006), 2.141-2.142, and Murphy, Conjugate Bayesian analysis of the Gaussian
//! distribution (2007), section 2 (both formulas from memory).

use shimwright::evidence::{FaceAccuracy, Probe, Shot, TrialEvidence, priors};
use shimwright::flight::TransferTable;
use shimwright::frame::{ArrowKind, Side};
use shimwright::group::Impact;
use shimwright::spacer::{Fitting, Seat};
use shimwright::verdict::{Case, Verdict, decide};
use shimwright_tests::cases::{Recipe, random_case};

/// One trial of bare shafts `split_mm` right with the cams in the middle: nothing but the fault
/// (prior N(0, 60 mm)) and the noise (known) then speaks, and the posterior is the textbook's.
fn case(splits_mm: &[f64]) -> Case {
    let middle = Fitting {
        top: Seat::new("B", Side::Left),
        bottom: Seat::new("B", Side::Right),
    };
    let mut case = random_case(
        0,
        Recipe {
            trials: 0,
            mixed: false,
            arrows: 0,
        },
    )
    .unwrap();
    case.bow.fitted = middle.clone();
    for (index, &split_mm) in splits_mm.iter().enumerate() {
        let pair = |kind, x: f64| {
            [
                Impact::new(kind, x - 9.0, 4.0),
                Impact::new(kind, x + 9.0, -4.0),
            ]
        };
        let mut impacts = pair(ArrowKind::Fletched, 0.0).to_vec();
        impacts.extend(pair(ArrowKind::Bare, split_mm));
        case.trials.push(TrialEvidence {
            id: index as i64,
            fitted: Some(middle.clone()),
            offset_mm: None,
            rest_mm: 0.0,
            nock_mm: 0.0,
            epoch: 0,
            shooter: None,
            shot: Shot::Face {
                distance_m: 18.288,
                impacts,
                reading: FaceAccuracy {
                    sd_mm: 0.3,
                    scale_sd: 0.0,
                    turn_sd_rad: 0.0,
                },
            },
        });
    }
    case
}

fn verdict(splits_mm: &[f64]) -> Verdict {
    decide(&case(splits_mm), TransferTable::unrecorded()).unwrap()
}

#[test]
fn a_normal_prior_and_normal_splits_give_the_textbook_posterior() {
    for splits_mm in [vec![40.0], vec![40.0, 52.0], vec![-10.0, 35.0, 22.0, 41.0]] {
        let verdict = verdict(&splits_mm);
        let measured = verdict
            .splits
            .iter()
            .find(|split| split.kind == Probe::Bare)
            .unwrap();
        // The inference takes scatter's part as the variance of the t distribution it stands for.
        let (trials, read) = (splits_mm.len() as f64, 0.3_f64.powi(2));
        let inflation = measured.dof / (measured.dof - 2.0);
        let one = (measured.sd_x_mm.powi(2) * trials - read) * inflation + read;
        let precision = trials / one + 1.0 / priors::FAULT_SD_MM.powi(2);
        let mean = measured.x_mm * trials / one / precision;
        let keep = verdict
            .options
            .iter()
            .find(|option| option.axles_opened == 0)
            .unwrap();
        assert!((keep.x_mm - mean).abs() < 1e-6, "{} {mean}", keep.x_mm);
        assert!(
            (keep.sd_mm - (1.0 / precision).sqrt()).abs() < 1e-6,
            "{keep:?}"
        );
    }
}

/// Cams in the middle and too few arrows to swap: what is expected of the bow as it stands is one
/// normal, and its intervals are those of the normal table (80 %: 1.281552, 95 %: 1.959964).
#[test]
fn intervals_of_a_normal_posterior_are_those_of_the_normal_table() {
    let stays = verdict(&[4.0]).predicted;
    let half = |low: f64, high: f64| (high - low) / 2.0 / stays.sd_mm;
    let (half80, half95) = (
        half(stays.low80_mm, stays.high80_mm),
        half(stays.low95_mm, stays.high95_mm),
    );
    assert!((half80 - 1.281_551_565_5).abs() < 1e-6, "{half80}");
    assert!((half95 - 1.959_963_984_5).abs() < 1e-6, "{half95}");
}
