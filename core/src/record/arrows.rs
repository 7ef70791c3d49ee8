//! Arrow set-ups of a bow.

use serde::{Deserialize, Serialize};

use crate::flight::ArrowSetup;

/// A stored arrow set-up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ArrowSetupRecord {
    /// Given by the store.
    pub id: i64,
    /// The bow.
    pub bow_id: i64,
    /// What the arrows are called.
    pub name: String,
    /// The arrow.
    pub setup: ArrowSetup,
    /// Since when it is put away, epoch milliseconds: kept for what was shot with it, offered no more.
    pub archived_ms: Option<i64>,
}
