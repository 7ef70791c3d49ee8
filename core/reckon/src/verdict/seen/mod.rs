//! What the arrows show: what should come together, and what stands apart from the rest.

pub(crate) mod aims;
pub(crate) mod crept;
pub(crate) mod heads;
pub(crate) mod loss;
pub(crate) mod outliers;
pub(crate) mod outvoted;
pub(crate) mod signs;
pub(crate) mod spine;
pub(crate) mod splits;
pub(crate) mod stepped;
