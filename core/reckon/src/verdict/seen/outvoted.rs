//! Trials that are not counted, because what was shot more than once shows something else.

use crate::evidence::{Belief, Observation, Probe};
use crate::verdict::limits::{ALIKE_SDS, MOVED_SDS};

use super::splits::{again, as_it_stands, is_anothers, is_of_now, is_repeat, is_repeat_sideways};

/// Whether two shots of the same differ by no more than their scatter.
pub(crate) fn agree(one: &Observation, other: &Observation) -> bool {
    let apart_mm = one.split.offset.x_mm - other.split.offset.x_mm;
    apart_mm.powi(2) < ALIKE_SDS.powi(2) * (one.var_x_mm2 + other.var_x_mm2)
}

/// Whether the same, shot again with nothing changed, showed the same: then it is the rest that is not
/// as expected.
pub(crate) fn is_borne_out(belief: &Belief, place: usize) -> bool {
    let own = &belief.observations[place];
    let others = belief.observations.iter();
    let mut again = others.filter(|other| is_repeat(belief, own, other));
    again.any(|other| agree(own, other))
}

/// Places of what counts of the bow as it stands.
pub(crate) fn present<'b>(belief: &'b Belief) -> impl Iterator<Item = usize> + 'b {
    (0..belief.observations.len()).filter(|place| {
        let one = &belief.observations[*place];
        as_it_stands(belief, one) && !is_anothers(belief, one)
    })
}

/// Places of what counts of the bow as it stands, by what was shot again with nothing changed: each list once, in the order they were
/// shot.
pub(crate) fn rounds(belief: &Belief) -> Vec<Vec<usize>> {
    let mut found: Vec<Vec<usize>> = Vec::new();
    for place in present(belief) {
        if !found.iter().any(|rounds| rounds.contains(&place)) {
            found.push(again(belief, place));
        }
    }
    found
}

/// The latest round of a probe with the bow as it stands, where another bears it out.
pub(crate) fn sure_as_it_stands(belief: &Belief, probe: Probe) -> Option<usize> {
    let latest = present(belief)
        .filter(|place| belief.observations[*place].split.probe == probe)
        .last();
    latest.filter(|place| is_borne_out(belief, *place))
}

/// Whether the latest repeat of an observation and another that agrees with it show something else, with twice the arrows that
/// bear this one out: where rounds go to and fro, neither side outvotes the other.
pub(crate) fn is_outvoted(belief: &Belief, place: usize) -> bool {
    let of = |place: usize| &belief.observations[place];
    let Some(&latest) = again(belief, place).last() else {
        return false;
    };
    let other = is_borne_out(belief, latest) && !agree(of(place), of(latest));
    other && arrows_alike(belief, latest) >= 2 * arrows_alike(belief, place)
}

/// Whether a third of the rounds of one thing bear one of them out that others contradict: it is no odd one.
pub(crate) fn goes_to_and_fro(belief: &Belief, place: usize) -> bool {
    let of = |place: usize| &belief.observations[place];
    let rounds = again(belief, place);
    let alike = rounds.iter().filter(|at| agree(of(**at), of(place)));
    3 * alike.count() >= rounds.len()
}

/// Whether what was shot since with the nocking point elsewhere, and cams and rest where they were, shows something else at least
/// twice: where it was shot it cannot be shot again.
pub(crate) fn is_outvoted_since(belief: &Belief, place: usize) -> bool {
    let own = &belief.observations[place];
    let later = belief.observations[place..].iter();
    let elsewhere = |other: &&Observation| {
        is_repeat_sideways(belief, own, other) && !is_repeat(belief, own, other)
    };
    let since: Vec<&Observation> = later.filter(elsewhere).collect();
    let Some(latest) = since.last() else {
        return false;
    };
    let alike = since.iter().filter(|other| agree(other, latest));
    let (rounds, shot) = alike.fold((0, 0), |sum, one| {
        (
            sum.0 + 1,
            sum.1 + one.split.n_probe.min(one.split.n_reference),
        )
    });
    let more = rounds > 1 && shot > own.split.n_probe.min(own.split.n_reference);
    more && !agree(own, latest) && !is_borne_out(belief, place)
}

/// What was shot elsewhere since the last change of parts and lies farthest from all else, where the bow as it stands was shot
/// more than once alike, with more arrows: one wrong round bends what is made of every move after it.
pub(crate) fn beside_what_stands(belief: &Belief) -> Option<usize> {
    let sizes = belief.leave_one_out_residuals().into_iter().enumerate();
    let apart = sizes.filter(|(_, sds)| *sds > MOVED_SDS);
    let beside = apart.filter(|(place, _)| {
        let one = &belief.observations[*place];
        let elsewhere = is_of_now(belief, one) && !as_it_stands(belief, one);
        let stands = sure_as_it_stands(belief, one.split.probe);
        let fewer = |stands| arrows_alike(belief, *place) < arrows_alike(belief, stands);
        let alone = elsewhere && !is_borne_out(belief, *place);
        alone && stands.is_some_and(fewer)
    });
    let farthest = beside.max_by(|a, b| a.1.total_cmp(&b.1));
    farthest.map(|(place, _)| place)
}

/// Arrows of each kind of an observation and of its repeats that agree with it.
fn arrows_alike(belief: &Belief, place: usize) -> u32 {
    let of = |place: usize| &belief.observations[place];
    let rounds = again(belief, place).into_iter().map(of);
    let alike = rounds.filter(|one| agree(one, of(place)));
    alike
        .map(|one| one.split.n_probe.min(one.split.n_reference))
        .sum()
}
