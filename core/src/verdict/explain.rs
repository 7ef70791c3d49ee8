//! Why: the reasons of a call, most important first.

use super::remarks::habit;
use crate::evidence::Probe;

use crate::spacer::{Fitting, Stock};

use super::decide::{Deliberation, FEWEST, arrows, wanted};
use super::splits::splits;
use super::{
    Adjustment, Aim, Ballot, Call, Choice, Reason, SplitReading, VerdictError, remarks, suspect,
    trim,
};

/// Chance of a wrong-way answer above which it is said.
const SAY_WRONG_WAY: f64 = 0.8;
/// A chance of a wrong-way answer between this and the above is called open once pairs were shot.
const OPEN_WRONG_WAY: f64 = 0.05;
/// A fitting that brings the first probe this much of its tolerance closer is named, though another
/// probe speaks against it.
const CLOSER: f64 = 0.3;
/// A fitting that is not at hand is named when it would save this much, mm.
const WORTH_NAMING_MM: f64 = 3.0;

/// The reasons of `call`.
pub(crate) fn reasons(
    deliberation: &Deliberation,
    call: &Call,
) -> Result<Vec<Reason>, VerdictError> {
    let mut reasons = Vec::new();
    let readings = splits(&deliberation.belief);
    of_call(deliberation, call, &mut reasons)?;
    reasons.extend(
        readings
            .iter()
            .filter(|reading| reading.kind != Probe::Paper)
            .map(of_split),
    );
    of_response(deliberation, &mut reasons);
    of_rest(deliberation, call, &mut reasons);
    remarks::remarks(deliberation, &mut reasons);
    reasons.extend(deliberation.left_out.iter().cloned());
    Ok(reasons)
}

fn of_call(
    deliberation: &Deliberation,
    call: &Call,
    reasons: &mut Vec<Reason>,
) -> Result<(), VerdictError> {
    match call {
        Call::AdjustFirst { what } => {
            reasons.extend(of_adjustment(deliberation, what));
            if matches!(what, Adjustment::Spine { .. }) {
                reasons.push(Reason::SpineLabelsDisputed);
            }
        }
        Call::ShootMore { .. } => reasons.push(of_more(deliberation)),
        Call::Keep { .. } => of_keep(deliberation, reasons)?,
        Call::Fit { fitting } => {
            let options = &deliberation.ballot.options;
            if let Some(choice) = options.iter().find(|option| option.fitting == *fitting) {
                of_fit(deliberation, choice, reasons);
            }
            reasons.extend(not_at_hand(deliberation)?);
        }
    }
    Ok(())
}

fn of_adjustment(deliberation: &Deliberation, what: &Adjustment) -> Option<Reason> {
    Some(match what {
        Adjustment::FailedCheck { check } => Reason::CheckFirst {
            check: *check,
            failed: true,
        },
        Adjustment::OpenCheck { check } => Reason::CheckFirst {
            check: *check,
            failed: false,
        },
        Adjustment::NockingPoint { y_mm, sd_mm, .. } => Reason::VerticalFirst {
            y_mm: *y_mm,
            sd_mm: *sd_mm,
        },
        Adjustment::Arrow {
            kind,
            arrow: Some(arrow),
            ..
        } if habit(deliberation, *arrow, *kind).is_some() => {
            remarks::of_habit(habit(deliberation, *arrow, *kind)?)
        }
        Adjustment::Arrow {
            trial, kind, index, ..
        } => Reason::ArrowApart {
            trial: *trial,
            kind: *kind,
            index: *index,
        },
        Adjustment::Spine { ratio } => Reason::BareScatter { ratio: *ratio },
        Adjustment::Clearance { trial } => Reason::TearDisagrees {
            trial: *trial,
            sds: suspect::worst(&deliberation.belief)?.1,
        },
        Adjustment::Contradiction { trial } => Reason::TrialDisagrees {
            trial: *trial,
            sds: suspect::worst(&deliberation.belief)?.1,
        },
    })
}

fn of_more(deliberation: &Deliberation) -> Reason {
    if let Some(proposal) = &deliberation.proposal {
        return Reason::MoreArrowsPay {
            saving_mm: proposal.saving_mm,
            arrows: 2 * proposal.arrows_each,
        };
    }
    if deliberation.belief.seen.is_empty() {
        return Reason::NothingShot;
    }
    let kind = wanted(deliberation);
    let (have, have_reference) = arrows(&deliberation.belief, kind);
    Reason::TooFewArrows {
        kind,
        have,
        have_reference,
        need: FEWEST,
    }
}

/// Expected size of the split at a choice, prices taken off, mm.
fn size_mm(deliberation: &Deliberation, place: usize) -> f64 {
    let ballot = &deliberation.ballot;
    ballot
        .options
        .get(place)
        .zip(ballot.price_mm.get(place))
        .map_or(0.0, |(option, price)| option.loss_mm - price)
}

fn of_keep(deliberation: &Deliberation, reasons: &mut Vec<Reason>) -> Result<(), VerdictError> {
    let Deliberation {
        belief,
        aims,
        ballot,
        ..
    } = deliberation;
    let Some(aim) = aims.first() else {
        return Ok(());
    };
    let now = aim.predicted(belief, belief.now.offset_mm);
    if now.x_mm.abs() <= aim.tolerance_mm {
        reasons.push(Reason::WithinTolerance {
            kind: aim.probe,
            x_mm: now.x_mm,
            tolerance_mm: aim.tolerance_mm,
            chance: now.within_tolerance,
        });
        return Ok(());
    }
    let sizes = (0..ballot.options.len()).map(|place| size_mm(deliberation, place));
    let smallest = sizes.enumerate().min_by(|a, b| a.1.total_cmp(&b.1));
    let here = ballot
        .options
        .iter()
        .position(|option| option.axles_opened == 0);
    if let (Some((place, size)), Some(here)) = (smallest, here) {
        let price_mm = ballot.price_mm.get(place).copied().unwrap_or(0.0);
        reasons.push(Reason::NoFittingPays {
            saving_mm: size_mm(deliberation, here) - size,
            price_mm,
        });
        let remaining_mm = ballot.options.get(place).map_or(now.x_mm, |best| best.x_mm);
        if let Some(conflict) = conflict(deliberation, remaining_mm) {
            reasons.push(conflict);
        } else if remaining_mm.abs() > aim.tolerance_mm {
            reasons.push(Reason::KitEnds { remaining_mm });
        }
    }
    reasons.extend(not_at_hand(deliberation)?);
    Ok(())
}

/// A fitting that brings the first probe well closer than `remaining_mm`, where another probe of the
/// priority speaks against it: then it is not the kit that ends.
fn conflict(deliberation: &Deliberation, remaining_mm: f64) -> Option<Reason> {
    let Deliberation {
        belief,
        aims,
        ballot,
        ..
    } = deliberation;
    let (first, others) = aims.split_first()?;
    let mut closest = ballot.options.first()?;
    for option in &ballot.options {
        if option.x_mm.abs() < closest.x_mm.abs() {
            closest = option;
        }
    }
    if remaining_mm.abs() - closest.x_mm.abs() < first.tolerance_mm * CLOSER {
        return None;
    }
    let size = |aim: &Aim, offset_mm| {
        belief
            .sideways
            .mixture(&aim.outlook, offset_mm)
            .expected_size()
    };
    let growth = |aim: &Aim| {
        let more_mm = size(aim, closest.offset_mm) - size(aim, belief.now.offset_mm);
        aim.weight * more_mm
    };
    let against = others
        .iter()
        .max_by(|a, b| growth(a).total_cmp(&growth(b)))?;
    (growth(against) > 0.0).then(|| Reason::PrioritiesConflict {
        kind: first.probe,
        x_mm: closest.x_mm,
        against: against.probe,
        now_mm: size(against, belief.now.offset_mm),
        there_mm: size(against, closest.offset_mm),
    })
}

/// The pair that a better fitting would need.
fn not_at_hand(deliberation: &Deliberation) -> Result<Option<Reason>, VerdictError> {
    let Deliberation {
        case,
        belief,
        aims,
        ballot,
        ..
    } = deliberation;
    let Some(stock) = &case.stock else {
        return Ok(None);
    };
    let free = Ballot::new(case, belief, aims, false)?;
    let (Some(best), Some(own)) = (free.options.first(), ballot.options.first()) else {
        return Ok(None);
    };
    if stock.allows(&best.fitting) || own.loss_mm - best.loss_mm < WORTH_NAMING_MM {
        return Ok(None);
    }
    let after_mm = best.loss_mm - free.price_mm.first().copied().unwrap_or(0.0);
    let pair = missing(stock, &best.fitting);
    Ok(Some(Reason::PiecesNotAtHand { pair, after_mm }))
}

/// The pair of which too few sets are at hand.
fn missing(stock: &Stock, fitting: &Fitting) -> String {
    let alike = u32::from(fitting.top.pair == fitting.bottom.pair);
    if stock.sets_of(&fitting.top.pair) < 1 + alike {
        fitting.top.pair.clone()
    } else {
        fitting.bottom.pair.clone()
    }
}

fn of_fit(deliberation: &Deliberation, choice: &Choice, reasons: &mut Vec<Reason>) {
    let ballot = &deliberation.ballot;
    let here = ballot
        .options
        .iter()
        .position(|option| option.axles_opened == 0);
    let there = ballot
        .options
        .iter()
        .position(|option| option.fitting == choice.fitting);
    if let (Some(here), Some(there)) = (here, there) {
        reasons.push(Reason::FittingPays {
            now_mm: size_mm(deliberation, here),
            after_mm: size_mm(deliberation, there),
            axles: choice.axles_opened,
        });
    }
    if choice.fitting.top != choice.fitting.bottom {
        reasons.push(Reason::UnequalAxles {
            tilt_mm: choice.tilt_mm,
        });
    }
}

fn of_split(reading: &SplitReading) -> Reason {
    let SplitReading {
        kind,
        x_mm,
        sd_x_mm: sd_mm,
        p,
        ..
    } = *reading;
    if reading.is_real {
        Reason::SplitIsReal {
            kind,
            x_mm,
            sd_mm,
            p,
        }
    } else {
        Reason::SplitMayBeScatter {
            kind,
            x_mm,
            sd_mm,
            p,
        }
    }
}

fn of_response(deliberation: &Deliberation, reasons: &mut Vec<Reason>) {
    let response = &deliberation.response;
    if !response.seen_on_this_bow {
        reasons.extend([Reason::NotYetSeenOnThisBow, Reason::CamDirectionDisputed]);
        return;
    }
    reasons.push(Reason::SeenOnThisBow {
        mm_per_mm: response.mm_per_mm,
        sd: response.sd,
    });
    if response.wrong_way_chance >= SAY_WRONG_WAY {
        reasons.push(Reason::AnswersTheOtherWay {
            chance: response.wrong_way_chance,
        });
    } else if response.wrong_way_chance > OPEN_WRONG_WAY {
        reasons.push(Reason::DirectionOpen {
            wrong_way_chance: response.wrong_way_chance,
        });
    }
}

fn of_rest(deliberation: &Deliberation, call: &Call, reasons: &mut Vec<Reason>) {
    match trim::rest_response(&deliberation.belief) {
        Some((mm_per_mm, _, chance)) => {
            reasons.push(Reason::RestDirectionSeen { mm_per_mm, chance });
        }
        None if matches!(call, Call::Keep { .. }) => reasons.push(Reason::RestDirectionDisputed),
        None => {}
    }
}
