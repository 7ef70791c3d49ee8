//! A swap under way, as it is remembered between steps.

use serde::{Deserialize, Serialize};

use super::FittingReason;
use crate::swap::Swap;

/// A swap under way on one bow.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SwapProgress {
    /// The bow.
    pub bow_id: i64,
    /// Where the guide stands.
    pub swap: Swap,
    /// Why the swap is done.
    pub reason: FittingReason,
    /// The verdict that asked for it.
    pub verdict_id: Option<i64>,
    /// When it began, epoch ms.
    pub started_ms: i64,
    /// When its last step was answered, epoch ms.
    pub touched_ms: i64,
}
