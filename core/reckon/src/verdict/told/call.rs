//! What to do next, in kinds with values.

use serde::{Deserialize, Serialize};

use crate::evidence::Probe;
use crate::frame::ArrowKind;
use crate::spacer::Fitting;
use crate::verdict::{CheckItem, OutOfRange};

/// What to do next.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Call {
    /// Put something else right before anything is tuned.
    AdjustFirst {
        /// What.
        what: Adjustment,
    },
    /// Inside tolerance for every probe that counts, four chances in five: the work is done.
    Stop,
    /// Move the rest or the nocking point a little; it costs a round and can be put back.
    Trim {
        /// Which.
        knob: Knob,
        /// How far.
        trim: Trim,
        /// Whether it goes back to where it stood before, because it made things worse.
        put_back: bool,
        /// What to shoot then.
        arrows: Arrows,
    },
    /// Swap spacers to this fitting.
    Fit {
        /// The fitting to go to.
        fitting: Fitting,
        /// Whether this bow has not shown yet how it answers: then the swap is an experiment, and
        /// three tears in the same paper before and after teach most.
        experiment: bool,
    },
    /// Shoot more arrows before deciding.
    ShootMore {
        /// How many.
        arrows: Arrows,
    },
    /// Outside tolerance, and no fitting, trim or arrow is worth its price: look elsewhere.
    SpacersCannot,
}

impl Call {
    /// The fitting it asks for.
    #[must_use]
    pub fn fitting(&self) -> Option<&Fitting> {
        match self {
            Self::Fit { fitting, .. } => Some(fitting),
            _ => None,
        }
    }

    /// Whether doing what it asks for changes what is expected sideways.
    #[must_use]
    pub fn moves_sideways(&self) -> bool {
        match self {
            Self::Fit { .. } => true,
            Self::Trim { knob, .. } => *knob == Knob::Rest,
            _ => false,
        }
    }
}

/// Arrows to shoot.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Arrows {
    /// Bare shafts.
    pub bare: u32,
    /// Fletched field points.
    pub fletched: u32,
    /// Fixed-blade broadheads.
    pub broadhead: u32,
    /// Fletched arrows through paper.
    pub paper: u32,
    /// At this distance, m (paper: the distance to the paper).
    pub distance_m: f64,
}

impl Arrows {
    /// A round of `each` arrows of a probe, with as many fletched ones beside them.
    pub(crate) fn round(probe: Probe, each: u32, distance_m: f64) -> Self {
        let of = |kind: Probe| if probe == kind { each } else { 0 };
        Self {
            bare: of(Probe::Bare),
            broadhead: of(Probe::Broadhead),
            paper: of(Probe::Paper),
            fletched: each - of(Probe::Paper),
            distance_m,
        }
    }

    /// How many of a probe.
    pub(crate) fn of(&self, probe: Probe) -> u32 {
        match probe {
            Probe::Bare => self.bare,
            Probe::Broadhead => self.broadhead,
            Probe::Paper => self.paper,
        }
    }
}

/// What a trim moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Knob {
    /// The rest, sideways.
    Rest,
    /// The nocking point, up and down.
    Nock,
}

/// A small move of the rest or the nocking point.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Trim {
    /// How far, mm: rest positive right, nocking point positive up.
    pub move_mm: f64,
    /// Standard deviation of the move that would take out all that is left, mm.
    pub sd_mm: f64,
    /// How sure the direction is, 0.5 to 1.
    pub direction_chance: f64,
}

impl Trim {
    /// Which way a nocking point goes.
    pub(crate) fn direction(&self) -> Direction {
        if self.move_mm > 0.0 {
            Direction::Up
        } else {
            Direction::Down
        }
    }
}

/// Up or down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Direction {
    /// Up.
    Up,
    /// Down.
    Down,
}

/// What must be put right before anything is tuned.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Adjustment {
    /// A set-up check is open or has failed.
    Check {
        /// Which.
        check: CheckItem,
        /// Whether it was looked at and found wrong (else it is open).
        failed: bool,
        /// What was measured outside what the bow maker states.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        found: Option<OutOfRange>,
    },
    /// The two cams stand farther apart than the tilt limit, and nothing asks for it.
    CamsApart {
        /// Top cam's offset minus the bottom cam's, mm.
        tilt_mm: f64,
        /// The limit, mm.
        limit_mm: f64,
    },
    /// One arrow makes the picture: shoot it again, or leave it out and say why.
    Arrow {
        /// The trial.
        trial: i64,
        /// What was shot.
        arrow_kind: ArrowKind,
        /// Its place in the trial's list, from 0.
        index: u32,
        /// The number on its shaft, where it has one.
        arrow: Option<i32>,
        /// Whether it keeps landing apart, round after round: then it is laid aside, not shot again.
        keeps: bool,
    },
    /// The last swap made it worse, or did nothing: confirm the pieces and the string's tracks, then shoot again.
    ConfirmSwap {
        /// The split before it, mm.
        before_mm: f64,
        /// The split after it, mm.
        after_mm: f64,
        /// What to shoot then.
        arrows: Arrows,
    },
    /// Tears do not go with the bare shafts: contact with rest or vanes, or the grip.
    Contact {
        /// The paper trial.
        trial: i64,
        /// The tear, mm, positive nock-right or nock-high.
        tear_mm: f64,
        /// Where bare shafts land, mm, positive right or, gravity and drag taken off, high.
        bare_mm: f64,
        /// Whether it is up and down that they do not go together, not sideways.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        in_height: bool,
    },
    /// One trial contradicts the others: something moved, an arrow or a head is not true, or the fitting
    /// was noted wrongly.
    Contradiction {
        /// The trial that disagrees.
        trial: i64,
        /// What of it disagrees, where one kind alone does; of broadheads the heads are looked at first.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        probe: Option<Probe>,
    },
    /// Bare shafts scatter far more than they should: spine or nock fit.
    Spine {
        /// How many times the fletched scatter the bare shafts show.
        ratio: f64,
    },
    /// The vertical split is surely outside tolerance: nocking-point height first.
    Vertical {
        /// What of it is out; a verdict given before it was said has none.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        probe: Option<Probe>,
        /// Remaining vertical split after what gravity and drag explain, mm.
        y_mm: f64,
        /// Its standard deviation, mm.
        sd_mm: f64,
        /// Which way the nocking point goes.
        direction: Direction,
        /// How far, from what this bow has shown or from common practice.
        trim: Trim,
        /// Whether the size rests on what this bow has shown.
        seen_on_this_bow: bool,
    },
}

impl Adjustment {
    /// Arrows that are shot once it is put right, where they are part of it.
    pub fn arrows(&self) -> Option<Arrows> {
        match self {
            Self::ConfirmSwap { arrows, .. } => Some(*arrows),
            _ => None,
        }
    }
}
