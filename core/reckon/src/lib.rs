//! What is computed of what was shot, up to the verdict. A crate of its own, as is [`shimwright_sight`], which it hands
//! on: a phone's library is built for size, but for what a person waits for.
//!
//! The modules stand in the order the data flows through them; each uses only what stands before it.

#[doc(inline)]
pub use shimwright_sight::{frame, impact, measure, photo, plane, stats, tear};

pub mod units;
pub mod distance;
pub mod range;
pub mod spacer;
pub mod group;
pub mod scatter;
pub mod flier;
pub mod split;
pub mod walkback;
pub mod flight;
pub mod evidence;
pub mod verdict;
