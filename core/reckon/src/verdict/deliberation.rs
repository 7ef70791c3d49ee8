//! What has been worked out on the way to a call, and the questions every part of it asks.

use crate::evidence::priors::FAULT_SD_MM;
use crate::evidence::{Belief, Mixture, Probe, SAME_M};
use crate::frame::ArrowKind;
use crate::scatter::ArrowHabit;
use crate::split::Split;

use super::limits::{ENOUGH, FEWEST, LIKELY, MOST, SETTLED, SURELY};
use super::seen::aims::{Aim, least_likely, shot};
use super::seen::outliers::Outlier;
use super::seen::splits::{counted_shooter, is_of_now, is_surely_out, standing};
use super::steps::next::NextStep;
use super::steps::trim;
use super::{Call, Case, Choice, Reason, Response};

/// See [`is_wide`]: half the interval against the tolerance. Chosen by hand: three and three of usual groups are 1.4.
const WIDE_TIMES: f64 = 2.0;
/// A split beyond this many standard deviations of what bows come in with is not of the cams' place: so far out lies
/// one bow in two thousand, were only its cams out (at three, one in four hundred, each left as it came in).
const FAR_OUT_SDS: f64 = 3.5;
/// So sure must fewer than six arrows farther away than where it counts make a height out, 39 times in 40 as sideways: at nine in
/// ten, 14 of 100 bows shot at three distances had their nocking point moved for scatter (`tests/virtual-bows`).
const SURE_FAR: f64 = 0.975;

/// What has been worked out on the way to a call.
pub(crate) struct Deliberation<'a> {
    pub(crate) case: &'a Case,
    pub(crate) belief: Belief<'a>,
    pub(crate) aims: Vec<Aim>,
    pub(crate) options: Vec<Choice>,
    /// Every next step worth weighing, best first; what is expected of leaving it all as it is.
    pub(crate) steps: Vec<NextStep>,
    pub(crate) stay_mm: f64,
    /// Top cam's offset minus the bottom cam's, as the bow stands, mm.
    pub(crate) tilt_mm: f64,
    pub(crate) left_out: Vec<Reason>,
    /// Rounds that go one way with nothing changed between them.
    pub(crate) crept: Option<Reason>,
    /// Arrows that stand apart with the bow as it stands.
    pub(crate) outliers: Vec<Outlier<'a>>,
    /// Numbered arrows that keep landing apart.
    pub(crate) habits: Vec<ArrowHabit>,
    pub(crate) response: Response,
    /// Whether a remembered swap counts.
    pub(crate) remembered: bool,
}

/// The probe that must be shot before anything is moved, and how many of it and of what it is held against were.
pub(crate) fn wanted(deliberation: &Deliberation) -> (Probe, (u32, u32)) {
    let probe = wanted_probe(deliberation);
    (probe, arrows(&deliberation.belief, probe))
}

/// The probe that must be shot before anything is moved: the first aim, or, where only paper was
/// shot although the user wants faces, the first face probe of the priority. Broadheads alone do
/// not tell the bow from its heads: bare shafts come before a move.
fn wanted_probe(deliberation: &Deliberation) -> Probe {
    let priority = &deliberation.case.settings.priority;
    let first = deliberation.aims.first();
    let first = first.map_or(Probe::Bare, |aim| aim.probe);
    let face = priority.iter().find(|probe| **probe != Probe::Paper);
    match (first, face) {
        (Probe::Paper, None) => Probe::Paper,
        (Probe::Paper, Some(face)) if !priority.contains(&Probe::Bare) => *face,
        (Probe::Paper, Some(_)) => Probe::Bare,
        (Probe::Broadhead, _) if heads_alone(deliberation) => Probe::Bare,
        (first, _) => first,
    }
}

/// Whether broadheads were shot, or would be, and bare shafts never, or by another person only. A bow whose broadheads agree needs no
/// bare shafts; nor does one of which six broadheads were shot: who has no bare shafts is not held up for ever.
pub(crate) fn heads_alone(deliberation: &Deliberation) -> bool {
    let Deliberation { belief, case, .. } = deliberation;
    let shooter = counted_shooter(belief, Probe::Broadhead);
    let own = |probe| {
        let shot = belief.observations.iter();
        shot.filter(move |one| {
            one.split.probe == probe && belief.seen[one.trial].trial.shooter == *shooter
        })
    };
    let of_now = |probe| own(probe).filter(|one| is_of_now(belief, one));
    let bare = of_now(Probe::Bare).next().is_some();
    let heads = of_now(Probe::Broadhead);
    let shot: u32 = heads
        .map(|one| one.split.n_probe.min(one.split.n_reference))
        .sum();
    let agree = own(Probe::Broadhead).next().is_some() && is_settled(deliberation);
    let wished = shot > 0 || case.settings.priority.contains(&Probe::Bare);
    !bare && wished && shot < ENOUGH && !agree
}

/// The probe that is asked for first, where it was not shot since the last change of parts.
pub(crate) fn not_yet_shot_first(deliberation: &Deliberation) -> Option<Probe> {
    let first = deliberation.case.settings.priority.first().copied();
    first.filter(|probe| !shot(&deliberation.belief, *probe))
}

/// The first probe that settles the bow which was shot since the last change of parts, but not since cams or rest were moved for
/// another: where that took it is only expected.
pub(crate) fn left_behind(deliberation: &Deliberation) -> Option<Probe> {
    let belief = &deliberation.belief;
    let settling = deliberation.aims.iter().filter(|aim| aim.settles);
    let was_shot = |probe| {
        let mut all = belief.observations.iter();
        all.any(|one| one.split.probe == probe && is_of_now(belief, one))
    };
    let now = |probe| !standing(belief, probe).is_empty();
    let mut probes = settling.map(|aim| aim.probe);
    probes.find(|probe| was_shot(*probe) && !now(*probe))
}

/// Probe arrows and reference arrows shot with the bow as it stands.
pub(crate) fn arrows(belief: &Belief, probe: Probe) -> (u32, u32) {
    let splits = standing(belief, probe).into_iter();
    splits.fold((0, 0), |sum, one| {
        (sum.0 + one.n_probe, sum.1 + one.n_reference)
    })
}

/// Arrows of each kind shot where the aim counts, with the bow as it stands: the fewer of probe and reference.
pub(crate) fn arrows_at(belief: &Belief, aim: &Aim) -> u32 {
    let splits = standing(belief, aim.probe).into_iter();
    let here = splits.filter(|one| (one.distance_m - aim.distance_m).abs() < SAME_M);
    here.map(|one| one.n_probe.min(one.n_reference)).sum()
}

/// Whether so many of a probe were shot with the bow as it stands, from whatever distance, that no more are asked for only to be sure:
/// who shoots elsewhere than asked is not asked for ever.
pub(crate) fn is_shot_enough(deliberation: &Deliberation, probe: Probe) -> bool {
    let (own, other) = arrows(&deliberation.belief, probe);
    own.min(other) >= MOST
}

/// Whether a split of the aim's probe, with the bow as it stands, is more than scatter.
pub(crate) fn is_shown(belief: &Belief, aim: &Aim) -> bool {
    let splits = standing(belief, aim.probe);
    splits.iter().any(|split| split.x().is_real())
}

/// Whether what was shot of an aim's probe where it counts, with the bow as it stands, leaves open far more than what is allowed: then
/// it is what bows usually do that says inside or out, not the arrows.
pub(crate) fn is_wide(deliberation: &Deliberation, aim: &Aim) -> bool {
    let splits = standing(&deliberation.belief, aim.probe);
    let mut here = splits
        .iter()
        .filter(|one| (one.distance_m - aim.distance_m).abs() < SAME_M);
    here.any(|one| (one.x().high95_mm - one.x().low95_mm) / 2.0 > WIDE_TIMES * aim.tolerance_mm)
}

/// Whether every probe that counts is inside tolerance, four chances in five, and none was shot outside of it, here or farther away.
pub(crate) fn is_settled(deliberation: &Deliberation) -> bool {
    inside(deliberation) >= SETTLED && out_as_shot(deliberation).is_none()
}

/// The split of a probe that settles the bow which lies surely outside tolerance (that grows with the distance of a face), shot
/// from where it counts or farther away, a tear at any distance: other evidence and the flight model make less of it than the target shows.
pub(crate) fn out_as_shot(deliberation: &Deliberation) -> Option<Split> {
    let aims = deliberation.aims.iter();
    let mut settling = aims.filter(|aim| aim.settles);
    settling.find_map(|aim| {
        let mut splits = standing(&deliberation.belief, aim.probe).into_iter();
        splits.find(|split| {
            let out = is_surely_out(split, &deliberation.case.settings);
            out && (aim.probe == Probe::Paper || split.distance_m > aim.distance_m - SAME_M)
        })
    })
}

/// Chance to be inside tolerance of the probe that is least likely to be.
pub(crate) fn inside(deliberation: &Deliberation) -> f64 {
    farthest(deliberation).map_or(1.0, |(_, chance)| chance)
}

/// The probe that is least likely to be inside tolerance, and its chance.
pub(crate) fn farthest<'d>(deliberation: &'d Deliberation) -> Option<(&'d Aim, f64)> {
    least_likely(&deliberation.belief, &deliberation.aims)
}

/// Whether faces show a split farther out than the place of cams makes on any bow, at every place of cams and rest that
/// was shot since the last change of parts: something else is wrong with it, centre shot, spine, timing or lean.
pub(crate) fn is_far_out(deliberation: &Deliberation) -> bool {
    let belief = &deliberation.belief;
    let Some((aim, _)) = farthest(deliberation).filter(|(aim, _)| aim.probe != Probe::Paper) else {
        return false;
    };
    let reach_mm = |gain: f64| FAR_OUT_SDS * FAULT_SD_MM * gain.abs();
    let split = belief
        .sideways
        .mixture(&aim.predictive, belief.now.offset_mm);
    let now_far = 1.0 - split.within(reach_mm(aim.predictive.gain)) > SURELY;
    let mut shot = belief.observations.iter().filter(|one| {
        one.split.probe == aim.probe && belief.seen[one.trial].trial.epoch == belief.now.epoch
    });
    let ever_far = shot.all(|one| {
        let gain = belief.predictive(aim.probe, one.split.distance_m).gain;
        one.split.offset.x_mm.abs() > reach_mm(gain)
    });
    now_far && ever_far
}

/// The first probe whose height more likely is outside of what counts, and that no other one forbids to put right.
pub(crate) fn low_or_high(deliberation: &Deliberation) -> Option<Aim> {
    let belief = &deliberation.belief;
    let out = |aim: &Aim| is_out_in_height(belief, aim, LIKELY);
    let mut aims = heights(deliberation).into_iter();
    aims.find(|aim| out(aim) && !takes_another_out(deliberation, aim))
}

/// What is looked at for its height: every probe where it counts, and farther away where it was shot out.
pub(crate) fn heights(deliberation: &Deliberation) -> Vec<Aim> {
    let belief = &deliberation.belief;
    let aims = deliberation.aims.iter();
    let faces = aims.clone().filter(|aim| aim.probe != Probe::Paper);
    let farther = faces.flat_map(|aim| {
        let shot = standing(belief, aim.probe).into_iter();
        let shot = shot.filter(|one| one.n_probe.min(one.n_reference) >= FEWEST);
        let shot = shot.filter(|one| one.distance_m > aim.distance_m + SAME_M);
        shot.map(|one| aim.at(belief, one.distance_m))
    });
    let farther = farther.filter(|aim| {
        let sure = if arrows_at(belief, aim) < ENOUGH {
            SURE_FAR
        } else {
            LIKELY
        };
        is_out_in_height(belief, aim, sure)
    });
    aims.cloned().chain(farther).collect()
}

/// Whether the height of a probe is outside of what counts, so likely.
pub(crate) fn is_out_in_height(belief: &Belief, aim: &Aim, chance: f64) -> bool {
    let upright = belief.vertical(aim.probe, aim.distance_m);
    let out = 1.0 - upright.within(aim.loss.tolerance_mm) > chance;
    out && !too_few_to_say(belief, aim.probe) && !is_level_as_shot(belief, aim, &upright)
}

/// Whether the nocking point was moved, and what was shot of a probe since is level but for scatter: another move would follow what
/// is made of the first.
pub(crate) fn is_level_since(belief: &Belief, probe: Probe) -> bool {
    let mut shot = standing(belief, probe).into_iter();
    let shown = shot.any(|one| {
        let (y, explained_mm) = (one.y(), belief.explained_y_mm(probe, one.distance_m));
        !(y.low95_mm..=y.high95_mm).contains(&explained_mm)
    });
    trim::is_nock_moved(belief) && !shown
}

/// Whether putting the height of one probe right takes one that goes before it out of tolerance that is in, as this bow's
/// nocking point has shown: it would go to and fro between them.
pub(crate) fn takes_another_out(deliberation: &Deliberation, aim: &Aim) -> bool {
    let belief = &deliberation.belief;
    let Some(trim) = trim::nock(belief, aim) else {
        return false;
    };
    let before = deliberation
        .aims
        .iter()
        .take_while(|one| one.probe != aim.probe);
    before
        .filter(|one| trim::nock_shown(belief, one))
        .any(|one| {
            let level = belief.vertical(one.probe, one.distance_m);
            let moved = level.shifted(trim::nock_moves_mm(belief, one, trim.move_mm));
            let inside = |level: &Mixture| level.within(one.tolerance_mm) >= LIKELY;
            !too_few_to_say(belief, one.probe) && inside(&level) && !inside(&moved)
        })
}

/// The height that is out although the nocking point was moved for it.
pub(crate) fn stuck_height(deliberation: &Deliberation) -> Option<Reason> {
    let belief = &deliberation.belief;
    let aim = low_or_high(deliberation)?;
    let upright = belief.vertical(aim.probe, aim.distance_m);
    trim::nock_is_dead(belief, &aim).then(|| Reason::HeightStays {
        kind: aim.probe,
        y_mm: upright.mean(),
        sd_mm: upright.sd(),
    })
}

/// Whether a height lies outside tolerance only by what gravity and drag make of arrows that nobody entered: what
/// lands level then is not called low.
pub(crate) fn is_level_as_shot(belief: &Belief, aim: &Aim, upright: &Mixture) -> bool {
    let left_mm = upright.mean();
    let shot_mm = left_mm + belief.explained_y_mm(aim.probe, aim.distance_m);
    let out = shot_mm.abs() > aim.loss.tolerance_mm && shot_mm * left_mm > 0.0;
    !(out || belief.knows_arrow())
}

/// Fewer than three probe arrows with the bow as it stands say nothing of its height.
pub(crate) fn too_few_to_say(belief: &Belief, probe: Probe) -> bool {
    arrows(belief, probe).0 < FEWEST
}

impl Deliberation<'_> {
    /// The habit of one numbered arrow, where it has a bad one.
    pub(crate) fn habit(&self, arrow: i32, kind: ArrowKind) -> Option<&ArrowHabit> {
        let mut habits = self.habits.iter();
        habits.find(|habit| habit.arrow == arrow && habit.kind == kind)
    }

    /// Where the nock plane stands after a call, mm.
    pub(crate) fn offset_after(&self, call: &Call) -> f64 {
        let Call::Fit { fitting, .. } = call else {
            return self.belief.now.offset_mm;
        };
        let found = self.options.iter().find(|one| one.fitting == *fitting);
        found.map_or(self.belief.now.offset_mm, |option| option.offset_mm)
    }
}
