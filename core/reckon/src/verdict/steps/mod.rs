//! The next steps, weighed in one table.

pub(crate) mod next;
pub(crate) mod options;
pub(crate) mod rests;
pub(crate) mod trim;
pub(crate) mod weigh;
