//! Why: the reasons of a call, most important first.

use crate::frame::ArrowKind;
use crate::verdict::deliberation::{Deliberation, low_or_high};
use crate::verdict::first::{adjust, contact, suspect};
use crate::verdict::given::case::{REST_MINUTES, ROUND_MINUTES, press_minutes};
use crate::verdict::limits::{SETTLED, SURELY};
use crate::verdict::seen::heads::heads_apart;
use crate::verdict::steps::trim;
use crate::verdict::{Adjustment, Call, Choice, Knob, Reason, VerdictError};

use super::end::of_end;
use super::missing::not_at_hand;
use super::more::of_more;
use super::remarks;
use super::shown::{of_splits, of_stop};

/// A chance of a wrong-way answer between this and the above is called open once pairs were shot: less is as sure as a bow
/// must be to have shown it.
const OPEN_WRONG_WAY: f64 = 1.0 - SURELY;
/// What lies beyond either end of the response that is told: it is told once its direction is as sure as
/// [`OPEN_WRONG_WAY`], so neither end goes the other way.
const TOLD_TAIL: f64 = OPEN_WRONG_WAY;
/// How sure the direction of the rest must be to be named. Three chances in four; chosen by hand.
const SAY_REST: f64 = 0.75;

/// The reasons of `call`.
pub(crate) fn reasons(
    deliberation: &Deliberation,
    call: &Call,
) -> Result<Vec<Reason>, VerdictError> {
    let mut reasons = Vec::new();
    of_call(deliberation, call, &mut reasons)?;
    // What was shot goes before where to look next.
    let is_look = |reason: &Reason| matches!(reason, Reason::LookNext { .. });
    let (looks, mut reasons): (Vec<_>, Vec<_>) = reasons.into_iter().partition(is_look);
    reasons.extend(deliberation.crept.clone());
    of_splits(deliberation, call, &mut reasons);
    reasons.extend(looks);
    of_response(deliberation, call, &mut reasons);
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
        Call::ShootMore { arrows } => reasons.extend(of_more(deliberation, arrows)),
        Call::Stop => {
            reasons.extend(of_stop(deliberation));
            reasons.extend(remarks::not_yet_shot(deliberation));
        }
        Call::Trim {
            knob: Knob::Rest,
            trim,
            put_back,
            ..
        } => of_rest_trim(deliberation, trim.move_mm, *put_back, reasons),
        Call::Trim {
            knob: Knob::Nock, ..
        } => reasons.extend(of_height(deliberation)),
        Call::Fit {
            fitting,
            experiment,
        } => {
            let mut options = deliberation.options.iter();
            if let Some(choice) = options.find(|option| option.fitting == *fitting) {
                of_fit(deliberation, choice, *experiment, reasons);
            }
            reasons.extend(not_at_hand(deliberation)?);
        }
        Call::SpacersCannot => {
            of_end(deliberation, reasons)?;
            let missing = not_at_hand(deliberation)?;
            if missing.as_ref().is_some_and(|one| cures(deliberation, one)) {
                reasons.retain(|reason| !matches!(reason, Reason::LookNext { .. }));
            }
            reasons.extend(missing);
        }
    }
    Ok(())
}

/// Whether pieces that are not at hand are expected to bring the bow inside: then there is nowhere else to look.
fn cures(deliberation: &Deliberation, missing: &Reason) -> bool {
    let aim = deliberation.aims.first();
    let inside = |after_mm: f64| aim.is_some_and(|aim| after_mm <= aim.tolerance_mm);
    matches!(missing, Reason::PiecesNotAtHand { after_mm, .. } if inside(*after_mm))
}

fn of_adjustment(deliberation: &Deliberation, what: &Adjustment) -> Option<Reason> {
    Some(match what {
        Adjustment::Check {
            check,
            failed,
            found,
        } => Reason::CheckFirst {
            check: *check,
            failed: *failed,
            found: *found,
        },
        Adjustment::CamsApart { tilt_mm, limit_mm } => Reason::CamsApart {
            tilt_mm: *tilt_mm,
            limit_mm: *limit_mm,
        },
        Adjustment::Vertical {
            probe,
            y_mm,
            sd_mm,
            direction,
            ..
        } => Reason::VerticalFirst {
            kind: *probe,
            y_mm: *y_mm,
            sd_mm: *sd_mm,
            direction: *direction,
        },
        Adjustment::Arrow {
            trial,
            arrow_kind,
            index,
            arrow,
            ..
        } => of_arrow(deliberation, *arrow, (*trial, *arrow_kind, *index)),
        Adjustment::Spine { ratio } => Reason::BareScatter { ratio: *ratio },
        Adjustment::Contact {
            tear_mm,
            bare_mm,
            in_height,
            ..
        } => contact::reason(*tear_mm, *bare_mm, *in_height),
        Adjustment::ConfirmSwap {
            before_mm,
            after_mm,
            ..
        } => Reason::SwapMadeItWorse {
            before_mm: *before_mm,
            after_mm: *after_mm,
        },
        Adjustment::Contradiction { trial, .. } => of_contradiction(deliberation, *trial)?,
    })
}

/// One arrow that makes the picture: what it keeps doing, where it has a number and did so before.
fn of_arrow(
    deliberation: &Deliberation,
    arrow: Option<i32>,
    (trial, kind, index): (i64, ArrowKind, u32),
) -> Reason {
    match arrow.and_then(|arrow| deliberation.habit(arrow, kind)) {
        Some(habit) => remarks::of_habit(habit),
        None => Reason::ArrowApart { trial, kind, index },
    }
}

/// What contradicts the rest: the heads in what a move did to them, sideways, the heads in height, or one trial.
fn of_contradiction(deliberation: &Deliberation, trial: i64) -> Option<Reason> {
    if let Some(apart) = adjust::heads_moved_apart(deliberation) {
        return Some(Reason::HeadsMovedApart {
            heads_mm: apart.heads_mm,
            bare_mm: apart.bare_mm,
        });
    }
    if let Some(both) = adjust::heads(deliberation) {
        return Some(heads_apart(&both));
    }
    if let Some(y_mm) = adjust::heads_height(deliberation) {
        return Some(Reason::HeadsOffHeight { y_mm });
    }
    if let Some(ratio) = adjust::heads_scatter(deliberation) {
        return Some(Reason::HeadsScatter { ratio });
    }
    let (belief, settings) = (&deliberation.belief, &deliberation.case.settings);
    let worst = suspect::worst(belief, settings);
    let (_, sds) = worst.or_else(|| suspect::wandering_height(belief, settings))?;
    Some(Reason::TrialDisagrees { trial, sds })
}

fn of_rest_trim(
    deliberation: &Deliberation,
    move_mm: f64,
    put_back: bool,
    reasons: &mut Vec<Reason>,
) {
    let Deliberation { belief, aims, .. } = deliberation;
    let worsened = aims.first().and_then(|aim| trim::worsened_by(belief, aim));
    if put_back || worsened.is_some_and(|last| last.move_mm * move_mm < 0.0) {
        reasons.push(Reason::PutBack);
    }
    if let Some(aim) = aims.first() {
        let (rest_mm, offset_mm) = (belief.now.rest_mm + move_mm, belief.now.offset_mm);
        reasons.push(Reason::StepPays {
            now: aim.predicted(belief, offset_mm).within_tolerance,
            after: aim
                .predicted_at(belief, rest_mm, offset_mm)
                .within_tolerance,
            minutes: REST_MINUTES + ROUND_MINUTES,
        });
    }
    if !put_back {
        reasons.push(Reason::RestBeforePress);
    }
}

fn of_height(deliberation: &Deliberation) -> Option<Reason> {
    let aim = low_or_high(deliberation)?;
    let upright = deliberation.belief.vertical(aim.probe, aim.distance_m);
    let trim = trim::nock(&deliberation.belief, &aim)?;
    Some(Reason::VerticalFirst {
        kind: Some(aim.probe),
        y_mm: upright.mean(),
        sd_mm: upright.sd(),
        direction: trim.direction(),
    })
}

fn of_fit(
    deliberation: &Deliberation,
    choice: &Choice,
    experiment: bool,
    reasons: &mut Vec<Reason>,
) {
    let Deliberation { belief, aims, .. } = deliberation;
    if let Some(aim) = aims.first() {
        let axles = f64::from(choice.axles_opened);
        reasons.push(Reason::StepPays {
            now: aim.predicted(belief, belief.now.offset_mm).within_tolerance,
            after: choice.within_tolerance,
            minutes: press_minutes(axles) + ROUND_MINUTES,
        });
    }
    if experiment {
        reasons.push(Reason::TearsTeach);
    }
    if choice.fitting.top != choice.fitting.bottom {
        reasons.push(Reason::UnequalAxles {
            tilt_mm: choice.tilt_mm,
        });
    }
}

fn of_response(deliberation: &Deliberation, call: &Call, reasons: &mut Vec<Reason>) {
    let response = &deliberation.response;
    let (seen, chance) = (response.seen_on_this_bow, response.wrong_way_chance);
    let swapped = trim::is_swapped(&deliberation.belief);
    let told = response.relatives > 0 || deliberation.remembered;
    if !(seen || swapped || told) {
        // Only a swap, or that none is worth it, rests on how the bow responds.
        if matches!(call, Call::Fit { .. } | Call::SpacersCannot) {
            reasons.push(Reason::NotYetSeenOnThisBow);
        }
        return;
    }
    let unsettled = swapped && !seen;
    if unsettled && chance >= SURELY {
        // A swap that made it worse says nothing before its pieces were looked at.
        return;
    }
    if (OPEN_WRONG_WAY..SETTLED).contains(&chance) {
        reasons.push(Reason::DirectionOpen {
            wrong_way_chance: chance,
        });
        return;
    }
    reasons.extend(seen_on_this_bow(deliberation).filter(|_| seen));
    if chance >= SETTLED {
        reasons.push(Reason::AnswersTheOtherWay { chance });
    }
}

/// The size of the response, where that much is sure of its direction too.
fn seen_on_this_bow(deliberation: &Deliberation) -> Option<Reason> {
    let Deliberation {
        belief, response, ..
    } = deliberation;
    let [one, other] = belief.sideways.response.interval(TOLD_TAIL);
    (one * other > 0.0).then(|| Reason::SeenOnThisBow {
        mm_per_mm: response.mm_per_mm,
        sd: response.sd,
        least: one.abs().min(other.abs()),
        most: one.abs().max(other.abs()),
    })
}

fn of_rest(deliberation: &Deliberation, call: &Call, reasons: &mut Vec<Reason>) {
    let response = trim::rest_response(&deliberation.belief);
    if response.shown && response.chance >= SAY_REST {
        reasons.push(Reason::RestDirectionSeen {
            mm_per_mm: response.mm_per_mm,
            chance: response.chance,
        });
    } else if matches!(
        call,
        Call::Trim {
            knob: Knob::Rest,
            ..
        }
    ) {
        reasons.push(Reason::RestDirectionDisputed);
    }
}
