//! What must be right before anything is tuned.

pub(crate) mod adjust;
pub(crate) mod contact;
pub(crate) mod one_arrow;
pub(crate) mod remembered;
pub(crate) mod suspect;
pub(crate) mod swapped;
