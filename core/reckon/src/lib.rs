//! What is computed: from a photograph of a face or a paper tear to a verdict. A crate of its own, so that
//! it alone is built for speed on a phone, where all else is built for size; `shimwright` hands it on.
//!
//! The modules stand in the order the data flows through them; each uses only what stands before it.

pub mod frame;
pub mod units;
pub mod stats;
pub mod distance;
pub mod range;
pub mod photo;
pub mod spacer;
pub mod plane;
pub mod impact;
pub mod tear;
pub mod measure;
pub mod group;
pub mod scatter;
pub mod flier;
pub mod split;
pub mod walkback;
pub mod flight;
pub mod evidence;
pub mod verdict;
