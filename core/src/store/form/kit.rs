//! A kit and what is owned of it.

use serde::{Deserialize, Serialize};

use super::{Form, form};
use crate::spacer::{KitDraft, PairCount, PairDraft};

form!(StoredKit of KitDraft {
    name: String,
    total_mm: f64,
    tolerance_mm: f64,
    pairs: Vec<StoredPair>,
});
form!(StoredCount of PairCount { pair: String, sets: u32 });

/// A pair. `mark` is what both pieces carry; where they differ it is empty and each has its own.
#[derive(Debug, Serialize, Deserialize)]
pub(in crate::store) struct StoredPair {
    name: String,
    thin_mm: f64,
    thick_mm: f64,
    thin_measured_mm: Option<f64>,
    thick_measured_mm: Option<f64>,
    #[serde(default)]
    mark: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    thin_mark: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    thick_mark: Option<String>,
}

impl Form for StoredPair {
    type Live = PairDraft;

    fn of(live: PairDraft) -> Self {
        let (mark, thin_mark, thick_mark) = if live.thin_mark == live.thick_mark {
            (live.thin_mark, None, None)
        } else {
            (String::new(), Some(live.thin_mark), Some(live.thick_mark))
        };
        Self {
            name: live.name,
            thin_mm: live.thin_mm,
            thick_mm: live.thick_mm,
            thin_measured_mm: live.thin_measured_mm,
            thick_measured_mm: live.thick_measured_mm,
            mark,
            thin_mark,
            thick_mark,
        }
    }

    fn live(self) -> PairDraft {
        PairDraft {
            name: self.name,
            thin_mm: self.thin_mm,
            thick_mm: self.thick_mm,
            thin_measured_mm: self.thin_measured_mm,
            thick_measured_mm: self.thick_measured_mm,
            thin_mark: self.thin_mark.unwrap_or_else(|| self.mark.clone()),
            thick_mark: self.thick_mark.unwrap_or(self.mark),
        }
    }
}
