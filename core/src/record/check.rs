//! How the checks of one bow stand.

use serde::{Deserialize, Serialize};

use super::{Field, FieldError};
use crate::verdict::{CheckItem, CheckState};

/// The latest answer to one check of one bow.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SetupCheck {
    /// Which check.
    pub item: CheckItem,
    /// How it stands.
    pub state: CheckState,
    /// What was measured, in [`CheckItem::unit`].
    pub measured: Option<f64>,
    /// What was seen.
    pub note: String,
    /// When, epoch ms; `None` where it was never answered.
    pub at_ms: Option<i64>,
}

impl SetupCheck {
    /// A check nobody has answered.
    pub fn unanswered(item: CheckItem) -> Self {
        Self {
            item,
            state: CheckState::Open,
            measured: None,
            note: String::new(),
            at_ms: None,
        }
    }

    /// Passes a check whose value can be stored.
    ///
    /// # Errors
    /// [`FieldError::OutOfRange`].
    pub fn check(&self) -> Result<(), FieldError> {
        Field::CheckValue.check_given(self.measured)
    }
}
