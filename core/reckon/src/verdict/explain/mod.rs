//! Why: the reasons of a call, in the order in which they are told.

pub(crate) mod end;
pub(crate) mod missing;
pub(crate) mod more;
pub(crate) mod reasons;
pub(crate) mod remarks;
pub(crate) mod shooters;
pub(crate) mod shown;
