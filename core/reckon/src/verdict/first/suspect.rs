//! Evidence that does not fit: a trial that contradicts the others, paper that contact moves, what repeats outvote.

use crate::evidence::{Aside, Belief, Known, Observation, Probe, Seen, Shot};
use crate::flight::TransferTable;
use crate::frame::ArrowKind;
use crate::split::Split;
use crate::stats::f_upper_p;
use crate::verdict::limits::APART_SDS;
use crate::verdict::seen::crept::{Crept, crept};
use crate::verdict::seen::outvoted::{
    agree, beside_what_stands, is_borne_out, is_outvoted, is_outvoted_since, present, rounds,
    sure_as_it_stands,
};
use crate::verdict::seen::splits::{
    again, as_it_stands, beside_bare, is_anothers, is_inside, is_of_now, oppose, tolerance_mm,
};
use crate::verdict::seen::stepped::alone;
use crate::verdict::{Adjustment, Settings};

use super::contact::contact;
use super::remembered;

/// A trial this many standard deviations from what all others say contradicts them: so far out that
/// heavy-tailed scatter rarely does it. Six in 100,000 if scatter were normal; chosen by hand.
const CONTRADICTS_SDS: f64 = 4.0;
/// Rounds with nothing changed between them that wander farther than this by chance are not the arrows' scatter.
/// One sound bow in fifty, and of those only the ones with a round out of tolerance.
const WANDER_P: f64 = 0.02;
/// More rounds than this of one thing are taken as they are, however they wander: the mean is what there is to go by. Chosen
/// by hand.
const WANDER_ROUNDS: usize = 6;
/// Fewer splits than this cannot outvote one; a swap between two of them may have done what nobody
/// expected. Of two with the bow as it stands, the later is doubted.
const FEWEST_SPLITS: usize = 3;

/// What is known of a bow, combined, and what of it does not fit.
pub(crate) struct Sifted<'a> {
    pub(crate) belief: Belief<'a>,
    /// Trials of which something is not counted: what was shot more than once shows something else.
    pub(crate) outvoted: Vec<i64>,
    /// Rounds that go one way, the older of which are not counted.
    pub(crate) crept: Option<Crept>,
    /// Whether a remembered swap counts.
    pub(crate) remembered: bool,
}

/// What is known of a bow, combined without what does not fit.
pub(crate) fn without_misfits<'a>(
    known: &Known<'a>,
    transfer: &'a TransferTable,
    settings: &Settings,
) -> Sifted<'a> {
    let mut known = known.clone();
    remembered::forget_misremembered(&mut known, transfer);
    let righted = put_right(&known, transfer);
    let mut trials: Vec<i64> = righted
        .iter()
        .map(|(trial, _)| known.seen[*trial].trial.id)
        .collect();
    known.outvoted.extend(righted);
    let without = |known: &Known<'a>| without_contact(known, transfer, settings);
    let mut belief = without(&known);
    while let Some(place) = outvoted(&belief, settings) {
        trials.push(leave_out(&mut known, &belief, place));
        belief = without(&known);
    }
    let crept = crept(&belief, settings);
    for place in crept.iter().flat_map(|crept| &crept.before) {
        leave_out(&mut known, &belief, *place);
    }
    if crept.is_some() {
        belief = without(&known);
    }
    if let Some(place) = beside_what_stands(&belief) {
        trials.push(leave_out(&mut known, &belief, place));
        belief = without(&known);
    }
    Sifted {
        belief,
        outvoted: trials,
        crept,
        remembered: !known.remembered.is_empty(),
    }
}

/// The observation that disagrees most, where its repeats outvote it.
fn outvoted(belief: &Belief, settings: &Settings) -> Option<usize> {
    let odd = worst(belief, settings).map(|(place, _)| place);
    odd.filter(|place| is_outvoted(belief, *place) || is_outvoted_since(belief, *place))
}

/// Leaves an observation out of what is known; the number of its trial.
fn leave_out(known: &mut Known, belief: &Belief, place: usize) -> i64 {
    let odd = &belief.observations[place];
    known.outvoted.push((odd.trial, odd.split.probe));
    belief.seen[odd.trial].trial.id
}

/// What is known of a bow, combined. Paper that shows something of its own is said, not averaged: it is set aside.
fn without_contact<'a>(
    known: &Known<'a>,
    transfer: &'a TransferTable,
    settings: &Settings,
) -> Belief<'a> {
    let plain = Belief::new(known.clone(), transfer, Aside::default());
    if beside_bare(&plain, Probe::Paper).is_none() {
        return plain;
    }
    let aside = Aside {
        paper: true,
        ..Aside::default()
    };
    let apart = Belief::new(known.clone(), transfer, aside);
    if contact(&apart, settings).is_some() {
        apart
    } else {
        plain
    }
}

/// The observation that disagrees most, as (place in the list, standard deviations).
pub(crate) fn worst(belief: &Belief, settings: &Settings) -> Option<(usize, f64)> {
    let sizes = belief.leave_one_out_residuals();
    let wandering = wandering(belief, settings).map(|place| (place, sizes[place]));
    let apart = apart(belief, sizes);
    let alone = || alone(belief, settings);
    let flipped = || flipped(belief, settings);
    apart.or(wandering).or_else(alone).or_else(flipped)
}

/// The latest of two rounds of one probe at two distances that show opposite faults with nothing moved between them, both real, and
/// that is beyond tolerance: something moved, an arrow that swings past its line, or something that touches it.
fn flipped(belief: &Belief, settings: &Settings) -> Option<(usize, f64)> {
    let of = |place: usize| &belief.observations[place];
    let out = |place: &usize| {
        let split = &of(*place).split;
        split.offset.x_mm.abs() > tolerance_mm(split, settings)
    };
    let last = present(belief).last()?;
    let probe = of(last).split.probe;
    let mut others = present(belief).filter(|other| of(*other).split.probe == probe);
    let other = others.find(|other| {
        let flip = oppose(belief, &[of(last).split, of(*other).split]);
        flip && (out(&last) || out(other))
    })?;
    let apart_mm = of(last).split.offset.x_mm - of(other).split.offset.x_mm;
    let sd_mm = (of(last).var_x_mm2 + of(other).var_x_mm2).sqrt();
    let doubted = [last, other].into_iter().find(out)?;
    Some((doubted, apart_mm.abs() / sd_mm))
}

/// The observation that lies farthest from what all others say, where that contradicts them and no repeat bears
/// it out.
fn apart(belief: &Belief, sizes: Vec<f64>) -> Option<(usize, f64)> {
    let count = sizes.len();
    let unmoved = belief
        .observations
        .iter()
        .all(|one| as_it_stands(belief, one));
    let all = sizes.into_iter().enumerate();
    let open = all.filter(|(place, _)| {
        let one = &belief.observations[*place];
        // Beside a bow that was shot twice alike as it stands, what was shot elsewhere holds nobody up.
        let sure = sure_as_it_stands(belief, one.split.probe).is_some();
        let elsewhere = !as_it_stands(belief, one) && sure;
        is_of_now(belief, one)
            && !is_anothers(belief, one)
            && !elsewhere
            && !is_borne_out(belief, *place)
    });
    let (place, sds) = open.max_by(|a, b| a.1.total_cmp(&b.1))?;
    let doubted = match count {
        FEWEST_SPLITS.. => newest_of(belief, place),
        2 if unmoved => 1,
        _ => return None,
    };
    (sds > CONTRADICTS_SDS).then_some((doubted, sds))
}

/// Of an observation and what was shot again since with another result the newest, which is doubted, unless another bears it out.
fn newest_of(belief: &Belief, place: usize) -> usize {
    let newest = again(belief, place).into_iter().next_back();
    let differs = |newest: &usize| {
        let of = |at: usize| &belief.observations[at];
        !agree(of(*newest), of(place)) && !is_borne_out(belief, *newest)
    };
    newest.filter(differs).unwrap_or(place)
}

/// Of rounds with nothing changed between them, that wander farther than arrows scatter and out of tolerance, the
/// one that lies farthest from their middle, of two the later: something moves from round to round.
fn wandering(belief: &Belief, settings: &Settings) -> Option<usize> {
    rounds(belief).into_iter().find_map(|rounds| {
        let split = |place: usize| belief.observations[place].split;
        let middle = Split::pooled(&rounds.iter().map(|one| split(*one)).collect::<Vec<_>>())?;
        let away = |place: usize| {
            let split = split(place);
            (split.offset.x_mm - middle.offset.x_mm).powi(2) / split.cov.xx_mm2
        };
        let more = rounds.len() as f64 - 1.0;
        let f = rounds.iter().map(|one| away(*one)).sum::<f64>() / more;
        let wander = more > 0.0 && f_upper_p(f, more, middle.dof_x) < WANDER_P;
        let far = match rounds[..] {
            [_, later] => Some(later),
            _ => rounds
                .into_iter()
                .max_by(|a, b| away(*a).total_cmp(&away(*b))),
        };
        far.filter(|far| wander && !is_inside(belief, *far, settings))
    })
}

/// The latest of rounds with nothing changed between them whose heights differ by more than arrows scatter, one of them out
/// of tolerance, until another bears it out.
pub(crate) fn wandering_height(belief: &Belief, settings: &Settings) -> Option<(usize, f64)> {
    rounds(belief).into_iter().find_map(|rounds| {
        let of = |place: usize| &belief.observations[place];
        let apart_sds = |one: usize, other: usize| {
            let apart_mm = of(one).split.offset.y_mm - of(other).split.offset.y_mm;
            apart_mm.abs() / (of(one).var_y_mm2 + of(other).var_y_mm2).sqrt()
        };
        let latest = rounds.iter().copied().max()?;
        let others = rounds.iter().filter(|other| **other != latest);
        let mut sds: Vec<f64> = others.map(|other| apart_sds(latest, *other)).collect();
        sds.sort_by(f64::total_cmp);
        // Heights to and fro have a middle that is in, where nothing ever landed.
        let split = &of(latest).split;
        let middle = belief.vertical(split.probe, split.distance_m).mean();
        let level = middle.abs() <= tolerance_mm(split, settings);
        let nearest = if level { 2 * sds.len() / 3 } else { 0 };
        let sds = *sds.get(nearest)?;
        // Heads are put right between rounds.
        let heads = of(latest).split.probe == Probe::Broadhead;
        let doubted = rounds.iter().filter(|one| !heads || **one == latest);
        let out = doubted
            .copied()
            .any(|one| is_out_in_height(belief, one, settings));
        (sds > APART_SDS && out).then_some((latest, sds))
    })
}

/// Whether a height is outside tolerance as it was shot, and without what gravity and drag explain.
fn is_out_in_height(belief: &Belief, place: usize, settings: &Settings) -> bool {
    let one = &belief.observations[place];
    let tolerance_mm = tolerance_mm(&one.split, settings);
    let left_mm = belief.unexplained_y_mm(one).0;
    one.split.offset.y_mm.abs() > tolerance_mm && left_mm.abs() > tolerance_mm
}

/// Rounds of broadheads and tears that, shot again with nothing moved, came nearer to what the bare shafts say of the bow: heads
/// were put right, what touched was found.
fn put_right<'a>(known: &Known<'a>, transfer: &'a TransferTable) -> Vec<(usize, Probe)> {
    let of_them = |seen: &&Seen| {
        let heads = seen.group(ArrowKind::Broadhead).is_some();
        heads || matches!(seen.trial.shot, Shot::Paper { .. })
    };
    if known.seen.iter().filter(of_them).count() < 2 {
        return Vec::new();
    }
    let apart = Aside {
        heads: true,
        paper: true,
    };
    let bow = Belief::new(known.clone(), transfer, apart);
    let bare = |one: &Observation| one.split.probe == Probe::Bare && is_of_now(&bow, one);
    if !bow.observations.iter().any(bare) {
        return Vec::new();
    }
    let off = |one: &Observation| bow.off_the_bow(one);
    let mut found = Vec::new();
    for (place, one) in bow.observations.iter().enumerate() {
        let of_them = matches!(one.split.probe, Probe::Broadhead | Probe::Paper);
        let better = |at: &usize| {
            let other = &bow.observations[*at];
            off(other) <= APART_SDS && off(one) > off(other) && !agree(one, other)
        };
        // The latest of its repeats counts; where an earlier one was better too, two sorts were shot in turn.
        let again = again(&bow, place);
        let mut before = again.iter().rev().skip_while(|at| better(at));
        let righted = again.last().is_some_and(better) && !before.any(better);
        if of_them && righted {
            found.push((one.trial, one.split.probe));
        }
    }
    found
}

/// Whether an observation was shot again so often that once more shows nothing new; the newest of all was not shot again.
pub(crate) fn is_shot_enough(belief: &Belief, settings: &Settings, place: usize) -> bool {
    let newest = alone(belief, settings).is_some_and(|(newest, _)| newest == place);
    again(belief, place).len() > WANDER_ROUNDS && !newest
}

/// The observation at `place` as one that contradicts the others.
pub(crate) fn contradiction(belief: &Belief, place: usize) -> Option<Adjustment> {
    let observation = belief.observations.get(place)?;
    let trial = belief.seen.get(observation.trial)?.trial.id;
    Some(Adjustment::Contradiction {
        trial,
        probe: Some(observation.split.probe),
    })
}
