//! How the checks of one bow stand.

use serde::{Deserialize, Serialize};

use super::{ChangeKind, Field, FieldError};
use crate::verdict::{CheckItem, CheckState, Checked, MakerRange};

/// What opened a check again.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Reopened {
    /// The bow was pressed and its spacers changed.
    Swap,
    /// A change of the set-up.
    Change {
        /// Which.
        kind: ChangeKind,
    },
}

/// The latest answer to one check of one bow.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SetupCheck {
    /// Which check.
    pub item: CheckItem,
    /// How it stands: as answered, but failed where the value is outside what the bow maker states.
    pub state: CheckState,
    /// What was measured, in [`CheckItem::unit`].
    pub measured: Option<f64>,
    /// What was seen.
    pub note: String,
    /// When, epoch ms; `None` where it was never answered.
    pub at_ms: Option<i64>,
    /// What opened it again since it was last answered.
    #[serde(default)]
    pub reopened: Option<Reopened>,
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
            reopened: None,
        }
    }

    /// A check to be looked at again; what was measured before no longer stands.
    pub fn reopened(item: CheckItem, by: Reopened) -> Self {
        Self {
            reopened: Some(by),
            ..Self::unanswered(item)
        }
    }

    /// The check as the bow maker's range makes it.
    #[must_use]
    pub fn held_against(self, maker: &[MakerRange]) -> Self {
        Self {
            state: self.judged(maker).result,
            ..self
        }
    }

    /// What a verdict is told of it.
    pub fn judged(&self, maker: &[MakerRange]) -> Checked {
        Checked::judged(self.state, self.measured, &MakerRange::of(maker, self.item))
    }

    /// Passes a check whose value can be stored.
    ///
    /// # Errors
    /// [`FieldError::OutOfRange`].
    pub fn check(&self) -> Result<(), FieldError> {
        Field::CheckValue.check_given(self.measured)
    }
}
