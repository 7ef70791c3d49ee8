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
    /// The kit its pairs belong to.
    pub kit_id: i64,
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

impl FittingRecord {
    /// The entry of that id, or the last one that corrects it; `entries` are one bow's, oldest first.
    pub fn corrected(entries: &[Self], id: i64) -> Option<&Self> {
        let entry = entries.iter().find(|entry| entry.id == id)?;
        let correction = entries
            .iter()
            .rev()
            .find(|later| later.id > id && later.corrects_id == Some(id));
        Some(correction.unwrap_or(entry))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::Side;
    use crate::spacer::Seat;

    #[test]
    fn a_correction_stands_for_the_entry_it_names() {
        let entry = |id, pair: &str, corrects_id| FittingRecord {
            id,
            bow_id: 1,
            kit_id: 1,
            fitting: Fitting::alike(Seat::new(pair, Side::Left)),
            reason: FittingReason::TakenIn,
            verdict_id: None,
            corrects_id,
            at_ms: 10 * id,
        };
        let list = [
            entry(1, "A", None),
            entry(2, "B", None),
            entry(3, "C", Some(2)),
        ];
        let pair =
            |id| FittingRecord::corrected(&list, id).map(|found| found.fitting.top.pair.as_str());
        assert_eq!(
            (pair(1), pair(2), pair(3), pair(4)),
            (Some("A"), Some("C"), Some("C"), None)
        );
    }
}
