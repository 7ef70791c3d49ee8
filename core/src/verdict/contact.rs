//! Tears that do not go with the bare shafts: something touches the arrow, or the grip turns the bow.

use crate::evidence::{Belief, Observation, Probe};
use crate::split::Split;

use super::aims::TEAR_COUNTS_MM;
use super::deliberation::FEWEST;
use super::splits::{as_it_stands, beside_bare, is_inside, latest, oppose};
use super::{Adjustment, Reason, Settings};

/// A tear this many standard deviations from what bare shafts let expect has a cause of its own. One sound one in twenty,
/// if scatter and the flight model's error were normal.
const TORN_ALONE_SDS: f64 = 2.0;

/// Rounds of tears with the bow as it stands after which contact was looked for. Chosen by hand.
const LOOKED_FOR_ROUNDS: usize = 3;

/// A tear and the bare shafts that it does not go with.
pub(crate) struct Contact {
    trial: i64,
    tear_mm: f64,
    bare_mm: f64,
}

impl Contact {
    fn of(belief: &Belief, [tear, bare]: [Split; 2]) -> Option<Self> {
        Some(Self {
            trial: latest(belief, Probe::Paper)?,
            tear_mm: tear.offset.x_mm,
            bare_mm: bare.offset.x_mm,
        })
    }

    pub(crate) fn adjustment(&self) -> Adjustment {
        Adjustment::Contact {
            trial: self.trial,
            tear_mm: self.tear_mm,
            bare_mm: self.bare_mm,
        }
    }

    pub(crate) fn reason(&self) -> Reason {
        Reason::OppositeSigns {
            tear_mm: self.tear_mm,
            bare_mm: self.bare_mm,
        }
    }
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
    torn_beside_level(apart, settings).is_some_and(|tear| apart.off_the_bow(tear) > TORN_ALONE_SDS)
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
