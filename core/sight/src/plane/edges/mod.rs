//! Straight sides: where their lines may be, what lies along them, and one fit of all four.

pub(super) mod along;
pub(super) mod candidates;
pub(super) mod curled;
pub(super) mod outline;
pub(super) mod proportions;
pub(super) mod refine;
pub(super) mod segments;
pub(super) mod solve;
pub(super) mod stretch;
pub(super) mod strip;
pub(super) mod trace;
