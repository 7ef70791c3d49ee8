//! Verdicts that were given, with what they used.

use serde::{Deserialize, Serialize};

use crate::verdict::{Call, Verdict};

/// What a verdict asked for, without its details.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// Something else right first.
    AdjustFirst,
    /// Nothing: the bow is settled.
    Stop,
    /// A small move of rest or nocking point.
    Trim,
    /// Another fitting.
    Fit,
    /// More arrows first.
    ShootMore,
    /// Nothing more: it is left as it is, though it is not settled.
    Leave,
    /// To look elsewhere than at spacers.
    SpacersCannot,
}

/// How many arrows a verdict still wants.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MoreArrows {
    /// Bare shafts.
    pub bare: u32,
    /// Fletched field points.
    pub fletched: u32,
    /// Fixed-blade broadheads.
    pub broadhead: u32,
    /// Fletched arrows through paper.
    pub paper: u32,
}

impl Outcome {
    /// What a verdict asked for.
    pub fn of(verdict: &Verdict) -> Self {
        match verdict.call {
            Call::Fit { .. } => Self::Fit,
            Call::Stop => Self::Stop,
            Call::Trim { .. } => Self::Trim,
            Call::ShootMore { .. } => Self::ShootMore,
            Call::AdjustFirst { .. } => Self::AdjustFirst,
            Call::SpacersCannot if verdict.leaves_it() => Self::Leave,
            Call::SpacersCannot => Self::SpacersCannot,
        }
    }
}

impl MoreArrows {
    /// The arrows a verdict still wants, where it wants some.
    pub fn of(verdict: &Verdict) -> Option<Self> {
        let arrows = match &verdict.call {
            Call::ShootMore { arrows } => Some(*arrows),
            Call::AdjustFirst { what } => what.arrows(),
            _ => None,
        };
        arrows.map(|more| Self {
            bare: more.bare,
            fletched: more.fletched,
            broadhead: more.broadhead,
            paper: more.paper,
        })
    }
}

/// A verdict as it was given. It is kept whole, so that what it predicted can be held against what
/// was shot afterwards.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct VerdictGiven {
    /// Given by the store.
    pub id: i64,
    /// The bow.
    pub bow_id: i64,
    /// The entry of the list of fittings that was in the bow.
    pub fitting_id: i64,
    /// The trials it used, oldest first.
    pub trial_ids: Vec<i64>,
    /// The verdict.
    pub verdict: Verdict,
    /// When, epoch ms.
    pub at_ms: i64,
}
