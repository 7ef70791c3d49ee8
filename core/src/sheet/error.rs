//! Why a sheet was not made.

use thiserror::Error;

/// Why a sheet was not made.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum SheetError {
    /// The list of words does not fit what the sheet asked for.
    #[error("the sheet asks for {asked} texts and was given {given}; ask again")]
    Words {
        /// How many it asks for.
        asked: usize,
        /// How many came.
        given: usize,
    },
    /// A picture that is too small to read or too large to hold.
    #[error(
        "a width of {width_px} px is outside {low} to {high} px; choose another for the picture of the sheet"
    )]
    Width {
        /// What was asked for, px.
        width_px: u32,
        /// The narrowest, px.
        low: u32,
        /// The widest, px.
        high: u32,
    },
    /// The sheet would be longer than a picture can be.
    #[error("this bow's sheet is too long for one picture; share it as PDF, or make it narrower")]
    Long,
    /// The library that writes the file refused.
    #[error("the sheet cannot be drawn ({detail}); try its other form, PDF or picture")]
    Draw {
        /// What it says.
        detail: String,
    },
}

impl SheetError {
    pub(super) fn draw(detail: &impl ToString) -> Self {
        Self::Draw {
            detail: detail.to_string(),
        }
    }
}
