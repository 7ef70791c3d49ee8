//! Tears that do not go with the bare shafts: something touches the arrow, or the grip turns the bow.

use crate::evidence::{Belief, Observation, Probe};
use crate::split::Split;
use crate::verdict::deliberation::{
    Deliberation, is_level_as_shot, takes_another_out, too_few_to_say,
};
use crate::verdict::limits::{ALIKE_SDS, FEWEST, SURELY};
use crate::verdict::seen::aims::TEAR_COUNTS_MM;
use crate::verdict::seen::splits::{as_it_stands, beside_bare, is_inside, latest, oppose};
use crate::verdict::{Adjustment, Aim, Reason, Settings};

/// Rounds of tears with the bow as it stands after which contact was looked for. Chosen by hand.
const LOOKED_FOR_ROUNDS: usize = 3;

/// A tear and the bare shafts that it does not go with.
pub(crate) struct Contact {
    trial: i64,
    tear_mm: f64,
    bare_mm: f64,
    in_height: bool,
}

impl Contact {
    fn of(belief: &Belief, [tear, bare]: [Split; 2]) -> Option<Self> {
        Some(Self {
            trial: latest(belief, Probe::Paper)?,
            tear_mm: tear.offset.x_mm,
            bare_mm: bare.offset.x_mm,
            in_height: false,
        })
    }

    fn in_height_of(belief: &Belief, [tear_mm, bare_mm]: [f64; 2]) -> Option<Self> {
        Some(Self {
            trial: latest(belief, Probe::Paper)?,
            tear_mm,
            bare_mm,
            in_height: true,
        })
    }

    pub(crate) fn adjustment(&self) -> Adjustment {
        Adjustment::Contact {
            trial: self.trial,
            tear_mm: self.tear_mm,
            bare_mm: self.bare_mm,
            in_height: self.in_height,
        }
    }

    pub(crate) fn reason(&self) -> Reason {
        reason(self.tear_mm, self.bare_mm, self.in_height)
    }
}

/// A tear and bare shafts that do not go together, as a reason.
pub(crate) fn reason(tear_mm: f64, bare_mm: f64, in_height: bool) -> Reason {
    if in_height {
        Reason::OppositeHeights { tear_mm, bare_mm }
    } else {
        Reason::OppositeSigns { tear_mm, bare_mm }
    }
}

/// Paper and bare shafts as what should come together, where both were shot.
fn paper_and_bare<'d>(deliberation: &'d Deliberation) -> Option<[&'d Aim; 2]> {
    let of = |probe| deliberation.aims.iter().find(|aim| aim.probe == probe);
    Some([of(Probe::Paper)?, of(Probe::Bare)?])
}

/// A nock-low tear beside low bare shafts, or nock-high beside high, each surely outside tolerance: no one height of the
/// nocking point does both (common practice, no source).
pub(crate) fn in_height(deliberation: &Deliberation) -> Option<Contact> {
    let belief = &deliberation.belief;
    let aims = paper_and_bare(deliberation)?;
    let levels = aims.map(|aim| belief.vertical(aim.probe, aim.distance_m));
    let shown = aims.iter().zip(&levels).all(|(aim, level)| {
        let surely = 1.0 - level.within(aim.tolerance_mm) > SURELY;
        surely && !too_few_to_say(belief, aim.probe) && !is_level_as_shot(belief, aim, level)
    });
    let left_mm = [0, 1].map(|k| levels[k].mean());
    let gains = aims.map(|aim| aim.predictive.gain);
    let opposite = left_mm[0] * gains[0] * left_mm[1] * gains[1] < 0.0;
    (shown && opposite).then(|| Contact::in_height_of(belief, left_mm))?
}

/// The same, or a tear whose height cannot be put right without the bare shafts: worth a word.
pub(crate) fn suspected_in_height(deliberation: &Deliberation) -> Option<Contact> {
    in_height(deliberation).or_else(|| {
        let belief = &deliberation.belief;
        let [paper, bare] = paper_and_bare(deliberation)?;
        let level = |aim: &Aim| belief.vertical(aim.probe, aim.distance_m);
        let torn = 1.0 - level(paper).within(paper.loss.tolerance_mm) > SURELY;
        let bound = torn && takes_another_out(deliberation, paper);
        bound.then(|| Contact::in_height_of(belief, [level(paper).mean(), level(bare).mean()]))?
    })
}

/// A tear on the other side than the bare shafts, or where they show none and a belief learned without paper does not let
/// expect it. One within its tolerance shows nothing.
pub(crate) fn contact(belief: &Belief, settings: &Settings) -> Option<Contact> {
    let both = beside_bare(belief, Probe::Paper)?;
    let torn = both[0].offset.x_mm.abs() > settings.paper_tolerance_mm;
    let apart = torn && oppose(belief, &both) || is_torn_alone(belief, settings);
    apart.then(|| Contact::of(belief, both)).flatten()
}

/// Whether paper was shot again, and again, with the bow as it stands: contact was looked for, and the tear is what it is.
pub(crate) fn looked_for(belief: &Belief) -> bool {
    let tears = belief.observations.iter();
    let tears = tears.filter(|one| one.split.probe == Probe::Paper && as_it_stands(belief, one));
    tears.count() >= LOOKED_FOR_ROUNDS
}

/// The same, or a tear beyond what counts beside level bare shafts that the model does let expect: worth a word where
/// nothing is to be done.
pub(crate) fn suspected(belief: &Belief, settings: &Settings) -> Option<Contact> {
    contact(belief, settings).or_else(|| {
        torn_beside_level(belief, settings)?;
        Contact::of(belief, beside_bare(belief, Probe::Paper)?)
    })
}

/// Whether paper is torn farther than level bare shafts let expect, in a belief whose fault was learned without paper.
fn is_torn_alone(apart: &Belief, settings: &Settings) -> bool {
    torn_beside_level(apart, settings).is_some_and(|tear| apart.off_the_bow(tear) > ALIKE_SDS)
}

/// The latest tear, where it is so long that it counts beside faces, and bare shafts are inside tolerance.
fn torn_beside_level<'b>(belief: &'b Belief, settings: &Settings) -> Option<&'b Observation> {
    let latest = |probe| {
        let mut places = (0..belief.observations.len()).rev();
        places.find(|place| {
            let one = &belief.observations[*place];
            one.split.probe == probe && as_it_stands(belief, one) && one.split.n_probe >= FEWEST
        })
    };
    let tear = &belief.observations[latest(Probe::Paper)?];
    let bare = latest(Probe::Bare)?;
    let counts_mm = TEAR_COUNTS_MM.max(settings.paper_tolerance_mm);
    let torn = tear.split.offset.x_mm.abs() > counts_mm && tear.split.x().is_real();
    (torn && is_inside(belief, bare, settings)).then_some(tear)
}
