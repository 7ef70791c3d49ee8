//! Cases drawn by dice: what laws, benchmarks and peers put before the verdict.

use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};
use rand_distr::{Distribution, StandardNormal};
use shimwright::evidence::{FaceAccuracy, Probe, Shot, TrialEvidence};
use shimwright::frame::{ArrowKind, PointMm, Side};
use shimwright::group::Impact;
use shimwright::spacer::{Fitting, Kit, KitDraft, KitError, PairDraft, Seat};
use shimwright::verdict::{BowState, Case, Settings};

/// 20 yd, m.
const TWENTY_YD_M: f64 = 18.288;

/// What cases are drawn from.
#[derive(Debug, Clone, Copy)]
pub struct Recipe {
    /// Trials in the case.
    pub trials: usize,
    /// Bare shafts at 20 yd only, or every probe, distance, rest and epoch.
    pub mixed: bool,
    /// Arrows of each kind in a trial.
    pub arrows: usize,
}

/// A kit of three pairs, metric, of our own.
///
/// # Errors
/// Never for this kit; passed on all the same.
pub fn kit() -> Result<Kit, KitError> {
    Kit::new(KitDraft {
        name: "bench".into(),
        total_mm: 4.4,
        tolerance_mm: 0.05,
        pairs: vec![
            PairDraft::new("A", 0.9, 3.5),
            PairDraft::new("B", 1.4, 3.0),
            PairDraft::new("C", 1.9, 2.5),
        ],
    })
}

/// The case of a seed.
///
/// # Errors
/// As [`kit`].
pub fn random_case(seed: u64, recipe: Recipe) -> Result<Case, KitError> {
    let kit = kit()?;
    let mut dice = StdRng::seed_from_u64(seed);
    let truth = (
        60.0 * normal(&mut dice),
        50.0 * (0.5 * normal(&mut dice)).exp(),
    );
    let mut trials: Vec<TrialEvidence> = Vec::new();
    for index in 0..recipe.trials {
        trials.push(trial(&mut dice, &kit, truth, index, recipe)?);
    }
    let fitted = trials
        .last()
        .and_then(|trial| trial.fitted.clone())
        .unwrap_or_else(|| Fitting::alike(Seat::new("C", Side::Left)));
    let bow = BowState {
        axle_to_axle_mm: 838.0,
        top_weight: 0.5,
        fitted,
        rest_mm: None,
        nock_mm: None,
        epoch: None,
    };
    let settings = Settings {
        unequal_axles: true,
        tilt_limit_mm: 9.0,
        priority: if recipe.mixed {
            vec![Probe::Broadhead, Probe::Bare, Probe::Paper]
        } else {
            vec![Probe::Bare]
        },
        ..Settings::default()
    };
    Ok(Case {
        trials,
        ..Case::new(kit, bow, settings)
    })
}

fn trial(
    dice: &mut StdRng,
    kit: &Kit,
    (fault_mm, response): (f64, f64),
    index: usize,
    recipe: Recipe,
) -> Result<TrialEvidence, KitError> {
    let fitted = Fitting {
        top: seat(dice, kit),
        bottom: seat(dice, kit),
    };
    let offset_mm = f64::midpoint(
        kit.cam_offset_mm(&fitted.top)?,
        kit.cam_offset_mm(&fitted.bottom)?,
    );
    let rest_mm = if recipe.mixed && dice.random::<f64>() < 0.3 {
        0.4 * normal(dice)
    } else {
        0.0
    };
    let split_mm = fault_mm + response * offset_mm + 20.0 * rest_mm;
    let paper = recipe.mixed && dice.random::<f64>() < 0.25;
    let shot = if paper {
        tears(dice, split_mm, recipe.arrows)
    } else {
        face(dice, split_mm, recipe)
    };
    Ok(TrialEvidence {
        id: index as i64 + 1,
        fitted: Some(fitted),
        offset_mm: None,
        rest_mm,
        nock_mm: 0.0,
        epoch: i64::from(recipe.mixed && 2 * index >= recipe.trials),
        shooter: None,
        shot,
    })
}

fn seat(dice: &mut StdRng, kit: &Kit) -> Seat {
    let seats = kit.seats();
    seats[dice.random_range(0..seats.len())].clone()
}

fn tears(dice: &mut StdRng, split_mm: f64, count: usize) -> Shot {
    let tears = (0..count)
        .map(|_| PointMm::new(-0.2 * split_mm + 3.0 * normal(dice), 3.0 * normal(dice)))
        .collect();
    Shot::Paper {
        paper_m: if dice.random::<bool>() { 1.0 } else { 2.0 },
        tears,
    }
}

fn face(dice: &mut StdRng, split_mm: f64, recipe: Recipe) -> Shot {
    let places = [13.716, TWENTY_YD_M, 27.432];
    let distance_m = if recipe.mixed {
        places[dice.random_range(0..3)]
    } else {
        TWENTY_YD_M
    };
    let scale = distance_m / TWENTY_YD_M;
    let mut impacts = Vec::new();
    let mut shoot = |kind, x_mm: f64, sd_mm: f64| {
        for _ in 0..recipe.arrows {
            let (dx, dy) = (sd_mm * normal(dice), sd_mm * normal(dice));
            impacts.push(Impact::new(kind, x_mm + scale * dx, scale * dy));
        }
    };
    shoot(ArrowKind::Fletched, 0.0, 12.0);
    shoot(ArrowKind::Bare, split_mm * scale * scale, 18.0);
    if recipe.mixed {
        shoot(ArrowKind::Broadhead, 0.6 * split_mm * scale, 14.0);
    }
    Shot::Face {
        distance_m,
        impacts,
        reading: FaceAccuracy::default(),
    }
}

fn normal(dice: &mut StdRng) -> f64 {
    StandardNormal.sample(dice)
}

/// The case with left and right exchanged.
#[must_use]
pub fn mirrored(case: &Case) -> Case {
    let mut case = case.clone();
    case.bow.fitted = case.bow.fitted.mirrored();
    case.bow.rest_mm = case.bow.rest_mm.map(|rest_mm| -rest_mm);
    let room = &mut case.settings.rest_room_mm;
    std::mem::swap(&mut room.left, &mut room.right);
    for swap in &mut case.remembered {
        (swap.from, swap.to) = (swap.from.mirrored(), swap.to.mirrored());
        swap.moved_mm = -swap.moved_mm;
    }
    for relative in &mut case.relatives {
        relative.trials.iter_mut().for_each(mirror);
    }
    case.trials.iter_mut().for_each(mirror);
    case
}

fn mirror(trial: &mut TrialEvidence) {
    trial.fitted = trial.fitted.as_ref().map(Fitting::mirrored);
    trial.offset_mm = trial.offset_mm.map(|offset_mm| -offset_mm);
    trial.rest_mm = -trial.rest_mm;
    match &mut trial.shot {
        Shot::Face { impacts, .. } => {
            for impact in impacts {
                impact.point = impact.point.mirrored();
            }
        }
        Shot::Paper { tears, .. } => {
            for tear in tears {
                *tear = tear.mirrored();
            }
        }
    }
}
