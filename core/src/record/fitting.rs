//! What was fitted, when and why.

use serde::{Deserialize, Serialize};

use crate::spacer::Fitting;

/// Why a fitting is in the record.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FittingReason {
    /// Found in the bow when it was taken in.
    TakenIn,
    /// A verdict asked for it.
    Verdict,
    /// The technician chose it.
    OwnChoice,
    /// An earlier fitting was put back.
    PutBack,
    /// Found inside during a swap, against what was recorded: corrects the entry before it.
    FoundInside,
}

/// One entry of the append-only list of fittings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FittingRecord {
    /// Given by the store; later entries have larger ids.
    pub id: i64,
    /// The bow.
    pub bow_id: i64,
    /// What sits on both axles.
    pub fitting: Fitting,
    /// Why.
    pub reason: FittingReason,
    /// The verdict that asked for it.
    pub verdict_id: Option<i64>,
    /// The entry that this one says was wrong; trials shot on that entry count as shot on this.
    pub corrects_id: Option<i64>,
    /// When, epoch ms.
    pub at_ms: i64,
}
