//! Rows about holes: answered with a centre of the tool's own, how far off, and what is suggested.

use super::Outcome;
use crate::table::Row;

/// One row per kind of hole, one of light holes and one of suggestions.
pub(super) fn rows(_outcomes: &[Outcome]) -> Vec<Row> {
    Vec::new()
}
