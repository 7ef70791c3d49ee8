//! What must be put right before anything is tuned.

use crate::evidence::{Belief, Probe, SAME_M, within};
use crate::split::Split;
use crate::verdict::deliberation::{
    Deliberation, arrows, heights, inside, is_level_since, is_out_in_height, is_settled,
    out_as_shot, takes_another_out, too_few_to_say,
};
use crate::verdict::limits::{FEWEST, LIKELY, MAY_BE, SETTLED, SURELY};
use crate::verdict::seen::aims::chance_inside;
use crate::verdict::seen::heads::{self, MovedApart};
use crate::verdict::seen::splits::{as_it_stands, beside_bare, latest, oppose, tolerance_mm};
use crate::verdict::seen::{outvoted, spine};
use crate::verdict::steps::trim;
use crate::verdict::{Adjustment, Aim, CheckItem, CheckState, finding};

use super::{contact, one_arrow, suspect, swapped};

/// Rounding of a tilt, mm.
const TILT_MM: f64 = 1e-6;

/// The first thing that must be put right, if any: what can hurt or mislead before what is tuned.
pub(crate) fn adjust_first(deliberation: &Deliberation) -> Option<Adjustment> {
    check(deliberation)
        .or_else(|| cams_apart(deliberation))
        .or_else(|| one_arrow::arrow(deliberation))
        .or_else(|| swapped::confirm(deliberation))
        .or_else(|| contact(deliberation))
        .or_else(|| of_heads(deliberation))
        .or_else(|| contradiction(deliberation))
        .or_else(|| spine(deliberation))
        .or_else(|| heights_differ(deliberation))
        .or_else(|| vertical(deliberation))
}

/// Failed checks before open ones, each in the order of the set-up list; of one that was made twice the later counts.
fn check(deliberation: &Deliberation) -> Option<Adjustment> {
    let checks = &deliberation.case.checks;
    let is_latest = |place: usize| {
        let mut later = checks.iter().skip(place + 1);
        later.all(|other| other.check != checks[place].check)
    };
    let of = |result| {
        let latest = (0..checks.len()).filter(|place| is_latest(*place));
        let latest = latest.map(|place| &checks[place]);
        let found =
            latest.filter(move |state| state.result == result && bears(deliberation, state.check));
        found.min_by_key(|state| state.check)
    };
    let state = of(CheckState::Failed).or_else(|| of(CheckState::Open))?;
    Some(Adjustment::Check {
        check: state.check,
        failed: state.result == CheckState::Failed,
        found: finding(state),
    })
}

/// Whether a split that counts can come of it: heads only where they were shot or are asked for.
fn bears(deliberation: &Deliberation, check: CheckItem) -> bool {
    let priority = &deliberation.case.settings.priority;
    let heads = priority.contains(&Probe::Broadhead)
        || latest(&deliberation.belief, Probe::Broadhead).is_some();
    check.bears_on_split() && (heads || check != CheckItem::BroadheadsTrue)
}

/// Cams that stand farther apart than the user allows.
fn cams_apart(deliberation: &Deliberation) -> Option<Adjustment> {
    let (tilt_mm, limit_mm) = (
        deliberation.tilt_mm,
        deliberation.case.settings.tilt_limit_mm,
    );
    (tilt_mm.abs() > limit_mm + TILT_MM).then_some(Adjustment::CamsApart { tilt_mm, limit_mm })
}

/// A trial that contradicts the others, until it was shot often enough; else one that is out as it was shot where all that counts
/// is taken to be in, until it was shot again.
fn contradiction(deliberation: &Deliberation) -> Option<Adjustment> {
    let Deliberation { belief, case, .. } = deliberation;
    let worst = suspect::worst(belief, &case.settings).map(|(place, _)| place);
    let enough = |place: usize| suspect::is_shot_enough(belief, &case.settings, place);
    // Rounds to and fro have a mean that is in, where nothing ever landed.
    let fro = |place: usize| is_settled(deliberation) && outvoted::goes_to_and_fro(belief, place);
    let worst = worst.filter(|place| fro(*place) || !enough(*place));
    let place = worst.or_else(|| out_again(deliberation))?;
    suspect::contradiction(belief, place)
}

/// Place of the latest observation that is out where all that counts is taken to be in, and that no repeat bears out; one alone
/// contradicts nothing.
fn out_again(deliberation: &Deliberation) -> Option<usize> {
    let belief = &deliberation.belief;
    let out = out_as_shot(deliberation).filter(|_| inside(deliberation) >= SETTLED)?;
    let place = belief.observations.iter().rposition(|one| {
        let at = &one.split;
        at.probe == out.probe
            && (at.distance_m - out.distance_m).abs() < SAME_M
            && as_it_stands(belief, one)
    })?;
    let single = belief.observations.len() == 1;
    (!single && !outvoted::is_borne_out(belief, place)).then_some(place)
}

/// Contact or grip; not where broadheads were shot, which fly by their vanes too, and all that counts is inside
/// tolerance, nor once it was looked for: then it is only said. Where paper is asked for first, also of what the model lets
/// expect.
fn contact(deliberation: &Deliberation) -> Option<Adjustment> {
    let belief = &deliberation.belief;
    if contact::looked_for(belief) {
        return None;
    }
    let heads = latest(belief, Probe::Broadhead).is_some();
    let settings = &deliberation.case.settings;
    let sideways = if settings.paper_first() {
        contact::suspected(belief, settings)
    } else {
        contact::contact(belief, settings)
    };
    let sideways = sideways.filter(|_| !(heads && is_settled(deliberation)));
    let found = sideways.or_else(|| contact::in_height(deliberation))?;
    Some(found.adjustment())
}

/// Shafts and nocks, until they were looked at.
fn spine(deliberation: &Deliberation) -> Option<Adjustment> {
    let belief = &deliberation.belief;
    let ratio = spine::scatter(belief, Probe::Bare, &deliberation.habits)
        .filter(|_| !spine::looked_at(belief))?;
    Some(Adjustment::Spine { ratio })
}

/// How many times as far as field points broadheads scatter, where that is far more than they should.
pub(crate) fn heads_scatter(deliberation: &Deliberation) -> Option<f64> {
    let asked = deliberation.aims.iter();
    let mut asked = asked.filter(|aim| aim.probe == Probe::Broadhead);
    asked.next()?;
    spine::scatter(&deliberation.belief, Probe::Broadhead, &deliberation.habits)
}

/// The heads, before what they show is taken for the bow's.
fn of_heads(deliberation: &Deliberation) -> Option<Adjustment> {
    let apart = heads_moved_apart(deliberation).is_some()
        || heads(deliberation).is_some()
        || heads_scatter(deliberation).is_some()
        || heads_height(deliberation).is_some();
    if !apart || heads::looked_at(&deliberation.belief) {
        return None;
    }
    let trial = latest(&deliberation.belief, Probe::Broadhead)?;
    Some(Adjustment::Contradiction {
        trial,
        probe: Some(Probe::Broadhead),
    })
}

/// Broadheads that the last move took the other way than the bare shafts, until they were looked at and shot again;
/// not where all that counts is inside tolerance, nor where the user does not ask about heads.
pub(crate) fn heads_moved_apart(deliberation: &Deliberation) -> Option<MovedApart> {
    let asked = deliberation
        .aims
        .iter()
        .any(|aim| aim.probe == Probe::Broadhead);
    let open = asked && !is_settled(deliberation);
    heads::moved_apart(&deliberation.belief).filter(|_| open)
}

/// The splits of broadheads and bare shafts that no single fault of the bow makes: on opposite sides, or
/// only the broadheads out. Heads that run untrue and vanes that touch do that (common practice, no
/// source). Once they were looked at and shot again, the second is taken as the bow's own and tuned.
pub(crate) fn heads(deliberation: &Deliberation) -> Option<[Split; 2]> {
    let belief = &deliberation.belief;
    let both = beside_bare(belief, Probe::Broadhead)?;
    // Heads that the user does not ask about hold nobody up, nor does what is inside tolerance.
    let mut aims = deliberation.aims.iter();
    let aim = aims.find(|aim| aim.probe == Probe::Broadhead)?;
    let heads = chance_inside(belief, aim);
    let bare = belief.predictive(Probe::Bare, aim.distance_m);
    let bare = belief.sideways.mixture(&bare, belief.now.offset_mm);
    let bare = bare.within(aim.tolerance_mm);
    if heads >= SETTLED && bare >= SETTLED {
        return None;
    }
    let (own, references) = arrows(belief, Probe::Broadhead);
    let shot = own.min(references) >= FEWEST && both[0].x().is_real();
    let alone_out = shot && heads < MAY_BE && bare >= SETTLED;
    let apart = heads::lie_apart(belief, &deliberation.case.settings, &both);
    (alone_out || apart).then_some(both)
}

/// The splits of heads that were looked at and shot again, and still lie on the other side than the bare shafts: what moves
/// the one in moves the other out.
pub(crate) fn heads_stay_apart(deliberation: &Deliberation) -> Option<[Split; 2]> {
    let belief = &deliberation.belief;
    heads(deliberation).filter(|both| heads::looked_at(belief) && oppose(belief, both))
}

/// How far above where gravity and drag bring them the broadheads shot last land, mm, where that is surely
/// outside tolerance while bare shafts are level, or off to the other side: their weight, a head that runs
/// untrue, vanes that touch. The nocking point would move both alike.
pub(crate) fn heads_height(deliberation: &Deliberation) -> Option<f64> {
    let belief = &deliberation.belief;
    let counts = |probe| {
        let mut aims = deliberation.aims.iter();
        aims.any(|aim| aim.settles && aim.probe == probe)
    };
    let both = counts(Probe::Broadhead) && counts(Probe::Bare);
    let mut latest = belief.observations.iter().rev().filter(|_| both);
    let last =
        latest.find(|one| one.split.probe == Probe::Broadhead && as_it_stands(belief, one))?;
    let (y_mm, sd_mm) = belief.unexplained_y_mm(last);
    let allowed_mm = tolerance_mm(&last.split, &deliberation.case.settings);
    let level = belief.vertical(Probe::Bare, last.split.distance_m);
    let few = last.split.n_probe.min(last.split.n_reference) < FEWEST;
    let out = 1.0 - within(y_mm, sd_mm, allowed_mm) > SURELY;
    let apart = level.within(allowed_mm) >= LIKELY || level.mean() * y_mm < 0.0;
    (out && apart && !few && !too_few_to_say(belief, Probe::Bare)).then_some(y_mm)
}

/// How far above where they should be heads land that were looked at and shot again, mm.
pub(crate) fn heads_stay_off_height(deliberation: &Deliberation) -> Option<f64> {
    heads_height(deliberation).filter(|_| heads::looked_at(&deliberation.belief))
}

/// Rounds whose heights differ with nothing moved between them.
fn heights_differ(deliberation: &Deliberation) -> Option<Adjustment> {
    let Deliberation { belief, case, .. } = deliberation;
    let (place, _) = suspect::wandering_height(belief, &case.settings)?;
    suspect::contradiction(belief, place)
}

/// The vertical fault of the first probe that shows it surely outside of what counts; not one of the heads alone, since
/// the nocking point would move the bare shafts with them.
fn vertical(deliberation: &Deliberation) -> Option<Adjustment> {
    let own = heads_height(deliberation).is_some();
    let mut aims = heights(deliberation).into_iter().filter(|aim| {
        let of_heads = own && aim.probe == Probe::Broadhead;
        !of_heads && !takes_another_out(deliberation, aim)
    });
    aims.find_map(|aim| vertical_of(&deliberation.belief, &aim))
}

fn vertical_of(belief: &Belief, aim: &Aim) -> Option<Adjustment> {
    if !is_out_in_height(belief, aim, SURELY) || is_level_since(belief, aim.probe) {
        return None;
    }
    let upright = belief.vertical(aim.probe, aim.distance_m);
    let trim = trim::nock(belief, aim)?;
    Some(Adjustment::Vertical {
        probe: Some(aim.probe),
        y_mm: upright.mean(),
        sd_mm: upright.sd(),
        direction: trim.direction(),
        trim,
        seen_on_this_bow: trim::nock_shown(belief, aim),
    })
}
