//! The hand that draws.

use serde::{Deserialize, Serialize};

/// The hand that draws the string. It changes words and likely causes, never left and right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Hand {
    /// Drawn with the right hand; the riser's window is on the archer's left.
    Right,
    /// Drawn with the left hand.
    Left,
}
