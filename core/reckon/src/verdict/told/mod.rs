//! What a verdict says, and how an earlier one held.

pub(crate) mod call;
pub(crate) mod ending;
pub(crate) mod next_look;
pub(crate) mod reason;
pub(crate) mod track;
pub(crate) mod types;
