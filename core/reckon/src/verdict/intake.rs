//! Checks a case and puts it in canonical form.

use crate::evidence::{
    Known, Now, Relative, Remembered, RememberedSwap, Scatter, Seen, Shot, TrialEvidence, canonical,
};
use crate::frame::Cov2;
use crate::group::Impact;
use crate::range::{self, Range};

use super::{Case, Reason, Settings, VerdictError};

/// A checked case.
pub(crate) struct Intake<'a> {
    pub(crate) known: Known<'a>,
    /// Top cam's offset minus the bottom cam's, as the bow stands, mm.
    pub(crate) tilt_mm: f64,
    /// Trials that were left out.
    pub(crate) left_out: Vec<Reason>,
}

/// Checks every figure and resolves what was fitted in each trial.
pub(crate) fn intake(case: &Case) -> Result<Intake<'_>, VerdictError> {
    check_settings(&case.settings)?;
    let bow = &case.bow;
    in_range(
        "axle to axle (mm)",
        None,
        bow.axle_to_axle_mm,
        range::AXLE_TO_AXLE_MM,
    )?;
    in_range(
        "share of the top cam",
        None,
        bow.top_weight,
        range::TOP_WEIGHT,
    )?;
    let now_fitted = case
        .kit
        .arrangement(&bow.fitted, &bow.geometry())
        .map_err(|kit| VerdictError::Fitting { trial: None, kit })?;
    let mut left_out = Vec::new();
    let seen = seen(case, &case.trials, &mut left_out)?;
    let now = now(case, &seen, now_fitted.offset_mm)?;
    let relatives = case.relatives.iter().map(|other| relative(case, other));
    let remembered = case.remembered.iter().map(|swap| remembered(case, swap));
    Ok(Intake {
        known: Known {
            now,
            seen,
            scatter: Scatter::of(&case.trials),
            relatives: relatives.collect::<Result<_, _>>()?,
            remembered: remembered.collect::<Result<_, _>>()?,
            outvoted: Vec::new(),
        },
        tilt_mm: now_fitted.tilt_mm,
        left_out,
    })
}

/// Trials whose setting is known, in canonical order.
fn seen<'a>(
    case: &Case,
    trials: &'a [TrialEvidence],
    left_out: &mut Vec<Reason>,
) -> Result<Vec<Seen<'a>>, VerdictError> {
    let mut seen = Vec::with_capacity(trials.len());
    for trial in trials {
        check_trial(trial)?;
        match offset_mm(case, trial)? {
            Some(offset_mm) => seen.push(Seen::new(trial, offset_mm)),
            None => left_out.push(Reason::TrialWithoutFitting { trial: trial.id }),
        }
    }
    canonical(&mut seen);
    Ok(seen)
}

fn now(case: &Case, seen: &[Seen], offset_mm: f64) -> Result<Now, VerdictError> {
    let bow = &case.bow;
    let latest = seen.last().map(|seen| seen.trial);
    let now = Now {
        offset_mm,
        rest_mm: bow
            .rest_mm
            .or(latest.map(|trial| trial.rest_mm))
            .unwrap_or(0.0),
        nock_mm: bow
            .nock_mm
            .or(latest.map(|trial| trial.nock_mm))
            .unwrap_or(0.0),
        epoch: bow.epoch.or(latest.map(|trial| trial.epoch)).unwrap_or(0),
        shooter: shoots_now(seen),
        target_m: case.settings.tolerance_distance_m,
    };
    in_range("rest (mm)", None, now.rest_mm, range::REST_AND_NOCK_MM)?;
    in_range(
        "nocking point (mm)",
        None,
        now.nock_mm,
        range::REST_AND_NOCK_MM,
    )?;
    Ok(now)
}

/// Who shot last; paper that nobody is named for is taken for that of whoever shot before it.
fn shoots_now(seen: &[Seen]) -> Option<String> {
    let tells =
        |trial: &&TrialEvidence| trial.shooter.is_some() || matches!(trial.shot, Shot::Face { .. });
    let mut trials = seen.iter().rev().map(|seen| seen.trial);
    trials.find(tells)?.shooter.clone()
}

/// Another bow of the family; what was shot on a fitting nobody noted is left out.
fn relative<'a>(
    case: &Case,
    other: &'a Relative,
) -> Result<(Vec<Seen<'a>>, Scatter), VerdictError> {
    let seen = seen(case, &other.trials, &mut Vec::new())?;
    Ok((seen, Scatter::of(&other.trials)))
}

fn remembered(case: &Case, swap: &RememberedSwap) -> Result<Remembered, VerdictError> {
    in_range(
        "remembered move (mm)",
        None,
        swap.moved_mm,
        range::REMEMBERED_MOVE_MM,
    )?;
    in_range(
        "uncertainty of a remembered move (mm)",
        None,
        swap.sd_mm,
        range::TOLERANCE_MM,
    )?;
    in_range(
        "distance of a remembered swap (m)",
        None,
        swap.distance_m,
        range::FACE_DISTANCE_M,
    )?;
    let offset = |fitted| {
        case.kit
            .arrangement(fitted, &case.bow.geometry())
            .map(|arrangement| arrangement.offset_mm)
            .map_err(|kit| VerdictError::Remembered { kit })
    };
    Ok(Remembered {
        shift_mm: offset(&swap.to)? - offset(&swap.from)?,
        moved_mm: swap.moved_mm,
        sd_mm: swap.sd_mm,
        distance_m: swap.distance_m,
    })
}

fn offset_mm(case: &Case, trial: &TrialEvidence) -> Result<Option<f64>, VerdictError> {
    if trial.offset_mm.is_some() {
        return Ok(trial.offset_mm);
    }
    let Some(fitted) = &trial.fitted else {
        return Ok(None);
    };
    case.kit
        .arrangement(fitted, &case.bow.geometry())
        .map(|arrangement| Some(arrangement.offset_mm))
        .map_err(|kit| VerdictError::Fitting {
            trial: Some(trial.id),
            kit,
        })
}

fn check_settings(settings: &Settings) -> Result<(), VerdictError> {
    if settings.priority.is_empty() {
        return Err(VerdictError::NoPriority);
    }
    in_range(
        "tolerance (mm)",
        None,
        settings.tolerance_mm,
        range::TOLERANCE_MM,
    )?;
    in_range(
        "distance that matters (m)",
        None,
        settings.tolerance_distance_m,
        range::FACE_DISTANCE_M,
    )?;
    in_range(
        "paper tolerance (mm)",
        None,
        settings.paper_tolerance_mm,
        (0.5, 100.0),
    )?;
    in_range(
        "tilt limit (mm)",
        None,
        settings.tilt_limit_mm,
        range::TILT_LIMIT_MM,
    )?;
    in_range(
        "time against millimetres (mm a minute)",
        None,
        settings.mm_per_minute,
        (0.0, 10.0),
    )?;
    in_range("price of tilt", None, settings.price_of_tilt, (0.0, 100.0))?;
    for (what, room) in [
        (
            "room of the rest to the left (mm)",
            settings.rest_room_mm.left,
        ),
        (
            "room of the rest to the right (mm)",
            settings.rest_room_mm.right,
        ),
    ] {
        in_range(what, None, room, range::REST_ROOM_MM)?;
    }
    for (what, price) in [
        ("price per axle (mm)", settings.price_per_axle_mm),
        ("price per arrow (mm)", settings.price_per_arrow_mm),
        ("price per round (mm)", settings.price_per_round_mm),
    ] {
        in_range(what, None, price.unwrap_or(0.0), (0.0, 100.0))?;
    }
    Ok(())
}

fn check_trial(trial: &TrialEvidence) -> Result<(), VerdictError> {
    let check = |what, value, range| in_range(what, Some(trial.id), value, range);
    check("rest (mm)", trial.rest_mm, range::REST_AND_NOCK_MM)?;
    check("nocking point (mm)", trial.nock_mm, range::REST_AND_NOCK_MM)?;
    check(
        "nock-plane offset (mm)",
        trial.offset_mm.unwrap_or(0.0),
        (-15.0, 15.0),
    )?;
    match &trial.shot {
        Shot::Face {
            distance_m,
            impacts,
            reading,
        } => {
            check("distance (m)", *distance_m, range::FACE_DISTANCE_M)?;
            check(
                "reading uncertainty (mm)",
                reading.sd_mm,
                range::PLACE_SD_MM,
            )?;
            check("scale uncertainty", reading.scale_sd, (0.0, 0.5))?;
            check("turn (rad)", reading.turn_sd_rad, (0.0, 0.5))?;
            impacts
                .iter()
                .try_for_each(|impact| check_impact(trial.id, impact))
        }
        Shot::Paper { paper_m, tears } => {
            check(
                "distance to the paper (m)",
                *paper_m,
                range::PAPER_DISTANCE_M,
            )?;
            tears.iter().try_for_each(|tear| {
                check("tear sideways (mm)", tear.x_mm, range::TEAR_MM)?;
                check("tear up and down (mm)", tear.y_mm, range::TEAR_MM)
            })
        }
    }
}

fn check_impact(trial: i64, impact: &Impact) -> Result<(), VerdictError> {
    let check = |what, value, range| in_range(what, Some(trial), value, range);
    let variance = (0.0, 1e6);
    let Cov2 {
        xx_mm2,
        xy_mm2,
        yy_mm2,
    } = impact.cov;
    check("impact sideways (mm)", impact.point.x_mm, range::IMPACT_MM)?;
    check(
        "impact up and down (mm)",
        impact.point.y_mm,
        range::IMPACT_MM,
    )?;
    check("reading variance of an impact (mm^2)", xx_mm2, variance)?;
    check("reading variance of an impact (mm^2)", yy_mm2, variance)?;
    check(
        "reading covariance of an impact (mm^2)",
        xy_mm2,
        (-1e6, 1e6),
    )
}

fn in_range(
    what: &str,
    trial: Option<i64>,
    value: f64,
    (low, high): Range,
) -> Result<(), VerdictError> {
    if (low..=high).contains(&value) {
        return Ok(());
    }
    Err(VerdictError::OutOfRange {
        what: what.to_owned(),
        trial,
        value,
        low,
        high,
    })
}
