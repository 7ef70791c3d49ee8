//! One step of a guide.

use serde::{Deserialize, Serialize};

use super::{Bench, Caution, StepKind};
use crate::spacer::{Axle, Seat};

/// One step of a guide.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Step {
    /// What is done.
    pub kind: StepKind,
    /// On which axle; `None` for the whole bow.
    pub axle: Option<Axle>,
    /// The pair it takes out, expects or puts in.
    pub seat: Option<Seat>,
    /// Cautions, worst first.
    pub cautions: Vec<Caution>,
    /// How the bow stands once it is done: what the illustration shows.
    pub after: Bench,
}
