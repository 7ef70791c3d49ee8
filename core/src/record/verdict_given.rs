//! Verdicts that were given, with what they used.

use serde::{Deserialize, Serialize};

/// What a verdict asked for, without its details.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// Another fitting.
    Fit,
    /// Leave the bow as it is.
    Keep,
    /// More arrows first.
    ShootMore,
    /// Another adjustment first.
    AdjustFirst,
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
